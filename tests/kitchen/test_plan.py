"""A table plan adds up its own money and waste, and a proof its gap."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.kitchen import Batch, Course, LeftOver, Meal, Proof, Purchase, Serving, TablePlan

DAY = date(2027, 3, 14)


def plan() -> TablePlan:
    return TablePlan(
        start=DAY, days=1, sittings=(), batches=(Batch("b1", "dal", DAY, Meal.DINNER, 4),),
        servings=(Serving(DAY, Meal.DINNER, Course.PULSE, "dal", 4, "b1"),),
        purchases=(
            Purchase("p1", DAY, "B021", "1 kg", 1, 1000, 1000, 16_000, "grocer"),
            Purchase("p2", DAY, "C033", "bunch", 2, 800, 600, 4_000, "greens"),
        ),
        draws=(),
        left_over=(LeftOver("p2", "C033", 150, 750, True, DAY), LeftOver("p1", "B021", 600, 9_600, False, DAY)),
        shortfalls=(), proof=Proof(100, 90, 1.5, "feasible"),
    )  # fmt: skip


def test_cost_and_waste() -> None:
    """Cost sums what is bought; waste sums what is binned, not what is carried on."""
    assert plan().cost == 20_000
    assert plan().waste_g == 150


def test_it_finds_batches_and_servings() -> None:
    """By id, and by sitting."""
    assert plan().batch("b1").dish == "dal"
    assert [s.dish for s in plan().at(DAY, Meal.DINNER)] == ["dal"]
    assert plan().at(DAY, Meal.LUNCH) == ()


@given(st.floats(-1e6, 1e6), st.floats(0, 1e6))
def test_the_gap_is_a_share_of_the_value(bound: float, above: float) -> None:
    """Zero when proven best, never negative."""
    proof = Proof(bound + above, bound, 0.1, "any")
    assert proof.gap_percent >= 0
    assert Proof(bound, bound, 0.1, "optimal").gap_percent == 0


def test_the_gap_of_a_known_case() -> None:
    """100 against 90 is a gap of 10 %."""
    assert plan().proof.gap_percent == pytest.approx(10)
