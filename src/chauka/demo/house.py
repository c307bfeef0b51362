"""The demo house: five people in a hill town, two burners, two markets a week."""

from __future__ import annotations

from collections.abc import Iterator
from types import MappingProxyType

from chauka.demo.fields import Fields, package_text, read_toml, within
from chauka.kitchen import (
    Condition,
    Cook,
    DayRule,
    House,
    Meal,
    MealTime,
    Measures,
    Person,
    RuleKind,
    Sex,
    Technique,
    Vessel,
    VesselStock,
)  # fmt: skip

LIKING = MappingProxyType({"loves": 5, "likes": 4, "dislikes": 2})
"""What the lists of dish ids beside a person count."""

PAISE_PER_RUPEE = 100


def house() -> House:
    """The demo house."""
    return read_house(package_text("house.toml"), "house.toml")


def read_house(text: str, file: str) -> House:
    """The house that a TOML text describes; `InputError` names the file and the key at fault."""
    top = read_toml(text, file)
    people = tuple(_person(fields) for fields in top.tables("person"))
    vessels = tuple(_vessel(fields) for fields in top.tables("vessel", named="kind"))
    times = tuple(time for fields in top.tables("meal", named="meal") for time in _meal_times(fields))
    crew = tuple(_cook(fields) for fields in top.tables("cook", named="name"))
    rules = tuple(rule for fields in top.tables("rule", named="kind") for rule in _rules(fields))
    measures = _measures(top.table("measures"))
    name, region, fat = top.text("name"), top.text("region"), top.text("frying_fat")
    burners, cooks, markets = top.whole("burners"), top.whole("cooks"), top.weekdays("market_weekdays")
    small_burners, bench_places = top.whole("small_burners", 0), top.whole_or_none("bench_places")
    budget_rupees = top.whole_or_none("weekly_budget_rupees")
    altitude_m, room_c = top.number("altitude_m"), top.number("room_c")
    fridge_c, freezer_c = top.number("fridge_c"), top.number("freezer_c")
    top.close()
    with within(file):
        return House(
            name=name, people=people, burners=burners, vessels=vessels, meal_times=times, market_weekdays=markets,
            cooks=cooks, rules=rules, region=region, altitude_m=altitude_m, fridge_c=fridge_c, room_c=room_c,
            freezer_c=freezer_c, currency="INR", measures=measures, frying_fat=fat,
            weekly_budget=None if budget_rupees is None else budget_rupees * PAISE_PER_RUPEE,
            small_burners=small_burners, bench_places=bench_places, crew=crew,
        )  # fmt: skip


def _person(fields: Fields) -> Person:
    id_, name, sex, born = fields.text("id"), fields.text("name"), fields.word("sex", Sex), fields.day("born")
    weight_kg, activity, chilli = fields.number("weight_kg"), fields.number("activity"), fields.whole("chilli")
    conditions = fields.words("conditions", Condition)
    allergies, aversions = frozenset(fields.texts("allergies")), frozenset(fields.texts("aversions"))
    liking = {dish: points for key, points in LIKING.items() for dish in fields.texts(key)}
    fields.close()
    with within(fields.where):
        return Person(
            id=id_, name=name, sex=sex, born=born, weight_kg=weight_kg, activity=activity, conditions=conditions,
            allergies=allergies, aversions=aversions, chilli=chilli, liking=MappingProxyType(liking),
        )  # fmt: skip


def _vessel(fields: Fields) -> VesselStock:
    stock = VesselStock(fields.word("kind", Vessel), fields.whole("count", 1), fields.number_or_none("litres"))
    fields.close()
    return stock


def _cook(fields: Fields) -> Cook:
    name, cannot, pace = fields.text("name"), fields.words("cannot", Technique), fields.number("pace", 1.0)
    fields.close()
    with within(fields.where):
        return Cook(name, cannot, pace)


def _meal_times(fields: Fields) -> Iterator[MealTime]:
    """One meal time for each weekday that the entry names."""
    meal, weekdays = fields.word("meal", Meal), fields.weekdays("weekdays")
    serve, hands_on_min = fields.clock("serve"), fields.whole("hands_on_min")
    fields.close()
    return (MealTime(meal, weekday, serve, hands_on_min) for weekday in weekdays)


def _rules(fields: Fields) -> Iterator[DayRule]:
    """One rule for each weekday that the entry names."""
    kind, weekdays = fields.word("kind", RuleKind), fields.weekdays("weekdays")
    fields.close()
    return (DayRule(kind, weekday=weekday) for weekday in weekdays)


def _measures(fields: Fields) -> Measures:
    measures = Measures(
        cup_ml=fields.number("cup_ml"),
        katori_ml=fields.number("katori_ml"),
        tablespoon_ml=fields.number("tablespoon_ml"),
        teaspoon_ml=fields.number("teaspoon_ml"),
    )
    fields.close()
    return measures
