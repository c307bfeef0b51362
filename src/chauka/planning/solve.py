"""The search: a first plan at once, then better ones until the time is up, with the bound that proves them."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass

from chauka.errors import SolverError
from chauka.planning.greedy import Manner, greedy
from chauka.planning.highs import Cancel, Progress
from chauka.planning.model import Choice, Model, Solution
from chauka.planning.problem import Problem

Clock = Callable[[], float]


@dataclass(frozen=True, slots=True)
class Result:
    """The best solution, the proven bound under it, the seconds it took and how the search ended."""

    solution: Solution
    bound: float
    seconds: float
    first_seconds: float
    status: str


def solve(
    problem: Problem,
    *,
    seconds: float = 20.0,
    gap: float = 0.001,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    start: Choice | None = None,
) -> Result:
    """Search for at most `seconds`; whatever happens, the best plan so far comes back."""
    began = time.monotonic()
    model = Model(problem)
    best = first_plan(model, start)
    first_seconds = time.monotonic() - began
    if progress:
        progress(first_seconds, best.value, 0.0)
    return _branch_and_bound(model, best, began, first_seconds, seconds, gap, progress, cancel)


def first_plan(model: Model, start: Choice | None = None) -> Solution:
    """The best of the quick plans (and of the one given), with its flows."""
    choices = [greedy(model.problem, manner) for manner in (Manner.COST, Manner.USE_BY)]
    tried = [model.complete(choice) for choice in [*choices, *([start] if start else [])]]
    good = [solution for solution in tried if solution]
    if not good:
        raise SolverError("no first plan could be built; a locked serving may be impossible")
    return min(good, key=lambda s: s.value)


def _branch_and_bound(model, best, began, first_seconds, seconds, gap, progress, cancel) -> Result:
    outcome = model.lp.solve(
        seconds=seconds - (time.monotonic() - began), gap=gap, start=best.columns, progress=progress, cancel=cancel
    )
    solution = best
    if outcome.values and outcome.value < best.value - 1e-6:
        solution = model.read(outcome.values)
    return Result(solution, min(outcome.bound, solution.value), time.monotonic() - began, first_seconds, outcome.status)
