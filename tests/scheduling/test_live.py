"""Cooking by the sheet: taps, and what they do to the rest of the evening."""

from __future__ import annotations

from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.scheduling.dinners import DINNER, house

from chauka.errors import InputError
from chauka.scheduling import Event, Tap, follow, run_sheet
from chauka.scheduling.problem import Due, Lag, Mode, Need, Problem, Resource, Task
from chauka.scheduling.retiming import Facts, retimed
from chauka.scheduling.schedule import Spot

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time, as the kitchen keeps it


@pytest.fixture(scope="module")
def dinner():
    """Dal, greens, rice, flatbread and a salad on two burners, one cook."""
    return run_sheet(DINNER, house(), SERVE)


def row(sheet, dish, step):
    """The first row of a step."""
    return next(e for e in sheet if (dish, step) in e.steps)


def minutes_late(sheet):
    """How late the last row ends."""
    return max((e.end - SERVE) / timedelta(minutes=1) for e in sheet)


def test_without_a_tap_the_sheet_stays_as_it_is(dinner):
    """No event, no change."""
    assert follow(dinner, []) is dinner


def test_a_step_done_on_time_changes_nothing_else(dinner):
    """Tapping done at the planned end leaves every start."""
    first = dinner.entries[0]
    after = follow(dinner, [Event(first.end, Tap.DONE, first.tasks)])
    assert [(e.start, e.tasks) for e in after] == [(e.start, e.tasks) for e in dinner]
    assert after.why == ("everything is still on time",)


def test_five_more_minutes_of_a_critical_step_serve_five_minutes_later(dinner):
    """The hands have no minute to lose, so kneading five minutes longer moves the table."""
    knead = row(dinner, "roti", "knead")
    after = follow(dinner, [Event(knead.end, Tap.MORE, knead.tasks, 5)])
    assert row(after, "roti", "knead").minutes == knead.minutes + 5
    assert minutes_late(after) == 5
    assert "20:05" in after.why[0]


def test_what_stands_on_the_fire_stays_there(dinner):
    """Everything begun before the tap keeps its start and its burner."""
    wilt = row(dinner, "greens", "wilt")
    after = follow(dinner, [Event(wilt.end, Tap.MORE, wilt.tasks, 4)])
    for entry in dinner:
        if entry.start < wilt.end:
            same = next(e for e in after if e.tasks[0] == entry.tasks[0])
            assert (same.start, same.burner) == (entry.start, entry.burner)


def test_a_skipped_step_leaves_the_sheet(dinner):
    """The salad is not dressed; nothing waits for it."""
    dress = row(dinner, "salad", "dress")
    after = follow(dinner, [Event(dress.start, Tap.SKIPPED, dress.tasks)])
    assert all(("salad", "dress") not in e.steps for e in after)
    assert minutes_late(after) <= 0


def test_with_one_burner_gone_the_rest_queues_on_the_other(dinner):
    """From the tap on no two pots cook at once, and what was cooking may finish."""
    rice = row(dinner, "rice", "simmer-covered")
    now = rice.start - timedelta(minutes=1)
    after = follow(dinner, [Event(now, Tap.BURNER_LOST)])
    running = [e.end for e in dinner if e.burner and e.start <= now < e.end]
    free = min(running, default=now)
    fires = sorted((e for e in after if e.burner and e.start >= max(free, now)), key=lambda e: e.start)
    assert all(a.end <= b.start for a, b in pairwise(fires))


def test_the_same_taps_give_the_same_sheet(dinner):
    """A pure function."""
    knead = row(dinner, "roti", "knead")
    taps = [Event(knead.end, Tap.MORE, knead.tasks, 3)]
    assert follow(dinner, taps).entries == follow(dinner, taps).entries


def test_taps_may_come_in_any_order(dinner):
    """They are sorted by their time."""
    one, two = dinner.entries[0], dinner.entries[1]
    taps = [Event(one.end, Tap.DONE, one.tasks), Event(two.end, Tap.MORE, two.tasks, 2)]
    assert follow(dinner, taps).entries == follow(dinner, taps[::-1]).entries


def test_a_tap_on_another_sheet_is_refused(dinner):
    """The message names the row."""
    with pytest.raises(InputError, match="'soup/boil' is not on this run sheet"):
        follow(dinner, [Event(SERVE, Tap.DONE, ("soup/boil",))])


@settings(max_examples=15, deadline=None)
@given(
    st.lists(
        st.tuples(st.integers(0, 20), st.sampled_from([Tap.DONE, Tap.MORE, Tap.SKIPPED]), st.integers(0, 12)),
        max_size=4,
    )
)
def test_whatever_is_tapped_every_step_left_is_still_on_the_sheet(dinner, taps):
    """No tap loses a row, and hands and burners are never over-used after it."""
    chosen = [(dinner.entries[i % len(dinner.entries)], tap, m) for i, tap, m in taps]
    events = [Event(e.end, tap, e.tasks, m) for e, tap, m in chosen]
    after = follow(dinner, events)
    skipped = {t for e, tap, _ in chosen if tap is Tap.SKIPPED for t in e.tasks}
    assert {t for e in after for t in e.tasks} >= {t for e in dinner for t in e.tasks} - skipped
    now = max((e.at for e in events), default=SERVE)
    for moment in {e.start for e in after if e.start > now}:
        fires = [e for e in after if e.burner and e.start <= moment < e.end]
        assert len(fires) <= 2


def test_a_maximum_lag_that_reality_broke_is_named_and_kept_short():
    """The second task waits for a resource that is taken far too long; then it goes at once."""
    flame = Resource("flame", 1)
    tasks = (
        Task("a", (Mode(2, 2),)),
        Task("b", (Mode(3, 3, (Need("flame"),)),)),
        Task("c", (Mode(4, 4, (Need("flame"),)),)),
    )
    problem = Problem(tasks, (flame,), 60, (Lag("a", "b", 0, 5),), dues=(Due("d", ("b",), 20, 5),))
    planned = {"a": Spot(4, 6), "b": Spot(10, 13), "c": Spot(0, 4)}
    facts = Facts(8, {"a": Spot(4, 6), "c": Spot(0, 30)})
    answer = retimed(problem, planned, facts)
    assert answer.spots["b"].start == 30
    assert [(lag.first, lag.second) for lag in answer.broken] == [("a", "b")]
