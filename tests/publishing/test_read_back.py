"""Page data reads back into the same dish, and a page that was changed says so."""

from __future__ import annotations

import copy
import json

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.publishing.samples import HOSTILE, all_write_ups, demo_write_up, small_dish, written

from chauka.errors import InputError
from chauka.publishing import page_data, page_data_json, page_snippet, sheet_html
from chauka.publishing.read_back import read_page, read_page_data


def test_all_demo_dishes_read_back_equal() -> None:
    """Every spread, lag, place and tag of every dish survives the page."""
    for w in all_write_ups():
        assert read_page_data(json.loads(page_data_json(w))) == w.dish


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_read_back_from_whole_pages(name: str) -> None:
    """From the sheet and from the snippet, whatever the name."""
    w = written(small_dish(name=name, story=name))
    assert read_page(sheet_html(w)) == w.dish
    assert read_page(page_snippet(w)) == w.dish


@given(st.integers(0, 9), st.floats(1.1, 5))
def test_a_changed_weight_is_named(which: int, factor: float) -> None:
    """A number changed on the page only is found, and the complaint shows both."""
    w = demo_write_up()
    data = copy.deepcopy(page_data(w))
    supply = data["supply"][which]["requiredQuantity"]
    supply["value"] = round(supply["value"] * factor + 0.1, 1)
    with pytest.raises(InputError, match="where the dish has"):
        read_page_data(data)


@pytest.mark.parametrize("key", ["name", "recipeYield", "recipeIngredient", "recipeInstructions", "totalTime"])
def test_any_visible_change_is_found(key: str) -> None:
    """Name, yield, lines, steps, times: none may differ from the dish."""
    data = page_data(demo_write_up())
    data[key] = data[key][1:]
    with pytest.raises(InputError, match=key):
        read_page_data(data)


def test_what_is_not_ours_says_what_to_do() -> None:
    """A Recipe from elsewhere, a page without data, a damaged encoding."""
    with pytest.raises(InputError, match="holds no dish of chauka"):
        read_page_data({"@type": "Recipe", "name": "x"})
    with pytest.raises(InputError, match="no Recipe data"):
        read_page("<p>nothing</p>")
    data = page_data(demo_write_up())
    data["encoding"] = data["encoding"] | {"text": "{"}
    with pytest.raises(InputError, match="damaged"):
        read_page_data(data)
