"""A schedule and what really happened → a schedule for the rest, in a fraction of a second.

Nothing starts earlier than planned, so what need not move does not; what is under way stays where it
is. A pure function of the problem, the old schedule and the facts.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from chauka.scheduling.measure import excess
from chauka.scheduling.problem import Goal, Lag, Mode, Need, Problem, Task
from chauka.scheduling.schedule import Spot
from chauka.scheduling.solve import solve

_SECONDS = 0.14
_BROKEN_LAG = 100
"""A tick beyond a maximum wait that reality has broken counts as much as so many ticks of moving."""


@dataclass(frozen=True, slots=True)
class Facts:
    """What is known at tick `now`: tasks begun (and ended, if the end lies before now), skipped, units lost.

    A task in `begun` keeps that start and end whatever was planned.
    """

    now: int
    begun: Mapping[str, Spot]
    skipped: frozenset[str] = frozenset()
    lost: Mapping[str, int] | None = None


@dataclass(frozen=True, slots=True)
class Retimed:
    """The problem as it now stands, its schedule, and the maximum lags that reality broke."""

    problem: Problem
    spots: Mapping[str, Spot]
    broken: tuple[Lag, ...]
    seconds: float


def retimed(problem: Problem, planned: Mapping[str, Spot], facts: Facts, *, seconds: float = _SECONDS) -> Retimed:
    """The rest of the schedule, as punctual as it can still be, moved as little as that needs.

    A maximum lag that can no longer be kept is given up, named in `broken`, and kept as short as
    possible; everything else holds.
    """
    strict = _as_it_stands(problem, planned, facts)
    answer = solve(strict, seconds=seconds, workers=1, hint=_shifted(strict, planned, facts))
    if answer.spots:
        return Retimed(strict, answer.spots, (), answer.seconds)
    soft = replace(strict, lags=tuple(replace(lag, soft=_BROKEN_LAG) for lag in strict.lags))
    again = solve(soft, seconds=seconds, workers=1, hint=_shifted(strict, planned, facts))
    spots = again.spots or _shifted(soft, planned, facts)
    broken = tuple(lag for lag in soft.lags if excess(lag, spots))
    return Retimed(soft, spots, broken, answer.seconds + again.seconds)


def _as_it_stands(problem: Problem, planned: Mapping[str, Spot], facts: Facts) -> Problem:
    tasks = [_fact_or_plan(task, planned[task.id], facts) for task in problem.tasks]
    late = max([facts.now, *(spot.end for spot in facts.begun.values())])
    horizon = max(problem.horizon, late + sum(max(m.low for m in t.modes) for t in tasks))
    tasks += _losses(problem, facts, horizon)
    fixed = facts.begun.keys() | facts.skipped
    lags = tuple(lag for lag in problem.lags if not {lag.first, lag.second} <= fixed)
    lags = tuple(replace(lag, high=None) if {lag.first, lag.second} & facts.skipped else lag for lag in lags)
    return replace(problem, tasks=tuple(tasks), lags=lags, horizon=horizon, goals=(Goal.CALM,))


def _fact_or_plan(task: Task, spot: Spot, facts: Facts) -> Task:
    if task.id in facts.skipped:
        return Task(task.id, (Mode(0, 0, way=task.modes[spot.mode].way),), earliest=0, latest_end=facts.now)
    if task.id in facts.begun:
        fact = facts.begun[task.id]
        mode = replace(task.modes[spot.mode], low=fact.end - fact.start, high=fact.end - fact.start)
        return Task(task.id, (mode,), earliest=fact.start, latest_end=fact.end)
    # By whom and how is settled: nobody wants to swap knives half-way.
    return Task(task.id, (task.modes[spot.mode],), earliest=max(spot.start, facts.now), weight=1)


def _losses(problem: Problem, facts: Facts, horizon: int) -> list[Task]:
    """A lost burner is taken for good from the moment that what stands on the others allows."""
    out = []
    for resource, amount in (facts.lost or {}).items():
        users = {t.id for t in problem.tasks if any(n.resource == resource for m in t.modes for n in m.needs)}
        ends = sorted(spot.end for t, spot in facts.begun.items() if t in users and spot.end > facts.now)
        spare = problem.resource(resource).capacity - len(ends)
        for i in range(amount):
            free = facts.now if i < spare else ends[min(i - spare, len(ends) - 1)]
            mode = Mode(horizon - free, horizon - free, (Need(resource),))
            out.append(Task(f"lost {resource} {i + 1}", (mode,), earliest=free, latest_end=horizon))
    return out


def _shifted(problem: Problem, planned: Mapping[str, Spot], facts: Facts) -> dict[str, Spot]:
    """The plan as it was, moved by as much as the latest fact delays it: always there, never clever."""
    delay = max([0, *(fact.end - planned[t].end for t, fact in facts.begun.items())])
    moved = {t: Spot(s.start + delay, s.end + delay, s.mode) for t, s in planned.items()}
    gone = {t: Spot(facts.now, facts.now) for t in facts.skipped}
    lost = {t.id: Spot(t.earliest, problem.horizon) for t in problem.tasks if t.id not in planned}
    return {**moved, **facts.begun, **gone, **lost}
