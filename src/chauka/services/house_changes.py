"""Changing the house: measures, temperatures, money, people, day rules. Each change can be taken back."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from chauka import planning, season
from chauka.errors import InputError
from chauka.kitchen import Condition, DayRule, House, Meal, Person, RuleKind, Sex
from chauka.services.words import COINS_PER_UNIT, DAYS
from chauka.store import books, ledger
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class Setting:
    """One number of the house: its key, what it is called, its unit, and whether it may be left out."""

    key: str
    name: str
    unit: str
    optional: bool = False


SETTINGS = (
    Setting("burners", "Burners", ""),
    Setting("small_burners", "Small ones among the burners", ""),
    Setting("cooks", "Cooks at one time", ""),
    Setting("bench_places", "Who can cut and knead at once", "", optional=True),
    Setting("fridge_c", "Fridge", "°C"),
    Setting("freezer_c", "Freezer", "°C"),
    Setting("room_c", "Room", "°C"),
    Setting("altitude_m", "Height above the sea", "m"),
    Setting("cup_ml", "Cup", "ml"),
    Setting("katori_ml", "Katori", "ml"),
    Setting("tablespoon_ml", "Tablespoon", "ml"),
    Setting("teaspoon_ml", "Teaspoon", "ml"),
    Setting("weekly_budget", "For a week’s market", "Rs", optional=True),
)
_MEASURES = frozenset({"cup_ml", "katori_ml", "tablespoon_ml", "teaspoon_ml"})
_WHOLE = frozenset({"burners", "small_burners", "cooks", "bench_places"})
_MAY_BE_NONE = frozenset({"small_burners"})
_MOST = {"cup_ml": 1000, "katori_ml": 1000, "tablespoon_ml": 50, "teaspoon_ml": 20} | dict.fromkeys(_WHOLE, 12)


def values(house: House) -> dict[str, str]:
    """The settings as they are written in a form."""
    found = {s.key: getattr(house.measures if s.key in _MEASURES else house, s.key) for s in SETTINGS}
    budget = house.weekly_budget
    return {key: f"{value:g}" for key, value in found.items() if value is not None} | (
        {} if budget is None else {"weekly_budget": f"{budget / COINS_PER_UNIT:g}"}
    )


def set_numbers(household: Household, said: Mapping[str, str], now: datetime) -> None:
    """Set those of `SETTINGS` that are named; all of them or, where one cannot be, none."""
    bad: dict[str, tuple[str, ...]] = {}
    new: dict[str, float | int | None] = {}
    for setting in SETTINGS:
        if setting.key in said:
            try:
                new[setting.key] = _number(setting, said[setting.key].strip())
            except ValueError:
                bad[setting.name] = (f"{said[setting.key]!r} cannot be right; write a number as in 6 or 240",)
    if bad:
        raise InputError(bad)
    change_house(household, now, "set up the house", lambda house: _with_numbers(house, new))


def _number(setting: Setting, said: str) -> float | int | None:
    if not said and setting.optional:
        return None
    number = float(said.replace(",", ""))
    if not math.isfinite(number) or (setting.key in _MOST and not 0 <= number <= _MOST[setting.key]):
        raise ValueError
    if not number and setting.key in _MOST and setting.key not in _MAY_BE_NONE:
        raise ValueError
    if setting.key == "weekly_budget":
        return round(number * COINS_PER_UNIT)
    return int(said) if setting.key in _WHOLE else number


def _with_numbers(house: House, new: Mapping[str, float | int | None]) -> House:
    measures = replace(house.measures, **{k: v for k, v in new.items() if k in _MEASURES})  # type: ignore[arg-type]
    return replace(house, measures=measures, **{k: v for k, v in new.items() if k not in _MEASURES})  # type: ignore[arg-type]


def set_market_days(household: Household, weekdays: tuple[int, ...], now: datetime) -> None:
    """The weekdays on which there is market (0 = Monday)."""
    if not weekdays or not all(0 <= day <= 6 for day in weekdays):
        raise InputError({"market days": ("name at least one weekday on which you can buy",)})
    change_house(
        household, now, "set the market days", lambda house: replace(house, market_weekdays=tuple(sorted(weekdays)))
    )


def set_region(household: Household, region: str, now: datetime) -> None:
    """Whose calendar of seasons the house goes by; empty for none."""
    if region and region not in season.regions():
        raise InputError({"region": (f"there is no calendar of {region!r}; there are {'; '.join(season.regions())}",)})
    change_house(household, now, "set the region", lambda house: replace(house, region=region), region)


def set_order(household: Household, names: tuple[str, ...], now: datetime) -> None:
    """What a plan minds one after the other ("waste", "money"); nothing named: all weighed together."""
    planning.read_order(names)

    def change(house: House) -> House:
        return replace(house, weights=replace(house.weights, order=names))

    change_house(household, now, "set what comes first", change, ", ".join(names))


def add_rule(household: Household, rule: DayRule, now: datetime) -> None:
    """A day asks or forbids something from now on."""
    change_house(
        household, now, "add a day rule", lambda house: replace(house, rules=(*house.rules, rule)), _said(rule)
    )


def remove_rule(household: Household, number: int, now: datetime) -> None:
    """The rule of that place in the list holds no more."""
    rules = books.load_house(household).rules
    if not 0 <= number < len(rules):
        raise InputError({"rule": ("it is not there any more",)})
    kept = (*rules[:number], *rules[number + 1 :])
    change_house(household, now, "remove a day rule", lambda house: replace(house, rules=kept), _said(rules[number]))


def read_rule(kind: str, day: str, meal: str, guests: str, away: frozenset[str]) -> DayRule:
    """A rule as a form says it: `day` is a weekday's number or a date. Raises `InputError` in words."""
    try:
        which = RuleKind(kind)
        weekday, on = (int(day), None) if len(day) == 1 else (None, date.fromisoformat(day))
        count, at = int(guests or 0), Meal(meal) if meal else None
    except ValueError:
        raise InputError({"rule": ("say what holds, on which day and at which meal",)}) from None
    if which is RuleKind.GUESTS and not count:
        raise InputError({"guests": ("say how many come",)})
    if which is RuleKind.AWAY and not away:
        raise InputError({"away": ("say who is away",)})
    return DayRule(which, weekday, on, at, away, count)


