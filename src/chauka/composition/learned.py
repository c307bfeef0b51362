"""What is left of a nutrient after cooking, learned from foods measured raw and cooked.

Factors are relative to dry matter: 0.9 means that the nutrient fell by a tenth more than the dry
matter did. How they were learned stands in docs/composition.md; the script is
tools/make_learned_factors.py.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from chauka import tables
from chauka.units import Estimate

TABLE, YIELDS = "learned_retention", "learned_yields"


class Factors(StrEnum):
    """Which factors a composition rests on."""

    LEARNED = "learned from measured pairs, published where there are none"
    PUBLISHED = "published"


class CookedGroup(StrEnum):
    """Foods that were found to cook alike."""

    GREENS = "greens"
    ROOTS = "roots, bulbs"
    STARCHY = "starchy roots"
    VEGETABLE = "other vegetables"
    SEEDS = "fresh seeds, sprouts"
    MUSHROOM = "mushrooms"
    DRIED_MUSHROOM = "dried mushrooms"
    DRIED_VEGETABLE = "dried vegetables"
    FRUIT = "fruit"
    DRIED_FRUIT = "dried fruit"
    PULSE = "pulse"
    GRAIN = "grain"
    PASTA = "pasta"
    STARCH_NOODLES = "starch noodles"
    NUTS = "nuts and oil seeds"

    @property
    def state(self) -> str:
        """`fresh`, `dry` or `nuts`: how a food takes up or gives off water."""
        if self is CookedGroup.NUTS:
            return "nuts"
        return "dry" if self in _DRY else "fresh"


_DRY = frozenset(
    {CookedGroup.DRIED_MUSHROOM, CookedGroup.DRIED_VEGETABLE, CookedGroup.DRIED_FRUIT, CookedGroup.PULSE}
    | {CookedGroup.GRAIN, CookedGroup.PASTA, CookedGroup.STARCH_NOODLES}
)


class CookedWay(StrEnum):
    """How the water went."""

    DRAINED = "boiled, drained"
    ABSORBED = "cooked in water that is absorbed or eaten"
    NO_WATER = "steamed, stir-fried, baked, grilled, roasted"


@dataclass(frozen=True, slots=True)
class Learned:
    """A factor with its spread on the logarithm and the number of food families behind its own cell.

    With few families it stands close to the published factor and to what the nutrient does elsewhere.
    """

    factor: float
    sd_log: float
    families: int


def learned_factors(group: CookedGroup, way: CookedWay) -> Mapping[str, Learned]:
    """The factors of a cell by nutrient tag; empty where nothing was learned."""
    return _cells().get((group, way), MappingProxyType({}))


@cache
def _cells() -> Mapping[tuple[str, str], Mapping[str, Learned]]:
    found: dict[tuple[str, str], dict[str, Learned]] = {}
    for row in tables.rows(TABLE):
        cell = found.setdefault((row["group"], row["way"]), {})
        cell[row["tag"]] = Learned(float(row["factor"]), float(row["sd_log"]), int(row["families"]))
    return MappingProxyType({key: MappingProxyType(cell) for key, cell in found.items()})


@cache
def learned_yield(group: CookedGroup, way: CookedWay) -> tuple[Estimate, str] | None:
    """Cooked ÷ raw weight of a cell with its spread, and where it comes from; None where nothing was learned."""
    for row in tables.rows(YIELDS):
        if (row["group"], row["way"]) == (group, way):
            mean = float(row["yield_factor"])
            said = f"{group}, {way}: learned from {row['families']} families of foods"
            return Estimate(mean, mean * float(row["sd_log"])), said
    return None
