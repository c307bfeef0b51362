"""Limits that food authorities set and rules of the household; no model ever lengthens one."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from functools import cache, lru_cache
from types import MappingProxyType

from chauka import tables
from chauka.keeping import growth
from chauka.keeping.life import SENSES, Life, cap, days_said, smallest
from chauka.kitchen import Condition, House, Person, Place

CUSTOM = "common practice, no source"

DEFAULT_DAYS, RISK_DAYS, RICE_DAYS, COLD_EATEN_DAYS, LONGEST_DAYS = 3.0, 2.0, 1.0, 2.0, 7.0
"""Cooked food in the refrigerator [day]: anyone, people at risk, rice, eaten cold, and the most there is."""

WARM_LONGEST_DAYS = 4.0
"""Instead of 7 days where the refrigerator is above 5 °C [day]."""

COLD_ENOUGH_C, HOT_ROOM_C = 5.0, 32.0
OUT_DAYS, HOT_OUT_DAYS, RAW_OUT_DAYS, CUT_OUT_DAYS = 2 / 24, 1 / 24, 4 / 24, 0.5
"""Out of the refrigerator [day]: cooked food, the same above 32 °C, raw food that counts as risky once cut,
any other cut produce."""

GREENS_DAYS, CUT_DAYS, THAWED_DAYS = 2.0, 4.0, 1.0
"""Household rules in the refrigerator [day]: leaves once picked, anything cut, anything thawed."""

_AT_RISK = frozenset({Condition.PREGNANT, Condition.INFANT, Condition.FRAIL})


def at_risk(people: Iterable[Person]) -> bool:
    """Whether food-borne illness would hit someone here hard: pregnant, infant, old or weakened."""
    return any(not _AT_RISK.isdisjoint(person.conditions) for person in people)


@cache
def _rules() -> Mapping[str, str]:
    """Where each food rule comes from, by its id."""
    return MappingProxyType({row["id"]: _cited(row) for row in tables.rows("food_rules")})


def _cited(row: Mapping[str, str]) -> str:
    remembered = row["provenance"].startswith("from memory")
    return f"{row['authority']}{' (from memory)' if remembered else ''}"


def source_of(*rule_ids: str) -> str:
    """The authorities behind rules of the table `food_rules`."""
    return "; ".join(_rules()[rule] for rule in rule_ids)


REHEAT = "Reheat it once only, to 74 °C or until it steams all through."
"""FDA Food Code 3-403.11 (section from memory); Hong Kong CFS: reheat once."""


def cooked(
    place: Place,
    house: House,
    *,
    rice: bool = False,
    eaten_cold: bool = False,
    measured_ph: float | None = None,
    aw: float | None = None,
) -> Life:
    """The limit for cooked food in one place: the agencies', or in a warm refrigerator the growth of bacteria.

    A measured pH and a known water activity slow the growth that is reckoned with, never an agency's limit.
    """
    if place is Place.FREEZER:
        return cap(
            90,
            "Frozen leftovers are planned for three months: freezing stops bacteria but not the loss of taste",
            rule="agency limit: frozen leftovers",
            source=source_of("usda_leftovers"),
        )
    if place is not Place.FRIDGE:
        return replace(_out(house), cautions=(SENSES,))
    limit = smallest(
        (
            _chilled(house, rice=rice, eaten_cold=eaten_cold),
            _growth(house.fridge_c, measured_ph, aw, eaten_cold=eaten_cold),
        )
    )
    reheat = () if eaten_cold else (REHEAT,)
    return replace(limit, cautions=(*_fridge_caution(house), *reheat, SENSES))


def _out(house: House) -> Life:
    hot = house.room_c > HOT_ROOM_C
    agency = cap(
        HOT_OUT_DAYS if hot else OUT_DAYS,
        f"Cooked food may stand out for {'1 hour above 32 °C' if hot else '2 hours'}, then it goes cold or away",
        rule="agency limit: out of the refrigerator",
        source=source_of("usda_leftovers"),
    )
    days, name, source = growth.left_warm_limit(house.room_c)
    if days >= agency.plan_days:
        return agency
    return cap(
        days,
        f"At {house.room_c:g} °C {name} may grow too far in {days_said(days)}",
        rule=f"growth of {name}",
        source=source,
    )


def _chilled(house: House, *, rice: bool, eaten_cold: bool) -> Life:
    if rice:
        return cap(
            RICE_DAYS,
            "Cooked rice keeps 1 day in the refrigerator: spores survive cooking and their toxin survives reheating",
            rule="agency limit: cooked rice",
            source=source_of("uk_rice"),
        )
    if at_risk(house.people):
        return cap(
            RISK_DAYS,
            "Cooked food keeps 2 days in the refrigerator where someone is pregnant, an infant, old or weakened",
            rule="agency limit: people at risk",
            source=source_of("uk_leftovers"),
        )
    if eaten_cold:
        return cap(
            COLD_EATEN_DAYS,
            "Cooked food that is eaten cold keeps 2 days in the refrigerator",
            rule="agency limit: eaten cold",
            source=source_of("nz_leftovers"),
        )
    return cap(
        DEFAULT_DAYS,
        "Cooked food keeps 3 days in the refrigerator",
        rule="agency limit: leftovers",
        source=source_of("hk_leftovers", "usda_leftovers"),
    )


@lru_cache(maxsize=256)
def _growth(temp_c: float, ph: float | None, aw: float | None, *, eaten_cold: bool) -> Life:
    """Until the organism that matters has grown tenfold: food that is reheated loses its Listeria, not the toxin."""
    limit = growth.cold_eaten_limit if eaten_cold else growth.reheated_limit
    days, name, source = limit(temp_c, ph, aw)
    days = min(days, LONGEST_DAYS)
    return cap(
        days,
        f"At {temp_c:g} °C {name} may grow tenfold in {days_said(days)}",
        rule=f"growth of {name}",
        source=source,
    )


def longest(place: Place, house: House) -> Life:
    """The limit that no ready-to-eat food with water in it passes, however it was made."""
    if place is Place.FRIDGE and house.fridge_c > COLD_ENOUGH_C:
        return cap(
            WARM_LONGEST_DAYS,
            f"Ready-to-eat food keeps at most 4 days in a refrigerator at {house.fridge_c:g} °C, above 5 °C",
            rule="agency limit: 4 days above 5 °C",
            source=source_of("date_mark_45F"),
        )
    return week()


def week(reason: str = "Ready-to-eat food keeps at most 7 days at 5 °C or colder") -> Life:
    """Seven days, never passed."""
    return cap(LONGEST_DAYS, reason, rule="agency limit: 7 days", source=source_of("date_mark"))


def raw_out() -> Life:
    """Raw food that counts as risky once cut (leaves, tomato, melon, sprouts), out of the refrigerator."""
    return cap(
        RAW_OUT_DAYS,
        "Cut leaves, tomatoes, melons and sprouts stand out for 4 hours at most",
        rule="agency limit: 4 hours out",
        source=source_of("time_only"),
    )


def picked_greens() -> Life:
    """Leafy greens once picked over, washed or cut, in the refrigerator."""
    return cap(
        GREENS_DAYS,
        "Leafy greens, once picked, are planned for 2 days in the refrigerator at most",
        rule="household rule: picked greens",
        source=CUSTOM,
    )


def cut_produce(place: Place) -> Life:
    """Vegetables and fruit peeled, cut or grated."""
    if place is not Place.FRIDGE:
        return cap(
            CUT_OUT_DAYS,
            "What is peeled, cut or grated is used within 12 hours unless it goes into the refrigerator",
            rule="household rule: cut produce",
            source=CUSTOM,
        )
    return cap(
        CUT_DAYS,
        "What is peeled, cut or grated is planned for 4 days in the refrigerator at most",
        rule="household rule: cut produce",
        source=CUSTOM,
    )


def thawed(place: Place) -> Life:
    """Food that was frozen and stands in the refrigerator or the room."""
    chilled = place is Place.FRIDGE
    return cap(
        THAWED_DAYS if chilled else OUT_DAYS,
        f"Thawed food is planned for {'1 day in the refrigerator' if chilled else '2 hours out of the refrigerator'}",
        rule="household rule: thawed",
        source=CUSTOM,
    )


def _fridge_caution(house: House) -> tuple[str, ...]:
    if house.fridge_c > COLD_ENOUGH_C:
        rule = source_of("hold_cold")
        return (f"This refrigerator is at {house.fridge_c:g} °C; 5 °C or colder is asked for ({rule}).",)
    return ()
