"""Many dishes at once give what each gives alone."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.composition.samples import GHEE, MILK, POTATO, SPINACH, boiled, dal, line, salad

from chauka.composition import dish_nutrients
from chauka.composition.batch import Recipes, many, totals


def test_many_dishes_are_each_dish() -> None:
    """The totals of the sparse product are those of the careful way, all nutrients but water."""
    dishes = [dal(), boiled(line(POTATO, 300), line(MILK, 200)), salad(line(SPINACH, 80)), salad(line(GHEE, 12))]
    found = many(dishes)
    for dish, row, open_end in zip(dishes, found.known, found.at_least, strict=True):
        total = dish_nutrients(dish).total
        for tag, amount, at_least in zip(found.tags, row, open_end, strict=True):
            if tag != "WATER":
                assert amount == pytest.approx(total[tag].mean), tag
                assert at_least == total[tag].at_least, tag


def test_no_dishes() -> None:
    """Nothing comes of nothing."""
    found = many([])
    assert found.known.shape == found.at_least.shape == (0, len(found.tags))


@given(st.integers(0, 2**32 - 1), st.integers(1, 1200))
def test_the_product_is_the_sum_over_lines(seed: int, count: int) -> None:
    """Any pattern of lines gives what a plain loop gives, also over the border of a block."""
    rng = np.random.default_rng(seed)
    starts = np.concatenate([[0], np.cumsum(rng.integers(1, 4, count))])
    recipes = Recipes(starts, rng.integers(0, 7, starts[-1]), rng.random(starts[-1]))
    per_gram = rng.random((7, 3))
    found = totals(recipes, per_gram)
    for i in (0, count // 2, count - 1):
        here = slice(starts[i], starts[i + 1])
        assert np.allclose(found[i], recipes.grams[here] @ per_gram[recipes.foods[here]])
