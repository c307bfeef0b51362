"""How fast produce ages, and how stays add up."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.errors import InputError
from chauka.keeping.rate import Stay, days_at_0c, days_left, fraction_consumed, relative_rate, steady_rate

temperatures = st.floats(-5, 45)


@given(temperatures, temperatures)
def test_warmer_never_ages_more_slowly(one: float, other: float) -> None:
    """Both curves rise with temperature."""
    cold, warm = sorted((one, other))
    assert relative_rate(cold) <= relative_rate(warm)
    assert steady_rate(cold) <= steady_rate(warm)


@given(st.floats(0, 500), temperatures, st.floats(0, 1))
def test_splitting_a_stay_changes_nothing(hours: float, temp_c: float, share: float) -> None:
    """Two stays at one temperature are as good as one."""
    split = [Stay(hours * share, temp_c), Stay(hours * (1 - share), temp_c)]
    assert days_at_0c(split) == pytest.approx(days_at_0c([Stay(hours, temp_c)]), rel=1e-9, abs=1e-12)


def test_the_order_of_stays_does_not_matter() -> None:
    """Age is a sum."""
    warm, cold = Stay(5, 30), Stay(40, 4)
    assert fraction_consumed(14, [warm, cold]) == pytest.approx(fraction_consumed(14, [cold, warm]))


def test_a_life_used_up_leaves_nothing() -> None:
    """What is left is never below zero."""
    assert days_left(10, [Stay(240, 25)], 4) == 0


def test_a_stay_in_the_oven_is_refused() -> None:
    """An absurd temperature or a negative time names itself."""
    with pytest.raises(InputError, match="180 °C is no place to keep food"):
        Stay(2, 180)
    with pytest.raises(InputError, match="-1 h is below zero"):
        Stay(-1, 5)
