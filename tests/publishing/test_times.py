"""How long a dish takes, from its steps."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st
from tests.publishing.samples import all_write_ups, small_dish, step

from chauka.kitchen import After, Attention, Heat, Technique
from chauka.publishing.times import times, waits


def test_the_small_dal_by_hand() -> None:
    """Soak 90 (middle of 60–120), boil 25 after it: 115 to the table; 5 minutes of hands; 25 on the fire."""
    found = times(small_dish())
    assert (found.hands_on_min, found.prepare_min, found.cook_min, found.ahead_min, found.total_min) == (
        5,
        5,
        25,
        90,
        115,
    )


def test_two_pots_at_once_count_once() -> None:
    """Two flames side by side are one stretch of cooking."""
    hot = {"heat": Heat.LOW, "technique": Technique.SIMMER, "attention": Attention.HANDS_OFF}
    dish = small_dish(steps=(step("a", 20, **hot), step("b", 30, **hot)))
    assert times(dish).cook_min == 30


def test_a_lag_is_waiting() -> None:
    """A rest that is only a lag counts in the total and nowhere else."""
    dish = small_dish(steps=(step("knead", 10), step("roll", 10, after=(After("knead", 30),))))
    found = times(dish)
    assert (found.total_min, found.prepare_min, found.cook_min) == (50, 20, 0)


def test_what_waits_is_what_is_done_ahead() -> None:
    """Only the soak must begin before the session."""
    assert [s.id for s in waits(small_dish())] == ["soak"]


@given(
    st.lists(st.tuples(st.integers(0, 60), st.integers(0, 60), st.booleans(), st.booleans()), min_size=1, max_size=6)
)
def test_total_covers_preparing_and_cooking(rows: list[tuple[int, int, bool, bool]]) -> None:
    """Whatever the steps, the way to the table is never shorter than preparing plus cooking, nor than any step."""
    steps = tuple(
        step(
            f"s{i}", low, low + more,
            heat=Heat.MEDIUM if hot else Heat.NONE,
            attention=Attention.HANDS_ON if hands else Attention.HANDS_OFF,
            after=(After(f"s{i - 1}"),) if i and hands else (),
        )
        for i, (low, more, hot, hands) in enumerate(rows)
    )  # fmt: skip
    found = times(small_dish(steps=steps))
    assert found.total_min >= found.prepare_min + found.cook_min - 1  # each is rounded
    assert found.total_min >= max(s.minutes.mid for s in steps) - 1


def test_every_demo_dish_has_time() -> None:
    """No demo dish is done before it begins."""
    assert all(w.times.total_min > 0 for w in all_write_ups())
