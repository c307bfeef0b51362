"""The units a cook writes, their spellings, and the size of those that hold a volume."""

from __future__ import annotations

from enum import StrEnum
from typing import Protocol

from chauka.units import Estimate


class Measures(Protocol):
    """The house's own cup, bowl and spoons [ml]."""

    @property
    def cup_ml(self) -> float: ...
    @property
    def katori_ml(self) -> float: ...
    @property
    def tablespoon_ml(self) -> float: ...
    @property
    def teaspoon_ml(self) -> float: ...


class Unit(StrEnum):
    """What an amount is counted in."""

    GRAM = "g"
    KILOGRAM = "kg"
    MILLILITRE = "ml"
    LITRE = "l"
    CUP = "cup"
    KATORI = "katori"
    TABLESPOON = "tbsp"
    TEASPOON = "tsp"
    PINCH = "pinch"
    PIECE = "piece"
    BUNCH = "bunch"
    CLOVE = "clove"
    INCH = "inch"
    SPRIG = "sprig"
    LEAF = "leaf"
    FISTFUL = "fistful"


class Size(StrEnum):
    """How large a piece is."""

    SMALL = "small"
    MEDIUM = "medium"
    LARGE = "large"


MASSES = frozenset({Unit.GRAM, Unit.KILOGRAM})
VOLUMES = frozenset(
    {Unit.MILLILITRE, Unit.LITRE, Unit.CUP, Unit.KATORI, Unit.TABLESPOON, Unit.TEASPOON, Unit.PINCH}
)  # fmt: skip
COUNTS = frozenset(set(Unit) - MASSES - VOLUMES)

PLURALS = {
    Unit.CUP: "cups", Unit.KATORI: "katoris", Unit.PINCH: "pinches", Unit.PIECE: "pieces", Unit.BUNCH: "bunches",
    Unit.CLOVE: "cloves", Unit.INCH: "inches", Unit.SPRIG: "sprigs", Unit.LEAF: "leaves", Unit.FISTFUL: "fistfuls",
}  # fmt: skip

SPELLINGS: dict[str, Unit] = {
    **{unit.value: unit for unit in Unit},
    **{plural: unit for unit, plural in PLURALS.items()},
    **dict.fromkeys(("gm", "gms", "gram", "grams", "gramme", "grammes"), Unit.GRAM),
    **dict.fromkeys(("kgs", "kilo", "kilos", "kilogram", "kilograms"), Unit.KILOGRAM),
    **dict.fromkeys(("mls", "millilitre", "millilitres", "milliliter", "milliliters"), Unit.MILLILITRE),
    **dict.fromkeys(("litre", "litres", "liter", "liters", "ltr", "lt"), Unit.LITRE),
    **dict.fromkeys(("katoris", "bowl", "bowls"), Unit.KATORI),
    **dict.fromkeys(("tbsps", "tbs", "tablespoon", "tablespoons"), Unit.TABLESPOON),
    **dict.fromkeys(("tsps", "teaspoon", "teaspoons"), Unit.TEASPOON),
    **dict.fromkeys(("pc", "pcs", "pce", "nos", "no", "number", "whole", "corn", "corns"), Unit.PIECE),
    **dict.fromkeys(("pod", "pods"), Unit.CLOVE),
    **dict.fromkeys(("in", '"', "inch piece", "inches piece"), Unit.INCH),
    **dict.fromkeys(("stalk", "stalks", "string", "strings"), Unit.SPRIG),
    **dict.fromkeys(("handful", "handfuls", "fist", "fists"), Unit.FISTFUL),
}
"""Every spelling that is understood, in lower case."""

PINCH_ML = Estimate(0.6, 0.2)
"""A pinch [ml]: 0.3 to 1.0. One Indian cookery page says 1 ml, Western practice ¹⁄₁₆ to ⅛ tsp; no authority."""


def volume_ml(unit: Unit, measures: Measures) -> Estimate:
    """The volume [ml] that one level `unit` holds, with the spread of filling it.

    The spreads are common practice, no source: 3 % for a marked jug, 8 % for a cup or bowl,
    10 % for a spoon.
    """
    size, cv = {
        Unit.MILLILITRE: (1.0, 0.03),
        Unit.LITRE: (1000.0, 0.03),
        Unit.CUP: (measures.cup_ml, 0.08),
        Unit.KATORI: (measures.katori_ml, 0.08),
        Unit.TABLESPOON: (measures.tablespoon_ml, 0.10),
        Unit.TEASPOON: (measures.teaspoon_ml, 0.10),
        Unit.PINCH: (PINCH_ML.mean, PINCH_ML.cv),
    }[unit]
    return Estimate(size, size * cv)
