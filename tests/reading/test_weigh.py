"""Lines → grams with their spread."""

from __future__ import annotations

import pytest

from chauka.kitchen import Form, Measures
from chauka.reading import read_line, weigh_line

MEASURES = Measures()


def mean(text: str, code: str) -> float:
    """Grams of a line."""
    grams = weigh_line(read_line(text), code, MEASURES).grams
    assert grams is not None
    return grams.mean


def test_units_of_the_world_become_grams() -> None:
    """Ounces, pounds and packs are weights; half an inch is half of an inch."""
    assert mean("8 oz paneer", "L003") == pytest.approx(226.8, rel=0.001)
    assert mean("2 x 400 g tins tomatoes", "D075") == pytest.approx(800)
    assert mean('1/2" ginger', "G014") == pytest.approx(mean("1 inch ginger", "G014") / 2)


def test_heaped_is_more_and_wider() -> None:
    """A heaped spoon weighs a third more than a level one and is less sure."""
    level = weigh_line(read_line("1 tablespoon besan"), "A504", MEASURES).grams
    heaped = weigh_line(read_line("1 heaped tablespoon besan"), "A504", MEASURES).grams
    assert level is not None
    assert heaped is not None
    assert heaped.mean == pytest.approx(level.mean * 1.35)
    assert heaped.cv > level.cv


def test_to_taste_is_a_marked_default() -> None:
    """Salt to taste is a wide stated range, never nothing."""
    weight = weigh_line(read_line("salt to taste"), "G528", MEASURES)
    assert weight.default
    assert weight.grams is not None
    assert weight.grams.mean == 6
    assert "no source" in weight.how


def test_no_amount_is_unknown() -> None:
    """What nobody measured stays unknown, with the reason."""
    weight = weigh_line(read_line("coriander"), "G009", MEASURES)
    assert weight.grams is None
    assert weight.how


def test_a_spoon_of_unknown_size_spans_both() -> None:
    """A "spoon" lies between a teaspoon and a tablespoon."""
    grams = weigh_line(read_line("1 spoon sugar"), "I502", MEASURES).grams
    assert grams is not None
    assert mean("1 tsp sugar", "I502") < grams.mean < mean("1 tbsp sugar", "I502")
    assert grams.cv > 0.25


def test_frying_oil_is_eaten_in_part() -> None:
    """Of oil for deep frying a fifth is eaten, of cooking oil all."""
    assert weigh_line(read_line("2 cups oil for deep frying"), "T508", MEASURES).eaten_share == pytest.approx(0.2)
    assert weigh_line(read_line("2 tbsp oil"), "T508", MEASURES).eaten_share == 1


@pytest.mark.parametrize(
    ("text", "code", "form"),
    [
        ("1 onion, chopped", "G017", Form.CHOPPED), ("1 cup rice, washed", "A015", Form.DRY),
        ("1 tbsp oil", "T508", Form.LIQUID),
        ("1 cup curd, whisked", "L520", Form.SET), ("1 cup grated coconut", "H007", Form.GRATED),
        ("2 boiled potatoes", "F006", Form.BOILED),
    ],
)  # fmt: skip
def test_form_of_a_line(text: str, code: str, form: Form) -> None:
    """Words of form and the kind of food give the form."""
    assert weigh_line(read_line(text), code, MEASURES).form is form
