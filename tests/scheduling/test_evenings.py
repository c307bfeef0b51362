"""Run sheets on slow evenings."""

from __future__ import annotations

from datetime import datetime

import pytest
from tests.scheduling.dinners import DINNER, house

from chauka.scheduling import evenings, run_sheet

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time, as the kitchen keeps it


@pytest.fixture(scope="module")
def dinner():
    """Dal, greens, rice, flatbread and a salad on two burners, one cook."""
    return run_sheet(DINNER, house(), SERVE)


def test_without_noise_the_plan_comes_out(dinner):
    """Nothing is late, no maximum wait is broken."""
    fared = evenings(dinner.kitchen, dinner.schedule.spots, spread=0, count=2)
    assert (fared.p95_late_min, fared.on_time_share, fared.broken_lags) == (0, 1, 0)


def test_the_same_seed_gives_the_same_evenings(dinner):
    """Seeded, so that two plans can be compared."""
    one, two = (evenings(dinner.kitchen, dinner.schedule.spots, count=50, seed=7) for _ in range(2))
    assert one == two
    assert one != evenings(dinner.kitchen, dinner.schedule.spots, count=50, seed=8)


def test_more_spread_is_never_more_punctual(dinner):
    """Lateness at the 95th percentile grows with the spread."""
    late = [evenings(dinner.kitchen, dinner.schedule.spots, spread=s).p95_late_min for s in (0.0, 0.1, 0.2, 0.4)]
    assert late == sorted(late)
    assert late[-1] > 0


def test_with_the_rest_re_timed_fewer_waits_are_broken(dinner):
    """Who looks ahead tempers when the dal is nearly done, not by the clock; without noise nothing changes."""
    blind, live = (evenings(dinner.kitchen, dinner.schedule.spots, count=200, live=on) for on in (False, True))
    assert live.broken_lags <= blind.broken_lags
    calm = evenings(dinner.kitchen, dinner.schedule.spots, spread=0, count=2, live=True)
    assert (calm.p95_late_min, calm.broken_lags) == (0, 0)
