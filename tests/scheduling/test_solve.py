"""The solver against brute force, laws, and itself."""

from __future__ import annotations

from dataclasses import replace
from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.scheduling.checker import broken, value

from chauka.scheduling.measure import measured
from chauka.scheduling.problem import Alike, Due, Goal, Hold, Kind, Lag, Mode, Need, Problem, Resource, Task
from chauka.scheduling.schedule import Spot, Status
from chauka.scheduling.solve import solve

FOUR = (Goal.LATENESS, Goal.OVER_HOLD, Goal.HOLD, Goal.SESSION)


@st.composite
def problems(draw, most=8, longest=4, horizon=40):
    """Small kitchens without a kitchen: one cook of four units, flames, pots, lags, due times."""
    count = draw(st.integers(1, most))
    resources = (
        Resource("cook 1", 4, Kind.COOK),
        Resource("flame", draw(st.integers(1, 2)), Kind.BURNER),
        Resource("pot", 1, Kind.VESSEL),
    )
    made = []
    for i in range(count):
        low = draw(st.integers(1, longest))
        needs = [Need("cook 1", draw(st.sampled_from([0, 1, 2, 3, 4])))]
        needs += [Need("flame")] if draw(st.booleans()) else []
        made.append(Task(f"t{i}", (Mode(low, low + draw(st.sampled_from([0, 0, 2])), tuple(needs)),)))
    lags = []
    for j in range(1, count):
        if draw(st.booleans()):
            low = draw(st.integers(0, 2))
            high = draw(st.sampled_from([None, low, low + 2]))
            lags.append(Lag(f"t{draw(st.integers(0, j - 1))}", f"t{j}", low, high))
    held = draw(st.lists(st.integers(0, count - 1), max_size=2, unique=True))
    holds = tuple(Hold(f"h{i}", "pot", (f"t{i}",)) for i in held)
    at = horizon - draw(st.integers(8, 14))
    dues = tuple(
        Due(f"d{i}", (f"t{i}",), at, draw(st.sampled_from([None, 0, 2])))
        for i in draw(st.lists(st.integers(0, count - 1), min_size=1, max_size=3, unique=True))
    )
    return Problem(tuple(made), resources, horizon, tuple(lags), holds, dues, FOUR)


@st.composite
def choices(draw):
    """Two or three tasks, each in one of two pots; some stay in one pot together, and each pot is one."""
    pots = ("large", "small")
    made, holds, alike = [], [], []
    for i in range(draw(st.integers(2, 3))):
        spans = [draw(st.integers(1, 3)) for _ in pots]
        modes = tuple(Mode(d, d, (Need("flame"),), p, way=p) for d, p in zip(spans, pots, strict=True))
        made.append(Task(f"t{i}", modes if draw(st.booleans()) else modes[:1]))
        holds += [Hold(f"{p} for t{i}", p, (f"t{i}",), way=p) for p in pots]
    if draw(st.booleans()):
        alike = [Alike(("t0", "t1"))]
        holds = [h for h in holds if h.tasks not in (("t0",), ("t1",))]
        holds += [Hold(f"{p} for both", p, ("t0", "t1"), way=p) for p in pots]
    resources = (Resource("flame", draw(st.integers(1, 2)), Kind.BURNER), *(Resource(p, 1, Kind.VESSEL) for p in pots))
    lags = (Lag("t0", "t1", draw(st.integers(0, 2)), draw(st.sampled_from([None, 2]))),)
    dues = (Due("d", (made[-1].id,), 8, draw(st.sampled_from([None, 0]))), Due("e", ("t1",), 7, 1))
    return Problem(tuple(made), resources, 11, lags, tuple(holds), dues, FOUR, tuple(alike))


def brute_force(problem: Problem) -> tuple[int, int, int, int] | None:
    """The best value of all schedules there are; None where there is none."""
    spans = [
        [
            Spot(s, s + d, number)
            for number, mode in enumerate(t.modes)
            for d in range(mode.low, mode.high + 1)
            for s in range(problem.horizon - d + 1)
        ]
        for t in problem.tasks
    ]
    best = None
    for choice in product(*spans):
        spots = dict(zip((t.id for t in problem.tasks), choice, strict=True))
        worth = value(problem, spots)
        if (best is None or worth < best) and not broken(problem, spots):
            best = worth
    return best


@settings(max_examples=12, deadline=None)
@given(choices())
def test_no_choice_of_pots_is_better_than_the_one_found(problem):
    """On tiny problems every schedule in every pot is tried."""
    _as_good_as_all(problem)


