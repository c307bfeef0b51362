"""What each goal comes to in a given schedule, counted in plain Python."""

from __future__ import annotations

from collections.abc import Mapping
from itertools import accumulate

from chauka.scheduling.problem import LATE_WEIGHT, Due, Edge, Goal, Hold, Lag, Problem
from chauka.scheduling.schedule import Spot

Spots = Mapping[str, Spot]


def measured(problem: Problem, spots: Spots, goal: Goal) -> int:
    """The goal's value [tick] in this schedule."""
    return _MEASURES[goal](problem, spots)


def _lateness(problem: Problem, spots: Spots) -> int:
    return sum(lateness(due, spots) for due in problem.dues)


def _over_hold(problem: Problem, spots: Spots) -> int:
    return sum(max(0, wait(due, spots) - due.cap) for due in problem.dues if due.cap is not None)


def _hold(problem: Problem, spots: Spots) -> int:
    return sum(wait(due, spots) for due in problem.dues if due.cap is not None)


def _session(problem: Problem, spots: Spots) -> int:
    last = max((due.at for due in problem.dues), default=problem.horizon)
    return last - min(spot.start for spot in spots.values())


def _makespan(_: Problem, spots: Spots) -> int:
    return max(spot.end for spot in spots.values())


def _order(problem: Problem, spots: Spots) -> int:
    early = sum(task.weight * spots[task.id].start for task in problem.tasks)
    waits = sum(lag.close * lag_wait(lag, spots) for lag in problem.lags)
    unwelcome = sum(task.modes[spots[task.id].mode].cost for task in problem.tasks if len(task.modes) > 1)
    return early + waits + unwelcome + sum(lag.soft * excess(lag, spots) for lag in problem.lags)


def _calm(problem: Problem, spots: Spots) -> int:
    return LATE_WEIGHT * _lateness(problem, spots) + _order(problem, spots)


_MEASURES = {
    Goal.LATENESS: _lateness,
    Goal.OVER_HOLD: _over_hold,
    Goal.HOLD: _hold,
    Goal.SESSION: _session,
    Goal.MAKESPAN: _makespan,
    Goal.ORDER: _order,
    Goal.CALM: _calm,
}


def lag_wait(lag: Lag, spots: Spots) -> int:
    """The wait that a lag limits [tick]."""
    return edge(spots, lag.second, lag.to) - edge(spots, lag.first, lag.of)


def excess(lag: Lag, spots: Spots) -> int:
    """By how much a maximum lag is exceeded [tick]."""
    return 0 if lag.high is None else max(0, lag_wait(lag, spots) - lag.high)


def is_taken(problem: Problem, hold: Hold, spots: Spots) -> bool:
    """Whether a hold takes its resource in this schedule: always, or if its way was chosen."""
    lead = hold.tasks[0]
    return not hold.way or problem.task(lead).modes[spots[lead].mode].way == hold.way


def ready(due: Due, spots: Spots) -> int:
    """When everything that is due has ended [tick]."""
    return max(spots[task].end for task in due.tasks)


def lateness(due: Due, spots: Spots) -> int:
    """How long after its due time it is ready [tick]."""
    return max(0, ready(due, spots) - due.at)


def wait(due: Due, spots: Spots) -> int:
    """How long before its due time it is ready [tick]."""
    return max(0, due.at - ready(due, spots))


def edge(spots: Spots, task_id: str, which: Edge) -> int:
    """The start or end of a task [tick]."""
    return spots[task_id].start if which is Edge.START else spots[task_id].end


def keeps_order(problem: Problem, spots: Spots) -> bool:
    """Whether every minimum lag is kept."""
    return all(lag.low is None or lag_wait(lag, spots) >= lag.low for lag in problem.lags)


def keeps_capacities(problem: Problem, spots: Spots) -> bool:
    """Whether no resource is asked for more than there is, at any moment."""
    changes: dict[str, list[tuple[int, int]]] = {resource.name: [] for resource in problem.resources}
    for task in problem.tasks:
        spot = spots[task.id]
        for need in task.modes[spot.mode].needs:
            changes[need.resource] += [(spot.start, need.amount), (spot.end, -need.amount)]
    for hold in problem.holds:
        if is_taken(problem, hold, spots):
            first, last = min(spots[t].start for t in hold.tasks), max(spots[t].end for t in hold.tasks)
            changes[hold.resource] += [(first, hold.amount), (last, -hold.amount)]
    return all(
        max(accumulate(change for _, change in sorted(changes[resource.name])), default=0) <= resource.capacity
        for resource in problem.resources
    )
