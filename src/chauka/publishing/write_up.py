"""One dish and every number that is ever printed of it, computed once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from chauka import composition, keeping, tables
from chauka.kitchen import Dish, House, Line, Measures, Place
from chauka.publishing.times import Times, times, tools

PANEL = (
    "ENERC_KCAL", "PROCNT", "FAT", "FASAT", "CHOAVLDF", "FSUGAR", "FIBTG", "NA",
    "CA", "FE", "ZN", "FOL", "VITA_RAE", "VITC",
)  # fmt: skip
"""Nutrients on the sheet, in this order."""


@dataclass(frozen=True, slots=True)
class Part:
    """Lines under one heading; the first part of a simple dish has no name."""

    name: str
    lines: tuple[Line, ...]


@dataclass(frozen=True, slots=True)
class Photograph:
    """What the dish looks like: a JPEG, what is on it in words, its size in pixels."""

    jpeg: bytes
    words: str
    width: int
    height: int


@dataclass(frozen=True, slots=True)
class WriteUp:
    """A dish ready for others. Sheet and page data print only what stands here."""

    dish: Dish
    parts: tuple[Part, ...]
    times: Times
    nutrition: composition.DishNutrients
    allergens: Mapping[str, tuple[str, ...]]
    life: keeping.Life
    cautions: tuple[keeping.Caution, ...]
    diets: tuple[str, ...]
    tools: tuple[str, ...]
    measures: Measures
    photo: Photograph | None = None

    @property
    def panel(self) -> tuple[tuple[tables.Nutrient, composition.Amount], ...]:
        """Nutrients per portion that the sheet shows, with their spread."""
        per_portion = self.nutrition.per_portion
        return tuple((tables.NUTRIENTS[tag], per_portion[tag]) for tag in PANEL if tag in per_portion)

    @property
    def kcal(self) -> composition.Amount | None:
        """Energy per portion [kcal]."""
        return self.nutrition.per_portion.get("ENERC_KCAL")


def write_up(dish: Dish, house: House, weighed_before: Sequence[composition.Weighed] = ()) -> WriteUp:
    """Everything that a sheet, a page or a card may say about a dish cooked in this house.

    `weighed_before` are what earlier batches weighed here.
    """
    allergens = composition.dish_allergens(dish)
    return WriteUp(
        dish=dish,
        parts=_parts(dish.lines),
        times=times(dish),
        nutrition=composition.dish_nutrients(dish, weighed_before=weighed_before),
        allergens=allergens,
        life=keeping.dish_life(dish, dish.kept.place if dish.kept else Place.FRIDGE, house),
        cautions=keeping.cautions(dish),
        diets=_diets(dish, allergens),
        tools=tools(dish),
        measures=house.measures,
    )


def _parts(lines: Iterable[Line]) -> tuple[Part, ...]:
    named: dict[str, list[Line]] = {}
    for line in lines:
        named.setdefault(line.part, []).append(line)
    return tuple(Part(name, tuple(of_it)) for name, of_it in named.items())


_FLESH = frozenset("NOPQRS")  # IFCT group letters of poultry, meat, fish and shellfish
_EGG = "M"


def _diets(dish: Dish, allergens: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Diets of schema.org's RestrictedDiet that the dish certainly suits; silence where in doubt.

    Vegetarian as India marks it: without flesh and without egg. Gluten free only if no line is a
    declared source, hing included, since it is commonly compounded with wheat flour.
    """
    groups = {code[0] for code in dish.foods}
    suits = []
    if not groups & (_FLESH | {_EGG}):
        suits.append("VegetarianDiet")
        if "milk" not in allergens and not any("honey" in tables.food(c).name.lower() for c in dish.foods):
            suits.append("VeganDiet")
    if "gluten" not in allergens:
        suits.append("GlutenFreeDiet")
    return tuple(suits)
