"""Soaking, sprouting, setting and dough, in a warm room and a cool one."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.errors import InputError
from chauka.keeping import Work, standing

CHICKPEAS, MOONG_DAL, MOONG, RAGI = "B002", "B010", "B011", "A010"
WORKS = [
    (Work.SOAK, CHICKPEAS), (Work.SOAK, MOONG_DAL), (Work.SOAK, RAGI), (Work.SPROUT, MOONG), (Work.SET_CURD, None),
    (Work.FERMENT, None), (Work.REST_DOUGH, None), (Work.HOLD_DOUGH, None),
]  # fmt: skip


@given(st.sampled_from(WORKS), st.floats(0, 50), st.floats(0, 50))
def test_a_warmer_room_is_never_slower(work: tuple[Work, str | None], one: float, other: float) -> None:
    """Both ends shorten as it gets warmer, and the soonest is never later than the latest."""
    cold, warm = sorted((one, other))
    slow, fast = standing(work[0], cold, work[1]), standing(work[0], warm, work[1])
    assert fast.low_h <= slow.low_h * (1 + 1e-9)
    assert fast.high_h <= slow.high_h * (1 + 1e-9)
    assert fast.low_h <= fast.high_h


def test_what_is_stated_comes_out_as_stated() -> None:
    """Chickpeas overnight, split moong within three hours, curd in a warm place by the end of the morning."""
    assert (standing(Work.SOAK, 25, CHICKPEAS).low_h, standing(Work.SOAK, 25, CHICKPEAS).high_h) == pytest.approx(
        (7, 12)
    )
    assert standing(Work.SOAK, 25, MOONG_DAL).high_h == pytest.approx(3)
    warm = standing(Work.SET_CURD, 42)
    assert (warm.low_h, warm.high_h) == pytest.approx((3, 5))
    assert "from memory" in warm.source
    assert "comes away clean" in warm.text


def test_a_cold_room_sets_no_curd() -> None:
    """It says so instead of giving hours to wait for."""
    cold = standing(Work.SET_CURD, 12)
    assert not cold.works
    assert cold.text == "At 12 °C it is too cold: find a warmer place"
    assert not standing(Work.SPROUT, 45, MOONG).works


def test_what_nobody_states_is_refused() -> None:
    """A potato is not sprouted, and 200 °C is no room."""
    with pytest.raises(InputError, match="Nothing is stated"):
        standing(Work.SPROUT, 25, "F002")
    with pytest.raises(InputError, match="200 °C is no room"):
        standing(Work.SOAK, 200, CHICKPEAS)
