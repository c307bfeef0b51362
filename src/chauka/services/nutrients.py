"""Nutrients of dishes: of one with its spread and reasons, or of the whole book at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from chauka import composition, tables
from chauka.composition import Factors, WhyRow
from chauka.errors import DataError, InputError
from chauka.store import books
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class NutrientLine:
    """One nutrient of a portion with its name and unit."""

    tag: str
    name: str
    unit: str
    amount: composition.Amount


@dataclass(frozen=True, slots=True)
class DishNutrientsView:
    """One dish: what a portion weighs and gives, how the cooked weight was found, and what is to know."""

    dish: str
    name: str
    portion_g: float
    how: str
    nutrients: tuple[NutrientLine, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WhyView:
    """Where one nutrient of a whole dish comes from, line by line, the largest first."""

    dish: str
    tag: str
    name: str
    unit: str
    rows: tuple[WhyRow, ...]


@dataclass(frozen=True, slots=True)
class BookNutrients:
    """A portion of every dish of the book: dish id → tag → amount in the nutrient's unit.

    What a table does not give for a food counts as nothing here; ask for one dish to see what is
    unknown.
    """

    units: Mapping[str, str]
    dishes: Mapping[str, Mapping[str, float]]


_FREE_SUGARS = tables.Nutrient(composition.FREE_SUGARS, "Free sugars (added, and of honey, syrup and juice)", "g")


def _nutrient(tag: str) -> tables.Nutrient:
    """Name and unit of a nutrient; free sugars are ours, no table carries them."""
    return _FREE_SUGARS if tag == composition.FREE_SUGARS else tables.NUTRIENTS[tag]


def of_dish(household: Household, dish_id: str, factors: Factors = Factors.LEARNED) -> DishNutrientsView:
    """What one portion gives, with spread; nutrients that no line's table carries are left out."""
    dish = books.load_book(household).dish(dish_id)
    found = composition.dish_nutrients(dish, factors=factors)
    known = [(tag, amount) for tag, amount in found.per_portion.items() if amount.mean or not amount.at_least]
    lines = [NutrientLine(tag, _nutrient(tag).name, _nutrient(tag).unit, amount) for tag, amount in known]
    return DishNutrientsView(dish.id, dish.name, found.portion_g.mean, found.how, tuple(lines), tuple(found.notes))


def why(household: Household, dish_id: str, tag: str, factors: Factors = Factors.LEARNED) -> WhyView:
    """Each line's part in one nutrient of the dish. Raises `InputError` for a tag that no table carries."""
    wanted = tag.upper()
    dish = books.load_book(household).dish(dish_id)
    try:
        rows = composition.why(dish, wanted, factors)
    except DataError as error:
        raise InputError({"why": (str(error),)}) from error
    nutrient = _nutrient(wanted)
    return WhyView(dish.id, wanted, nutrient.name, nutrient.unit, rows)


def of_book(household: Household, factors: Factors = Factors.LEARNED) -> BookNutrients:
    """A portion of every dish, worked out with one product of matrices."""
    dishes = books.load_book(household).dishes
    tags, whole = composition.many(dishes, factors)
    return BookNutrients(
        units={tag: _nutrient(tag).unit for tag in tags},
        dishes={
            dish.id: {tag: float(amount) / dish.portions for tag, amount in zip(tags, row, strict=True)}
            for dish, row in zip(dishes, whole, strict=True)
        },
    )
