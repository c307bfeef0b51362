"""Sheets for slow evenings."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from tests.scheduling.checker import broken
from tests.scheduling.dinners import DINNER, house

from chauka.scheduling import evenings, run_sheet
from chauka.scheduling.measure import measured
from chauka.scheduling.problem import Goal

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time, as the kitchen keeps it


@pytest.fixture(scope="module")
def plain():
    """Dal, greens, rice, flatbread and a salad on two burners, one cook."""
    return run_sheet(DINNER, house(), SERVE)


@pytest.fixture(scope="module")
def steady():
    """The same dinner for slow evenings."""
    return run_sheet(DINNER, house(), SERVE, steady=True, seconds=4)


def test_it_keeps_every_rule_and_is_as_punctual(plain, steady):
    """Looked at moment by moment; on an evening as planned nothing is later."""
    assert broken(steady.kitchen.problem, steady.schedule.spots) == []
    late = [measured(s.kitchen.problem, s.schedule.spots, Goal.LATENESS) for s in (plain, steady)]
    assert late[1] <= late[0]


def test_the_session_is_at_most_a_tenth_longer(plain, steady):
    """The minutes are not for nothing, so they are limited."""
    assert SERVE - steady.starts_at <= 1.1 * (SERVE - plain.starts_at)


def test_on_evenings_it_was_not_chosen_by_the_lateness_falls_by_half(plain, steady):
    """The 95th percentile of lateness, with another seed."""
    late = [evenings(s.kitchen, s.schedule.spots, seed=11).p95_late_min for s in (plain, steady)]
    assert late[1] <= 0.5 * late[0]


def test_it_says_what_it_is_worth(steady):
    """Both figures stand among the reasons."""
    assert any("one evening in twenty" in line and "plain sheet" in line for line in steady.why)


def test_nobody_begins_before_being_at_home(plain):
    """Whoever comes home when the plain sheet begins gets no earlier one."""
    home = plain.starts_at - timedelta(minutes=2)
    sheet = run_sheet(DINNER, house(), SERVE, steady=True, not_before=home, seconds=4)
    assert sheet.starts_at >= home
