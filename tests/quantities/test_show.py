"""Grams are shown in the measure a cook would take, never far off the weight."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.quantities.samples import FLOUR, HOUSE, NOTHING, ONION, WEIGHTS

from chauka.quantities import grams, grams_text, show
from chauka.units import Estimate


@pytest.mark.parametrize(
    ("mass_g", "food", "form", "shown"),
    [
        (120, FLOUR, "dry", "1 cup (120 g)"),
        (60, FLOUR, "dry", "½ cup (60 g)"),
        (40, FLOUR, "dry", "⅓ cup (40 g)"),
        (15, FLOUR, "dry", "2 tbsp (15 g)"),
        (1.25, FLOUR, "dry", "½ tsp (1.2 g)"),
        (240, ONION, "whole", "3 pieces (240 g)"),
        (1500, NOTHING, "whole", "1.5 kg"),
        (333, NOTHING, "whole", "333 g"),
        (0, FLOUR, "dry", "0 g"),
    ],
)
def test_shows(mass_g: float, food: str, form: str, shown: str) -> None:
    """Round household amounts, with the grams beside them; grams alone where no measure is known."""
    assert show(mass_g, food, form, HOUSE, weights=WEIGHTS) == shown
    assert show(Estimate(mass_g, 1), food, form, HOUSE, weights=WEIGHTS) == shown


@given(st.floats(0.2, 4000))
def test_what_is_shown_weighs_about_that(mass_g: float) -> None:
    """Reading back the shown amount gives the weight within the 12 % that may be rounded away."""
    shown = show(mass_g, FLOUR, "dry", HOUSE, weights=WEIGHTS)
    read = grams(shown, FLOUR, "dry", HOUSE, weights=WEIGHTS).mean
    assert read == pytest.approx(mass_g, rel=0.125, abs=0.06)


@given(st.floats(0, 5000))
def test_grams_text_is_within_the_scale(mass_g: float) -> None:
    """The text is the weight to a tenth of a gram below 10 g, a gram below 1 kg, 10 g above."""
    text = grams_text(mass_g)
    number, unit = text.split()
    read = float(number) * (1000 if unit == "kg" else 1)
    assert read == pytest.approx(mass_g, abs=(5 if unit == "kg" else 0.5 if mass_g >= 9.9 else 0.05) + 1e-9)
