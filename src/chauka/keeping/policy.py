"""Foods of the store cupboard and the dairy: days stated at a few temperatures, and what lies between.

Between two stated temperatures life falls evenly on a logarithmic scale; above the warmest it
halves every 10 °C (Q10 2.0); colder than the coldest it is not lengthened. Rows of the freezer
speak only for the freezer.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from chauka import tables

FROZEN_C = -10.0
"""Colder than this a place is a freezer."""

WARM_Q10 = 2.0


@dataclass(frozen=True, slots=True)
class Condition:
    """Days stated at one temperature: careful end and other end, and by whom."""

    temp_c: float
    low_days: float
    high_days: float
    source: str
    trust: str


@cache
def _conditions() -> Mapping[tuple[str, str], tuple[Condition, ...]]:
    found: dict[tuple[str, str], list[Condition]] = {}
    for row in tables.rows("keeping_policy"):
        condition = Condition(
            float(row["temp_c"]), float(row["low_d"]), float(row["high_d"]), row["source"], row["trust"]
        )
        for form in row["forms"].split():
            found.setdefault((row["kind"], form), []).append(condition)
    return MappingProxyType({key: tuple(sorted(rows, key=lambda c: c.temp_c)) for key, rows in found.items()})


def conditions_for(kind: str, form: str, temp_c: float) -> tuple[Condition, ...]:
    """What is stated for a kind in a form, the coldest first; frozen rows for a freezer, else the others.

    A form that no row names takes the rows for any form. Where nothing is stated for a freezer the
    other rows stand in; an empty answer means nothing is stated at all.
    """
    stated = [_conditions().get(key, ()) for key in ((kind, form), (kind, "*"))]
    if temp_c <= FROZEN_C:
        for rows in stated:
            if frozen := tuple(c for c in rows if c.temp_c <= FROZEN_C):
                return frozen
    for rows in stated:
        if unfrozen := tuple(c for c in rows if c.temp_c > FROZEN_C):
            return unfrozen
    return ()


def days_at(conditions: Sequence[Condition], temp_c: float) -> tuple[float, float]:
    """Careful end and other end at a temperature [day], from conditions sorted from cold to warm."""
    coldest, warmest = conditions[0], conditions[-1]
    if temp_c <= coldest.temp_c:
        return coldest.low_days, coldest.high_days
    if temp_c >= warmest.temp_c:
        slower = WARM_Q10 ** ((temp_c - warmest.temp_c) / 10)
        return warmest.low_days / slower, warmest.high_days / slower
    colder = next(c for c in reversed(conditions) if c.temp_c <= temp_c)
    warmer = next(c for c in conditions if c.temp_c > temp_c)
    share = (temp_c - colder.temp_c) / (warmer.temp_c - colder.temp_c)
    return (
        _between(colder.low_days, warmer.low_days, share),
        _between(colder.high_days, warmer.high_days, share),
    )


def nearest(conditions: Sequence[Condition], temp_c: float) -> Condition:
    """The stated condition that lies nearest: the one to cite."""
    return min(conditions, key=lambda c: abs(c.temp_c - temp_c))


def _between(cold: float, warm: float, share: float) -> float:
    return math.exp((1 - share) * math.log(cold) + share * math.log(warm))
