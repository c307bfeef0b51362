"""A schedule and what really happened → a schedule for the rest, in a fraction of a second.

Nothing starts earlier than planned, except what must not stand any longer; so what need not move does not, and what
is under way stays where it is. First the order is kept, which takes milliseconds; another order is looked for only
where dinner could be sooner. A pure function of the problem, the old schedule and the facts.
"""

from __future__ import annotations

import time
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from chauka.scheduling.keep_order import Order, Times, least_lateness
from chauka.scheduling.measure import excess, keeps_capacities, keeps_order, measured
from chauka.scheduling.problem import Edge, Goal, Lag, Mode, Need, Problem, Task
from chauka.scheduling.schedule import Spot
from chauka.scheduling.solve import solve

_SECONDS = 0.08
"""How long a better order is looked for [s]; the answer that keeps the order is there before that."""

_LOST = "lost "

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
    possible; everything else holds. `seconds` limits the search for another order.
    """
    began = time.perf_counter()
    asked = _as_it_stands(problem, planned, facts)
    kept = in_order(asked, _shifted(asked, planned, facts), facts)
    if kept is None:
        asked, spots = _anew(asked, _shifted(asked, planned, facts), seconds)
    else:
        asked, spots = _improved(asked, kept, facts, seconds)
    broken = tuple(lag for lag in asked.lags if excess(lag, spots))
    return Retimed(asked, spots, broken, time.perf_counter() - began)


def in_order(problem: Problem, around: Mapping[str, Spot], facts: Facts) -> dict[str, Spot] | None:
    """The rest of `around` in the order it has, each task as early as its window and what comes before allow.

    Maximum waits are kept where reality has not broken them. None where the order does not keep the
    capacities: a burner is lost, or something was begun before its turn.
    """
    order = Order(problem, around)
    told = np.array([[t in facts.begun or t in facts.skipped or t.startswith(_LOST)] for t in order.tasks])
    first = {task.id: task.earliest for task in problem.tasks}
    starts = [[around[t].start if known else first[t]] for t, (known,) in zip(order.tasks, told, strict=True)]
    ends = [[around[t].end if known else 0] for t, (known,) in zip(order.tasks, told, strict=True)]
    times = order.earliest(Times(np.array(starts, float), np.array(ends, float)), order.shortest, told, told)
    spots = order.spots(times)
    return spots if keeps_capacities(problem, spots) and keeps_order(problem, spots) else None


def _improved(asked: Problem, kept: dict[str, Spot], facts: Facts, seconds: float) -> tuple[Problem, dict[str, Spot]]:
    """Another order where that is more punctual; what the order at hand cannot keep any more is given up."""
    given_up = {lag for lag in asked.lags if excess(lag, kept)}
    late = measured(asked, kept, Goal.LATENESS)
    if not given_up and late <= least_lateness(asked, kept):
        return asked, kept
    soft = replace(
        asked,
        lags=tuple(replace(lag, soft=_BROKEN_LAG) if lag in given_up else lag for lag in asked.lags),
        goals=(Goal.CALM,) if given_up else (Goal.LATENESS,),
    )
    found = solve(soft, seconds=seconds, workers=1, hint=kept).spots
    tidied = in_order(soft, found, facts) if found else None
    better = tidied and measured(soft, tidied, Goal.CALM) < measured(soft, kept, Goal.CALM)
    return soft, tidied if tidied and better else kept


def _anew(asked: Problem, anyhow: Mapping[str, Spot], seconds: float) -> tuple[Problem, Mapping[str, Spot]]:
    """A new order where the old one cannot be kept, with all maximum waits, else as short as they can be."""
    found = solve(asked, seconds=seconds, workers=1, hint=anyhow).spots
    if found:
        return asked, found
    soft = replace(asked, lags=tuple(replace(lag, soft=_BROKEN_LAG) for lag in asked.lags))
    return soft, solve(soft, seconds=seconds, workers=1, hint=anyhow).spots or anyhow


def _as_it_stands(problem: Problem, planned: Mapping[str, Spot], facts: Facts) -> Problem:
    called = _called(problem, facts)
    tasks = [_fact_or_plan(task, planned[task.id], facts, called) for task in problem.tasks]
    late = max([facts.now, *(spot.end for spot in facts.begun.values())])
    horizon = max(problem.horizon, late + sum(max(m.low for m in t.modes) for t in tasks))
    tasks += _losses(problem, facts, horizon)
    fixed = facts.begun.keys() | facts.skipped
    lags = tuple(lag for lag in problem.lags if not {lag.first, lag.second} <= fixed)
    lags = tuple(replace(lag, high=None) if {lag.first, lag.second} & facts.skipped else lag for lag in lags)
    return replace(problem, tasks=tuple(tasks), lags=lags, horizon=horizon, goals=(Goal.CALM,))


def _fact_or_plan(task: Task, spot: Spot, facts: Facts, called: Mapping[str, int]) -> Task:
    if task.id in facts.skipped:
        return Task(task.id, (Mode(0, 0, way=task.modes[spot.mode].way),), earliest=0, latest_end=facts.now)
    if task.id in facts.begun:
        fact = facts.begun[task.id]
        mode = replace(task.modes[spot.mode], low=fact.end - fact.start, high=fact.end - fact.start)
        return Task(task.id, (mode,), earliest=fact.start, latest_end=fact.end)
    # By whom and how is settled: nobody wants to swap knives half-way.
    start = min(spot.start, called.get(task.id, spot.start))
    return Task(task.id, (task.modes[spot.mode],), earliest=max(start, facts.now), weight=1)


def _called(problem: Problem, facts: Facts) -> dict[str, int]:
    """By when a task has to start because what it follows is over and must not stand longer [tick]."""
    out: dict[str, int] = {}
    for lag in problem.lags:
        if lag.high is not None and lag.first in facts.begun and (lag.of, lag.to) == (Edge.END, Edge.START):
            last = facts.begun[lag.first].end + lag.high
            out[lag.second] = min(last, out.get(lag.second, last))
    return out


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
            out.append(Task(f"{_LOST}{resource} {i + 1}", (mode,), earliest=free, latest_end=horizon))
    return out


def _shifted(problem: Problem, planned: Mapping[str, Spot], facts: Facts) -> dict[str, Spot]:
    """The plan as it was, moved by as much as the latest fact delays it: always there, never clever."""
    delay = max([0, *(fact.end - planned[t].end for t, fact in facts.begun.items())])
    moved = {t: Spot(s.start + delay, s.end + delay) for t, s in planned.items()}
    begun = {t: Spot(s.start, s.end) for t, s in facts.begun.items()}
    gone = {t: Spot(facts.now, facts.now) for t in facts.skipped}
    lost = {t.id: Spot(t.earliest, problem.horizon) for t in problem.tasks if t.id not in planned}
    return {**moved, **begun, **gone, **lost}
