"""Nutrients of any number of dishes at once: one sparse matrix times one dense one.

Rows of the sparse matrix are dishes, its columns prepared foods (a food with the retention that its
way of cooking leaves), its values grams. The dense one holds what a gram of each prepared food gives.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from chauka.composition.dish import at_most, is_unweighed, matters
from chauka.composition.flow import passages
from chauka.composition.frying import as_eaten
from chauka.composition.learned import Factors
from chauka.composition.matrix import Array, Mask, composition
from chauka.composition.retention import Retention, retention, vectors
from chauka.kitchen import Dish

Index = npt.NDArray[np.intp]

_DISHES_AT_ONCE = 500  # 500 dishes × 12 lines × 40 nutrients stay in the processor's cache


@dataclass(frozen=True, slots=True)
class Recipes:
    """Dishes by lines in compressed rows: the lines of dish i are `starts[i]` up to `starts[i + 1]`."""

    starts: Index
    foods: Index
    grams: Array

    @property
    def count(self) -> int:
        """How many dishes there are."""
        return len(self.starts) - 1


def totals(recipes: Recipes, per_gram: Array) -> Array:
    """What each dish holds, dishes by nutrients. Every dish has at least one line."""
    found = np.empty((recipes.count, per_gram.shape[1]))
    for first in range(0, recipes.count, _DISHES_AT_ONCE):
        last = min(first + _DISHES_AT_ONCE, recipes.count)
        low, high = recipes.starts[first], recipes.starts[last]
        given = per_gram[recipes.foods[low:high]]
        given *= recipes.grams[low:high, None]
        np.add.reduceat(given, recipes.starts[first:last] - low, axis=0, out=found[first:last])
    return found


@dataclass(frozen=True, slots=True)
class Many:
    """What whole dishes hold, dishes by nutrients: the known part, and whether what is unknown may matter."""

    tags: tuple[str, ...]
    known: Array
    at_least: Mask


def many(dishes: Sequence[Dish], factors: Factors = Factors.LEARNED) -> Many:
    """What each whole dish holds; `at_least` where the known part is not all, by the rule of `dish_nutrients`.

    Water is that of the raw lines. For spread, cooked weight and the names of what is unknown see `dish_nutrients`.
    """
    table = composition()
    if not dishes:
        return Many(table.tags, np.empty((0, len(table.tags))), np.empty((0, len(table.tags)), dtype=bool))
    prepared: dict[tuple[int, Retention], int] = {}
    starts, columns, grams = [0], list[int](), list[float]()
    unweighed = list[bool]()
    for dish in map(as_eaten, dishes):
        heated = passages(dish)
        for line, row in zip(dish.lines, table.rows([x.food for x in dish.lines]), strict=True):
            key = (int(row), retention(heated[line.id], factors))
            columns.append(prepared.setdefault(key, len(prepared)))
            grams.append(line.grams.mean * line.eaten_share)
            unweighed.append(is_unweighed(line))
        starts.append(len(columns))
    per_gram = np.array([table.mean[row] / 100 * np.array(vectors(kept, table.tags)[0]) for row, kept in prepared])
    recipes = Recipes(np.array(starts), np.array(columns), np.array(grams))
    rows = np.array([row for row, _ in prepared])[recipes.foods]
    known = totals(recipes, per_gram)
    bound = at_most(recipes.grams[:, None] / 100, table, rows, np.array(unweighed)[:, None])
    return Many(table.tags, known, matters(np.add.reduceat(bound, recipes.starts[:-1], axis=0), known))