@settings(max_examples=12, deadline=None)
@given(problems(most=2, longest=3, horizon=18))
def test_no_schedule_is_better_than_the_one_found(problem):
    """On tiny problems every schedule is tried."""
    _as_good_as_all(problem)


def _as_good_as_all(problem):
    answer = solve(problem, seconds=5)
    best = brute_force(problem)
    if best is None:
        assert answer.status is Status.IMPOSSIBLE
    else:
        assert answer.status is Status.PROVEN
        assert tuple(level.value for level in answer.levels) == best


@settings(max_examples=100, deadline=None)
@given(problems())
def test_every_schedule_keeps_every_rule(problem):
    """The independent checker finds nothing, and counts the same values."""
    answer = solve(problem, seconds=30)
    if answer.status is Status.IMPOSSIBLE:
        return
    assert broken(problem, answer.spots) == []
    assert tuple(level.value for level in answer.levels) == value(problem, answer.spots)
    assert all(level.bound <= level.value for level in answer.levels)


@pytest.mark.slow
@settings(max_examples=2000, deadline=None)
@given(problems(most=12, longest=6, horizon=60))
def test_every_schedule_of_two_thousand_keeps_every_rule(problem):
    """The same on two thousand larger ones."""
    answer = solve(problem, seconds=30)
    if answer.spots:
        assert broken(problem, answer.spots) == []
        assert tuple(level.value for level in answer.levels) == value(problem, answer.spots)


@settings(max_examples=25, deadline=None)
@given(problems())
def test_one_more_burner_never_makes_it_worse(problem):
    """More of a resource allows every schedule that was allowed before."""
    more = tuple(replace(r, capacity=r.capacity + 1) if r.name == "flame" else r for r in problem.resources)
    _never_worse(problem, replace(problem, resources=more))


@settings(max_examples=25, deadline=None)
@given(problems())
def test_a_looser_maximum_lag_never_makes_it_worse(problem):
    """Waiting longer is allowed, not asked for."""
    looser = tuple(lag if lag.high is None else replace(lag, high=lag.high + 3) for lag in problem.lags)
    _never_worse(problem, replace(problem, lags=looser))


def _never_worse(tight: Problem, loose: Problem) -> None:
    before, after = solve(tight, seconds=30), solve(loose, seconds=30)
    if before.status is Status.PROVEN:
        assert after.status is Status.PROVEN
        assert [level.value for level in after.levels] <= [level.value for level in before.levels]


def test_two_equal_cooks_share_the_work():
    """By whom is a mode: two tasks that take a whole cook each run side by side with two cooks."""
    cooks = (Resource("cook 1", 4, Kind.COOK), Resource("cook 2", 4, Kind.COOK))
    modes = tuple(Mode(5, 5, (Need(c.name, 4),), c.name) for c in cooks)
    problem = Problem((Task("a", modes), Task("b", modes)), cooks, 30, goals=(Goal.MAKESPAN,))
    answer = solve(problem, seconds=5)
    assert answer.level(Goal.MAKESPAN).value == 5
    assert {s.mode for s in answer.spots.values()} == {0, 1}


def test_two_half_cooks_are_not_one_cook():
    """Three units of one cook and one of the other cannot be lent together to a task that takes four."""
    cooks = (Resource("cook 1", 4, Kind.COOK), Resource("cook 2", 4, Kind.COOK))

    def by_either(units: int) -> tuple[Mode, ...]:
        return tuple(Mode(5, 5, (Need(c.name, units),), c.name) for c in cooks)

    tasks = tuple(Task(n, by_either(u)) for n, u in (("a", 2), ("b", 3), ("c", 3)))
    answer = solve(Problem(tasks, cooks, 30, goals=(Goal.MAKESPAN,)), seconds=5)
    assert answer.level(Goal.MAKESPAN).value == 10


def test_the_same_call_gives_the_same_schedule():
    """Proven values repeat, and so does the schedule where the last goal settles ties."""
    tasks = tuple(Task(f"t{i}", (Mode(2, 4, (Need("cook 1", 3),)),), weight=i + 1) for i in range(5))
    due = Due("d", tuple(t.id for t in tasks), 30, 4)
    problem = Problem(tasks, (Resource("cook 1", 4, Kind.COOK),), 60, dues=(due,), goals=(*FOUR, Goal.ORDER))
    one, two = solve(problem, seconds=5, seed=3), solve(problem, seconds=5, seed=3)
    assert one.spots == two.spots
    assert measured(problem, one.spots, Goal.ORDER) == measured(problem, two.spots, Goal.ORDER)
