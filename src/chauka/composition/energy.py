"""Energy of a food from its components, by three published ways, and content as purchased.

The dishes take the energy that their tables print; these recompute it, to check a table or a packet.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

GRAMS_PER_POUND = 453.6
"""As SR28's documentation rounds it."""


@dataclass(frozen=True, slots=True)
class Atwater:
    """Energy factors of protein, fat and carbohydrate by difference [kcal/g]; `source` says whose."""

    protein: float
    fat: float
    carbohydrate: float
    source: str

    def kcal(self, protein_g: float, fat_g: float, carbohydrate_g: float) -> float:
        """Energy of so much [kcal]."""
        return self.protein * protein_g + self.fat * fat_g + self.carbohydrate * carbohydrate_g


_SR28 = "Merrill and Watt's factors as USDA SR28 FOOD_DES prints them"
GENERAL = Atwater(4.0, 9.0, 4.0, "general Atwater factors; SR28 documentation for protein, the rest from memory")


class AtwaterGroup(StrEnum):
    """Groups of foods whose specific factors are at hand."""

    VEGETABLE = "vegetables such as okra and spinach"
    LENTIL = "lentils"
    WHITE_RICE = "white rice"
    BUTTER = "butter"


SPECIFIC: Mapping[AtwaterGroup, Atwater] = {
    AtwaterGroup.VEGETABLE: Atwater(2.44, 8.37, 3.57, _SR28),
    AtwaterGroup.LENTIL: Atwater(3.47, 8.37, 4.07, _SR28),
    AtwaterGroup.WHITE_RICE: Atwater(3.82, 8.37, 4.16, _SR28),
    AtwaterGroup.BUTTER: Atwater(4.27, 8.79, 3.87, _SR28),
}
"""Specific factors by group; for other foods no source is at hand: use `GENERAL`."""

COMPONENT_KJ: Mapping[str, float] = {
    "protein": 17.0,
    "fat": 37.0,
    "carbohydrate, monosaccharide equivalents": 16.0,
    "fibre": 8.0,
    "organic acids": 13.0,
}
"""Energy of components [kJ/g] as the Japanese tables of 2020 take it (MEXT 2020, fitted to its published energy)."""


def energy_kj(grams: Mapping[str, float]) -> float:
    """Energy of a food's components [kJ]; the names are those of `COMPONENT_KJ`. Raises `KeyError` for any other."""
    return sum(COMPONENT_KJ[name] * amount for name, amount in grams.items())


def per_pound_as_purchased(per_100g_edible: float, refuse_percent: float) -> float:
    """A nutrient in a pound as purchased, by what 100 g edible hold and the share thrown away (SR28 documentation)."""
    return in_purchased(per_100g_edible, GRAMS_PER_POUND, 1 - refuse_percent / 100)


def in_purchased(per_100g_edible: float, purchased_g: float, edible_share: float) -> float:
    """A nutrient in so many grams as purchased, of which a share can be eaten."""
    return per_100g_edible / 100 * purchased_g * edible_share
