"""What each goal comes to in a given schedule, counted in plain Python."""

from __future__ import annotations

from collections.abc import Mapping

from chauka.scheduling.problem import Due, Edge, Goal, Lag, Problem
from chauka.scheduling.schedule import Spot

Spots = Mapping[str, Spot]


def measured(problem: Problem, spots: Spots, goal: Goal) -> int:
    """The goal's value [tick] in this schedule."""
    hot = [due for due in problem.dues if due.cap is not None]
    match goal:
        case Goal.LATENESS:
            return sum(lateness(due, spots) for due in problem.dues)
        case Goal.OVER_HOLD:
            return sum(max(0, wait(due, spots) - (due.cap or 0)) for due in hot)
        case Goal.HOLD:
            return sum(wait(due, spots) for due in hot)
        case Goal.SESSION:
            last = max((due.at for due in problem.dues), default=problem.horizon)
            return last - min(spot.start for spot in spots.values())
        case Goal.MAKESPAN:
            return max(spot.end for spot in spots.values())
        case Goal.ORDER:
            early = sum(task.weight * spots[task.id].start for task in problem.tasks)
            waits = sum(lag.close * lag_wait(lag, spots) for lag in problem.lags)
            return early + waits + sum(lag.soft * excess(lag, spots) for lag in problem.lags)


def lag_wait(lag: Lag, spots: Spots) -> int:
    """The wait that a lag limits [tick]."""
    return edge(spots, lag.second, lag.to) - edge(spots, lag.first, lag.of)


def excess(lag: Lag, spots: Spots) -> int:
    """By how much a maximum lag is exceeded [tick]."""
    return 0 if lag.high is None else max(0, lag_wait(lag, spots) - lag.high)


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
