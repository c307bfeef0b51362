"""The composition tables as arrays: foods by nutrients, with spread, and what is unknown with a bound.

Policies that stand here are marked: where a source prints no spread beside a value, one is assumed;
a trace counts as nothing, with a spread; an unknown value is bounded by its food group.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

import numpy as np
import numpy.typing as npt

from chauka import tables
from chauka.tables import Food, Value, ValueStatus

Array = npt.NDArray[np.float64]
Mask = npt.NDArray[np.bool_]

FREE_SUGARS = "FSUGAR_ADDED"
"""Free sugars [g] after WHO's definition (sugars guideline 2015): the sugars of sugar, jaggery, honey, syrups, jams,
sweets and fruit juices drunk as such; not those of whole fruit, milk, curd, or a squeeze of lemon. INFOODS has no
tagname for it."""

_CV = {"kcal": 0.05, "kJ": 0.05, "g": 0.05}
_CV_MINERAL, _CV_OTHER = 0.10, 0.20
_MINERALS = frozenset({"CA", "FE", "MG", "P", "K", "NA", "ZN", "CU", "MN", "SE"})

_IN_FAT = frozenset(
    {"ENERC", "ENERC_KCAL", "FAT", "FASAT", "FAMS", "FAPU", "CHOLE", "VITE", "VITD", "VITK1", "VITA_RAE", "RETOL"}
    | {"CARTB", "WATER", "PROCNT", "CHOAVLDF"}
)
_INORGANIC = _MINERALS | {"WATER"}
_NEARLY_PURE_G = 97.0

_NOT_IN_PLANTS = frozenset({"VITB12", "RETOL", "CHOLE"})
_PLANT_GROUPS = frozenset(
    {"Cereals and Millets", "Grain Legumes", "Green Leafy Vegetables", "Other Vegetables", "Fruits", "Mushrooms"}
    | {"Roots and Tubers", "Condiments and Spices", "Nuts and Oil Seeds", "Sugars"}
)

_ENOUGH_IN_GROUP, _ENOUGH_IN_ALL = 3, 20


@dataclass(frozen=True, slots=True)
class Composition:
    """Per 100 g edible portion: `mean` and `sd` (0 where unknown), `known`, and `most`, a bound on the unknown.

    Rows are foods, columns nutrients.
    """

    tags: tuple[str, ...]
    row_of: dict[str, int]
    mean: Array
    sd: Array
    known: Mask
    most: Array

    def rows(self, codes: list[str]) -> npt.NDArray[np.intp]:
        """The rows of these foods. Raises `DataError` naming the code that no table has."""
        return np.array([self.row_of[c] if c in self.row_of else self.row_of[tables.food(c).code] for c in codes])


def everyday_tags() -> tuple[str, ...]:
    """The nutrients that are worked out for every dish: the everyday ones of the table, and free sugars."""
    return (*(r["tag"] for r in tables.rows("nutrients") if r["everyday"] == "yes"), FREE_SUGARS)


@cache
def composition() -> Composition:
    """All foods of all tables, for the everyday nutrients."""
    tags, foods = everyday_tags(), list(tables.foods().values())
    shape = (len(foods), len(tags))
    mean, sd = np.zeros(shape), np.full(shape, np.nan)
    known, measured = np.zeros(shape, dtype=bool), np.zeros(shape, dtype=bool)
    for f, food in enumerate(foods):
        none = holds_none_of(food)
        for t, tag in enumerate(tags):
            value = _value(food, tag)
            if value.mean is not None:
                mean[f, t], known[f, t], measured[f, t] = value.mean, True, True
                sd[f, t] = _spread(value)
            elif tag in none:
                known[f, t], sd[f, t] = True, 0.0
    _assume_spread(tags, mean, sd, known)
    most = _most(foods, mean, known, measured)
    return Composition(tags, {food.code: f for f, food in enumerate(foods)}, mean, sd, known, most)


def _spread(value: Value) -> float:
    """The printed spread; none for a printed nought; unknown (NaN) for a trace or where none is printed."""
    if value.se is not None or value.status is ValueStatus.TRACE:
        return np.nan if value.se is None else value.se
    return np.nan if value.mean else 0.0


def _value(food: Food, tag: str) -> Value:
    return free_sugars(food) if tag == FREE_SUGARS else food.value(tag)


def free_sugars(food: Food) -> Value:
    """All sugars of a sweet food or drink, or its carbohydrate where the sugars are unknown; none in the rest."""
    kinds = tables.traits(food.code)
    if kinds & {"coconut", "water"} or not kinds & {"sugar", "drink"}:
        return Value(0.0, 0.0, ValueStatus.KNOWN)
    sugars = food.value("FSUGAR")
    return sugars if sugars.mean is not None else food.value("CHOAVLDF")


def holds_none_of(food: Food) -> frozenset[str]:
    """Nutrients that a food cannot hold, whether a table says so or not; textbook knowledge, no source.

    Plants hold no cholesterol, no retinol and no vitamin B12 worth counting. A fat of 97 % or more
    has no water phase for minerals and water-soluble vitamins; what gives no energy (water, salt)
    holds nothing organic; 97 % sugar leaves no room for vitamins and fats.
    """
    every = frozenset(everyday_tags()) - {FREE_SUGARS}
    if (food.value("FAT").mean or 0) >= _NEARLY_PURE_G:
        return every - _IN_FAT
    if food.value("ENERC_KCAL").mean == 0:
        return every - _INORGANIC
    if (food.value("FSUGAR").mean or 0) >= _NEARLY_PURE_G:
        return every - _INORGANIC - {"ENERC", "ENERC_KCAL", "CHOAVLDF", "FSUGAR"}
    return _NOT_IN_PLANTS if food.group in _PLANT_GROUPS else frozenset()


def _assume_spread(tags: tuple[str, ...], mean: Array, sd: Array, known: Mask) -> None:
    """Fill the spreads that no source prints; policy, no source.

    5 % for energy and what is counted in grams, 10 % for minerals, 20 % for vitamins and the rest;
    for a trace, half the smallest value above nothing that any table prints.
    """
    for t, tag in enumerate(tags):
        column = mean[:, t]
        unit = tables.NUTRIENTS[tag].unit if tag in tables.NUTRIENTS else "g"
        cv = _CV.get(unit, _CV_MINERAL if tag in _MINERALS else _CV_OTHER)
        above = column[known[:, t] & (column > 0)]
        trace = above.min() / 2 if above.size else 0.0
        bare = np.isnan(sd[:, t])
        sd[bare, t] = np.where(column[bare] > 0, cv * column[bare], trace)
        sd[~known[:, t], t] = 0.0


def _most(foods: list[Food], mean: Array, known: Mask, measured: Mask) -> Array:
    """A bound for what is unknown: nine in ten foods of its group hold less, or of all foods where few are measured.

    Within a group milk products stand apart, so that an oil is not measured by butter. Where hardly
    any food is measured (vitamin B12) there is no bound.
    """
    most = np.zeros_like(mean)
    values = np.where(measured, mean, np.nan)
    many = measured.sum(axis=0) >= _ENOUGH_IN_ALL
    overall = np.where(many, np.nanquantile(np.where(many, values, 0.0), 0.9, axis=0), np.inf)
    groups = np.array([f"{food.group} {'dairy' in tables.traits(food.code)}" for food in foods])
    for group in np.unique(groups):
        here = groups == group
        enough = measured[here].sum(axis=0) >= _ENOUGH_IN_GROUP
        bound = np.where(enough, np.nanquantile(np.where(enough, values[here], 0.0), 0.9, axis=0), overall)
        most[here] = np.where(known[here], 0.0, bound)
    return most
