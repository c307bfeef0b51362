"""Ripe fruit gives off ethylene, and what feels it ages beside such fruit in half the time."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from chauka import tables
from chauka.keeping.foods import PRODUCE, keeping_of
from chauka.kitchen import Form, Lot

ETHYLENE_SHARE = 0.5
"""Life beside a giver ÷ life apart (UC Davis broccoli sheet: 2 ppm at 10 °C halve it)."""

SOURCE = "UC Davis broccoli sheet (2 ppm of ethylene at 10 °C halve the life)"

_FEELING_GROUPS = frozenset({"leaf", "herb"})
"""Leaves nearly all feel it (rated H in UC Davis's list): a leaf with no rating of its own counts so."""

_WHOLE = frozenset({Form.WHOLE, Form.PICKED, Form.WASHED})


@dataclass(frozen=True, slots=True)
class Neighbours:
    """A lot that ages faster for what stands beside it: lot ids, what to do about it, and the source."""

    lot: str
    beside: tuple[str, ...]
    text: str
    source: str = SOURCE


@cache
def _rated(letter: str, column: str) -> frozenset[str]:
    stored = {row["item"] for row in tables.rows("produce_storage") if row[column] in ("H", "VH")}
    return frozenset(stored | {row["item"] for row in tables.rows("keeping_ethylene") if row[letter] == "Y"})


@cache
def gives(food: str) -> bool:
    """Whether a food gives off much ethylene when ripe."""
    kept = keeping_of(food)
    return kept is not None and (kept.item or kept.like) in _rated("gives", "ethylene_production")


@cache
def feels(food: str) -> bool:
    """Whether a food ages faster in ethylene."""
    kept = keeping_of(food)
    if kept is None or kept.kind != PRODUCE:
        return False
    return (kept.item or kept.like) in _rated("feels", "ethylene_sensitivity") or kept.group in _FEELING_GROUPS


def harmed(food: str, beside: Iterable[str]) -> bool:
    """Whether a food ages faster for any of the foods beside it; its own kind does not count."""
    return feels(food) and any(other != food and gives(other) for other in beside)


def ethylene_neighbours(lots: Sequence[Lot]) -> tuple[Neighbours, ...]:
    """The lots that stand in one place with whole fruit that makes them old, and what to do."""
    givers: dict[str, list[Lot]] = {}
    for lot in lots:
        if lot.food is not None and lot.form in _WHOLE and lot.grams > 0 and gives(lot.food):
            givers.setdefault(lot.place, []).append(lot)
    out = []
    for lot in lots:
        near = [one for one in givers.get(lot.place, ()) if lot.food is not None and harmed(lot.food, [one.food or ""])]
        if near and lot.form in _WHOLE:
            names = " and ".join(dict.fromkeys(_names()[one.food or ""].lower() for one in near))
            text = f"It has half the life beside {names}; put them in different places."
            out.append(Neighbours(lot.id, tuple(one.id for one in near), text))
    return tuple(out)


def beside(lot: Lot, lots: Iterable[Lot]) -> tuple[str, ...]:
    """The foods of the other whole lots in the same place, to be given to `lot_use_by`."""
    return tuple(
        other.food
        for other in lots
        if other.id != lot.id and other.place is lot.place and other.food is not None and other.form in _WHOLE
    )


@cache
def _names() -> Mapping[str, str]:
    return MappingProxyType({row["food_code"]: row["name"].split(",")[0] for row in tables.rows("keeping_foods")})
