"""Nutrients of dishes: of one with its spread and reasons, or of the whole book at once."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from chauka import composition, tables
from chauka.composition import Factors, IronNote, LabelRow, Regime, Rule, WhyRow
from chauka.errors import DataError, InputError
from chauka.kitchen import Dish
from chauka.services import cooked, foods
from chauka.store import books
from chauka.store.models import Household
from chauka.units import Estimate

IRON_WORTH_A_NOTE_MG = 1.0
"""Of a portion with less iron nothing is said [mg]; policy, some fifteenth of a day."""


@dataclass(frozen=True, slots=True)
class NutrientLine:
    """One nutrient with its name and unit: `amount` in a portion, and `per_100g` as eaten."""

    tag: str
    name: str
    unit: str
    amount: composition.Amount
    per_100g: composition.Amount


@dataclass(frozen=True, slots=True)
class DishNutrientsView:
    """One dish: what a portion weighs and gives, how the cooked weight was found, and what is to know.

    `iron` is what its own company does to its iron; empty where a portion has hardly any.
    """

    dish: str
    name: str
    portion_g: float
    how: str
    nutrients: tuple[NutrientLine, ...]
    notes: tuple[str, ...]
    iron: tuple[IronNote, ...] = ()


@dataclass(frozen=True, slots=True)
class LabelView:
    """A nutrition label as data, and the allergens to be named by `regime`, each with the foods that bring it."""

    dish: str
    name: str
    rule: Rule
    portion_g: float
    portions: float
    rows: tuple[LabelRow, ...]
    regime: Regime
    allergens: Mapping[str, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class AllergenView:
    """Allergens to be named by `regime`, each with the foods that bring it, and flags of diets: onion_garlic, root …"""

    dish: str
    name: str
    regime: Regime
    allergens: Mapping[str, tuple[str, ...]]
    flags: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class WhyView:
    """Where one nutrient of a whole dish comes from, line by line, the largest first; and what the cooking weighs.

    `how` says how the cooked weight was found, `doubt` what the amount per 100 g is unsure of.
    """

    dish: str
    tag: str
    name: str
    unit: str
    rows: tuple[WhyRow, ...]
    raw_g: Estimate
    cooked_g: Estimate
    how: str
    total: composition.Amount
    per_100g: composition.Amount
    per_portion: composition.Amount
    doubt: composition.Doubt


@dataclass(frozen=True, slots=True)
class BookNutrients:
    """A portion of every dish of the book: dish id → tag → amount in the nutrient's unit.

    The amounts are what is known; `at_least` names the tags of a dish of which there may be more, since a
    table does not give them for some food. Ask for one dish to see for which.
    """

    units: Mapping[str, str]
    dishes: Mapping[str, Mapping[str, float]]
    at_least: Mapping[str, tuple[str, ...]]


_FREE_SUGARS = tables.Nutrient(composition.FREE_SUGARS, "Free sugars (added, and of honey, syrup and juice)", "g")


def _nutrient(tag: str) -> tables.Nutrient:
    """Name and unit of a nutrient; free sugars are ours, no table carries them."""
    return _FREE_SUGARS if tag == composition.FREE_SUGARS else tables.NUTRIENTS[tag]


def of_dish(household: Household, dish_id: str, factors: Factors = Factors.LEARNED) -> DishNutrientsView:
    """What one portion and 100 g give, with spread; what no table gives for any line is "at least 0"."""
    dish, found = _worked_out(household, dish_id, factors)
    lines = (
        NutrientLine(
            tag, _nutrient(tag).name, _nutrient(tag).unit, amount, found.per_100g.get(tag, composition.NOTHING)
        )
        for tag, amount in found.per_portion.items()
    )
    worth_it = found.per_portion["FE"].mean >= IRON_WORTH_A_NOTE_MG
    return DishNutrientsView(
        dish=dish.id,
        name=dish.name,
        portion_g=found.portion_g.mean,
        how=found.how,
        nutrients=tuple(lines),
        notes=tuple(found.notes),
        iron=composition.iron_notes([(dish, found)]) if worth_it else (),
    )


def _worked_out(household: Household, dish_id: str, factors: Factors) -> tuple[Dish, composition.DishNutrients]:
    dish = books.load_book(household).dish(dish_id)
    weighed = cooked.of_dish(household, dish)
    return dish, composition.dish_nutrients(dish, factors=factors, weighed_before=weighed)


def label(household: Household, dish_id: str, rule: Rule) -> LabelView:
    """The dish's nutrition label by a rule, with the allergens that the rule's country wants named."""
    dish, found = _worked_out(household, dish_id, Factors.LEARNED)
    regime = Regime.FDA if rule is Rule.FDA else Regime.FSSAI
    named = composition.declared_allergens(dish, regime)
    brought = {allergen: tuple(foods.name(code) for code in codes) for allergen, codes in named.items()}
    return LabelView(
        dish.id, dish.name, rule, found.portion_g.mean, found.portions, composition.label(found, rule), regime, brought
    )


def allergens(household: Household, dish_id: str, regime: Regime, may_contain: Iterable[str] = ()) -> AllergenView:
    """What a list of allergens wants named of a dish, and what diets may forbid in it.

    `may_contain` is what the cook says may be there besides (a shared mill); nothing is guessed. Raises
    `InputError` for a word that is no allergen.
    """
    known, said = composition.ALLERGENS, tuple(word.strip().casefold() for word in may_contain)
    if wrong := [word for word in said if word not in known]:
        raise InputError({"may-contain": (f"{wrong[0]!r} is no allergen; there are {', '.join(sorted(known))}",)})
    dish = books.load_book(household).dish(dish_id)
    named = composition.declared_allergens(dish, regime, said)
    brought = {allergen: tuple(foods.name(code) for code in codes) for allergen, codes in named.items()}
    return AllergenView(dish.id, dish.name, regime, brought, tuple(sorted(composition.diet_flags(dish))))


def why(household: Household, dish_id: str, tag: str, factors: Factors = Factors.LEARNED) -> WhyView:
    """Each line's part in one nutrient of the dish. Raises `InputError` for a tag that no table carries."""
    wanted = tag.upper()
    dish, found = _worked_out(household, dish_id, factors)
    try:
        rows = composition.why(dish, wanted, factors)
    except DataError as error:
        raise InputError({"why": (str(error),)}) from error
    nutrient = _nutrient(wanted)
    return WhyView(
        dish=dish.id,
        tag=wanted,
        name=nutrient.name,
        unit=nutrient.unit,
        rows=rows,
        raw_g=found.raw_g,
        cooked_g=found.cooked_g,
        how=found.how,
        total=found.total[wanted],
        per_100g=found.per_100g.get(wanted, composition.NOTHING),
        per_portion=found.per_portion[wanted],
        doubt=composition.doubt(dish, found, wanted, factors),
    )


def of_book(household: Household, factors: Factors = Factors.LEARNED) -> BookNutrients:
    """A portion of every dish, worked out with one product of matrices."""
    dishes = books.load_book(household).dishes
    found = composition.many(dishes, factors)
    return BookNutrients(
        units={tag: _nutrient(tag).unit for tag in found.tags},
        dishes={
            dish.id: {tag: float(amount) / dish.portions for tag, amount in zip(found.tags, row, strict=True)}
            for dish, row in zip(dishes, found.known, strict=True)
        },
        at_least={
            dish.id: tuple(tag for tag, more in zip(found.tags, row, strict=True) if more)
            for dish, row in zip(dishes, found.at_least, strict=True)
        },
    )