def set_person(household: Household, person: Person, now: datetime) -> None:
    """Someone who eats here, new or changed (by id)."""

    def change(house: House) -> House:
        others = {p.id: p for p in house.people}
        return replace(house, people=tuple((others | {person.id: person}).values()))

    change_house(household, now, "set down a person", change, person.name)


def remove_person(household: Household, key: str, now: datetime) -> None:
    """Someone does not eat here any more."""
    people = books.load_house(household).people
    if key not in {p.id for p in people}:
        raise InputError({"person": ("is not of this house",)})
    name = next(p.name for p in people if p.id == key)
    kept = tuple(p for p in people if p.id != key)
    change_house(household, now, "take a person off", lambda house: replace(house, people=kept), name)


def read_person(said: Mapping[str, str], house: House) -> Person:
    """A person as a form says it; what the form does not name stays as it was. Raises `InputError` in words."""
    name = said.get("name", "").strip()
    if not name:
        raise InputError({"name": ("say what the person is called",)})
    key = said.get("id") or _free_id(name, house)
    old = next((p for p in house.people if p.id == key), None)
    try:
        born = date.fromisoformat(said.get("born", ""))
        weight, sex = float(said.get("weight_kg", "")), Sex(said.get("sex", ""))
        conditions = frozenset(Condition(c) for c in said.get("conditions", "").split("|") if c)
        chilli = int(said.get("chilli", "3"))
        activity = float(said.get("activity") or (old.activity if old else 1.6))
    except ValueError:
        raise InputError({name: ("give the day of birth, the weight in kg, and how hot it may be (0 to 3)",)}) from None
    new = {"name": name, "born": born, "weight_kg": weight, "sex": sex, "conditions": conditions, "chilli": chilli}
    new |= {"activity": activity}
    for field in {"allergies", "aversions"} & said.keys():
        new[field] = frozenset(part for part in said[field].split("|") if part)
    return replace(old, **new) if old else Person(id=key, **new)  # type: ignore[arg-type]


def _free_id(name: str, house: House) -> str:
    plain = "".join(c if c.isalnum() else "-" for c in name.lower())
    taken, number, key = {p.id for p in house.people}, 1, plain
    while key in taken:
        number += 1
        key = f"{plain}-{number}"
    return key


def _said(rule: DayRule) -> str:
    when = rule.on.isoformat() if rule.on else DAYS[rule.weekday or 0]
    return f"{rule.kind}, {when}{f', {rule.meal}' if rule.meal else ''}"


def change_house(
    household: Household, now: datetime, task: str, change: Callable[[House], House], note: str = ""
) -> None:
    """Write a changed house, as one action."""
    with ledger.action(household, now, task, note) as recorder:
        household.refresh_from_db()  # another phone may have changed it since this page was asked for
        books.save_house(recorder, change(books.load_house(household)))
