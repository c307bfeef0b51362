"""Into the freezer and out of it: blanching first, thawing in the cold, and what freezing does to the count of days."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from chauka import tables
from chauka.errors import InputError
from chauka.keeping.caps import THAWED_DAYS, source_of
from chauka.keeping.foods import PRODUCE, keeping_of
from chauka.keeping.life import Life, days_said
from chauka.keeping.of_food import food_life
from chauka.kitchen import Form, House, Place


@dataclass(frozen=True, slots=True)
class FreezingAdvice:
    """How a food is frozen: minutes in boiling water first (None: not needed or not known), and its life there."""

    blanch_min: float | None
    life: Life
    text: str
    source: str


@dataclass(frozen=True, slots=True)
class ThawAdvice:
    """Hours that a pack needs in the refrigerator and in cold water [h], and how to go about it."""

    fridge_h: float
    water_h: float
    text: str
    source: str


@cache
def _stated() -> Mapping[tuple[str, str], tuple[float, str]]:
    rows = tables.rows("keeping_freezing")
    return MappingProxyType({(row["what"], row["group"]): (float(row["value"]), row["source"]) for row in rows})


def freezing_advice(food: str, house: House, form: Form = Form.WHOLE) -> FreezingAdvice:
    """How to freeze a food in a form, and how long it keeps then."""
    kept = keeping_of(food)
    raw = kept is not None and kept.kind == PRODUCE and form not in (Form.BLANCHED, Form.BOILED, Form.COOKED)
    minutes, source = _stated().get(("blanch", kept.group), (None, "")) if raw and kept is not None else (None, "")
    life = food_life(food, Form.BLANCHED if minutes else form, Place.FREEZER, house, age_days=0.0)
    first = (
        f"Blanch it {minutes:g} minutes in boiling water, cool it in cold water, dry it; freeze it flat in thin packs"
        if minutes
        else "Cool it first; freeze it flat in thin packs"
    )
    text = f"{first}. It is planned for {days_said(life.plan_days)} at {house.freezer_c:g} °C."
    return FreezingAdvice(minutes, life, text, "; ".join(filter(None, (source, life.source))))


def thaw_advice(grams: float) -> ThawAdvice:
    """How long a pack of so many grams takes to thaw: in the refrigerator, or in cold water when it is needed soon.

    The count of days stands still while food is frozen and goes on after it; thawed food is planned for
    one day and never frozen again raw.
    """
    if not 0 < grams <= 20_000:
        raise InputError({"grams": (f"{grams:g} g is no household pack",)})
    fridge, fridge_source = _stated()["hours_per_kg_fridge", "*"]
    water, _ = _stated()["hours_per_kg_water", "*"]
    fridge_h = max(_stated()["least_hours_fridge", "*"][0], fridge * grams / 1000)
    water_h = max(_stated()["least_hours_water", "*"][0], water * grams / 1000)
    text = (
        f"Thaw it in the refrigerator, {days_said(fridge_h / 24)} before it is needed, or in a tight bag in cold water "
        f"changed every half hour ({days_said(water_h / 24)}), never on the counter; eat it within "
        f"{days_said(THAWED_DAYS)}. Cut vegetables for a hot pot go in frozen."
    )
    return ThawAdvice(fridge_h, water_h, text, f"{fridge_source}; {source_of('freeze_stops_clock')}")
