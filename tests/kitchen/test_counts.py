"""What is made one by one is counted anew when a dish is made for more or fewer."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka import demo
from chauka.kitchen.counts import counted_text
from chauka.kitchen.scaling import scale


@pytest.mark.parametrize(
    ("text", "factor", "said"),
    [
        ("Make fifteen balls; roll each out thin.", 0.8, "Make 12 balls; roll each out thin."),
        ("Make fifteen balls.", 1.0, "Make fifteen balls."),
        ("Make 10 small balls.", 2, "Make 20 small balls."),
        ("Turn once: ten pancakes.", 0.86, "Turn once: 9 pancakes."),
        ("Press into two patties.", 0.4, "Press into 1 patty."),
        ("Fill two rotis.", 0.5, "Fill 1 roti."),
        ("Wash in three waters, cut each into 8 pieces.", 2, "Wash in three waters, cut each into 8 pieces."),
        ("Cook for ten minutes; two whistles.", 2, "Cook for ten minutes; two whistles."),
    ],
)
def test_balls_are_counted_and_waters_are_not(text: str, factor: float, said: str) -> None:
    assert counted_text(text, factor) == said


@given(st.floats(0.01, 50))
def test_never_fewer_than_one(factor: float) -> None:
    said = counted_text("Make fifteen balls.", factor)
    assert said == "Make fifteen balls." or int(said.split()[1]) >= 1


def test_a_scaled_dish_says_how_many_it_makes() -> None:
    """Fifteen flatbreads for five are thirty for ten."""
    bread = demo.book().dish("wheat-flatbread")
    said = " ".join(step.text for step in scale(bread, 10).dish.steps)
    assert "Make 30 balls" in said
    assert "fifteen" not in said
