"""Scaling a dish: spices softly, counts whole, water by surface, vessels and times warned of."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.errors import InputError
from chauka.kitchen import Attention, Course, Dish, Form, Heat, Line, Step, Technique, Vessel
from chauka.kitchen.scaling import power, scale, scale_to
from chauka.units import Estimate, Span


def dish() -> Dish:
    """Potatoes in a thin gravy."""

    def line(id_: str, food: str, amount: str, grams: float, form: Form = Form.DRY) -> Line:
        return Line(id_, food, id_, amount, Estimate(grams, grams / 10), form)

    return Dish(
        id="thin-potato",
        name="Thin potato gravy",
        course=Course.VEGETABLE,
        base="F006",
        portions=4,
        lines=(
            line("potato", "F006", "400 g", 400, Form.CUT),
            line("cumin", "G025", "1 tsp", 2.5),
            line("salt", "G528", "1 tsp", 6),
            line("bay", "G512", "1", 0.4),
            line("egg", "M001", "3", 150, Form.WHOLE),
            line("water", "K505", "600 g", 600, Form.LIQUID),
        ),
        steps=(
            Step("cut", "Cut the potatoes.", Technique.CUT, Span(5, 8), Attention.HANDS_ON,
                Vessel.BOWL, lines=("potato",)),
            Step(
                "boil", "Boil.", Technique.BOIL, Span(20, 20), Attention.NOW_AND_THEN, Vessel.POT, Heat.MEDIUM,
                lines=("potato", "cumin", "salt", "bay", "water"),
            ),
        ),
    )  # fmt: skip


def test_spices_and_salt_grow_softly() -> None:
    """Twice the dish takes 1.74 times the cumin, 1.93 times the salt, twice the potato."""
    twice = scale(dish(), 8).dish
    assert twice.line("potato").grams.mean == pytest.approx(800)
    assert twice.line("cumin").grams.mean == pytest.approx(2.5 * 2**0.8)
    assert twice.line("salt").grams.mean == pytest.approx(6 * 2**0.95)


def test_ginger_and_onion_are_vegetables() -> None:
    """What stands among the spices of the tables but fills the pot grows with the dish."""
    assert power("G017") == power("G014") == 1.0


def test_counts_stay_whole() -> None:
    """Half of three eggs is two eggs, half a bay leaf is one."""
    half = scale(dish(), 2).dish
    assert half.line("egg").amount in ("2 pieces", "1 piece")
    assert half.line("bay").amount == "1 piece"
    assert half.line("egg").grams.mean % 50 == pytest.approx(0)


def test_water_that_boils_away_follows_the_surface() -> None:
    """180 g boil away (9 g a minute for 20): doubled, 840 g stay and 180·2^⅔ g leave."""
    assert scale(dish(), 8).dish.line("water").grams.mean == pytest.approx(840 + 180 * 2 ** (2 / 3))


@given(st.floats(0.5, 40))
def test_scaling_up_and_down_returns(portions: float) -> None:
    """There and back again gives the same grams of what is not counted or boiled."""
    back = scale(scale(dish(), portions).dish, 4).dish
    for id_ in ("potato", "cumin", "salt"):
        assert back.line(id_).grams.mean == pytest.approx(dish().line(id_).grams.mean)


def test_to_the_amount_bought() -> None:
    """600 g of potatoes make six portions."""
    assert scale_to(dish(), "potato", 600).dish.portions == pytest.approx(6)
    with pytest.raises(InputError, match="no weight"):
        scale_to(dish(), "tomato", 600)


def test_times_and_vessels_are_warned_of() -> None:
    """Three times the dish cuts longer and says that the boil comes later."""
    thrice = scale(dish(), 12)
    assert thrice.dish.step("cut").minutes.high > 8
    assert any("come to the boil" in w for w in thrice.warnings)
    assert scale(dish(), 4).warnings == ()
