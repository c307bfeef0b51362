"""How long food stands before it is ready, in a warm and a cool room: soaking, sprouting, curd, batter, dough."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from itertools import pairwise
from types import MappingProxyType

from chauka import tables
from chauka.errors import InputError
from chauka.keeping.foods import keeping_of
from chauka.keeping.life import days_said

WARM_Q10 = 2.0
"""Beyond the stated temperatures the time halves, or doubles, every 10 °C."""

SLEEPS_BELOW_C = MappingProxyType({"set-curd": 16.0, "ferment": 14.0, "sprout": 12.0})
"""Colder than this it hardly begins (common practice, no source): find a warmer place."""

TOO_HOT_C = MappingProxyType({"set-curd": 48.0, "ferment": 40.0, "sprout": 38.0})
"""Warmer than this it spoils instead (common practice, no source)."""


class Work(StrEnum):
    """What food stands for."""

    SOAK = "soak"
    SPROUT = "sprout"
    SET_CURD = "set-curd"
    FERMENT = "ferment"
    REST_DOUGH = "rest-dough"
    HOLD_DOUGH = "hold-dough"


@dataclass(frozen=True, slots=True)
class Standing:
    """From the soonest to the latest hour [h] at which it is ready (held dough: is still good), and how to see it.

    `works` is False where the room is too cold or too hot for it.
    """

    low_h: float
    high_h: float
    until: str
    text: str
    source: str
    works: bool = True


def standing(work: Work, temp_c: float, food: str | None = None) -> Standing:
    """How long food stands at a temperature [°C].

    `food` tells what is soaked or sprouted. Raises `InputError` where nothing is known for such a food.
    """
    if not -5 <= temp_c <= 60:
        raise InputError({"temp_c": (f"{temp_c:g} °C is no room; check the unit",)})
    what = _what(work, food)
    rows = _rows().get((work, what))
    if rows is None:
        raise InputError({"food": (f"Nothing is stated for how long {what or 'that'} stands to {work}",)})
    low = _at([(row[0], row[1]) for row in rows], temp_c)
    high = _at([(row[0], row[2]) for row in rows], temp_c)
    near = min(rows, key=lambda row: abs(row[0] - temp_c))
    cold, hot = temp_c < SLEEPS_BELOW_C.get(work, -99.0), temp_c > TOO_HOT_C.get(work, 99.0)
    span = f"{days_said(low / 24)} to {days_said(high / 24)} at {temp_c:g} °C"
    text = f"{span}. Ready: {near[3]}" if work is not Work.HOLD_DOUGH else f"Good for {span}; {near[3]}"
    if cold or hot:
        text = f"At {temp_c:g} °C it is too {'cold: find a warmer place' if cold else 'hot: find a cooler place'}"
    return Standing(low, high, near[3], text, near[4], works=not (cold or hot))


def _what(work: Work, food: str | None) -> str:
    match work:
        case Work.SET_CURD:
            return "milk"
        case Work.FERMENT:
            return "batter"
        case Work.REST_DOUGH | Work.HOLD_DOUGH:
            return "dough"
        case _:
            kept = keeping_of(food) if food is not None else None
            if kept is None:
                return ""
            if kept.kind == "pulse":
                return "pulse-split" if "dal" in _name(food or "").lower().split() else "pulse-whole"
            return {"bajra": "millet", "oilseed": "nut", "refined": "grain"}.get(kept.kind, kept.kind)


@cache
def _name(food: str) -> str:
    row = next(row for row in tables.rows("keeping_foods") if row["food_code"] == food)
    return row["name"].replace(",", " ")


@cache
def _rows() -> Mapping[tuple[str, str], tuple[tuple[float, float, float, str, str], ...]]:
    found: dict[tuple[str, str], list[tuple[float, float, float, str, str]]] = {}
    for row in tables.rows("keeping_standing"):
        hours = (float(row["temp_c"]), float(row["low_h"]), float(row["high_h"]))
        found.setdefault((row["work"], row["what"]), []).append((*hours, row["until"], row["source"]))
    return MappingProxyType({key: tuple(sorted(rows)) for key, rows in found.items()})


def _at(points: list[tuple[float, float]], temp_c: float) -> float:
    """Hours between stated temperatures on a logarithmic scale; beyond them by Q10."""
    (coldest, longest), (warmest, shortest) = points[0], points[-1]
    if temp_c <= coldest:
        return float(longest * WARM_Q10 ** ((coldest - temp_c) / 10))
    if temp_c >= warmest:
        return float(shortest / WARM_Q10 ** ((temp_c - warmest) / 10))
    (t0, h0), (t1, h1) = next(pair for pair in pairwise(points) if pair[1][0] > temp_c)
    share = (temp_c - t0) / (t1 - t0)
    return math.exp((1 - share) * math.log(h0) + share * math.log(h1))
