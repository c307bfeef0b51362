"""Large-neighbourhood search: free a part of the best plan, let HiGHS refill it, keep what is better.

P. Shaw, "Using constraint programming and local search methods to solve vehicle routing problems",
CP 1998 (the idea; from memory). Parts are whole days, one course on all days, or the positions that
share a food: those are where dishes must be chosen together.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable

from chauka.planning.model import Model, Solution
from chauka.planning.problem import Problem

Position = tuple[int, int]
Better = Callable[[Solution], None]


def improve(
    model: Model,
    best: Solution,
    *,
    until: float,
    rounds: int,
    seed: int = 1,
    stop: Callable[[float], bool] = lambda _: False,
    better: Better = lambda _: None,
) -> Solution:
    """Improve `best` for at most `rounds` rounds, or until the monotonic clock shows `until`.

    `stop` is asked with the best value after each round; `better` is told of each improvement.
    """
    dice = random.Random(seed)  # noqa: S311  (a seeded search, not a secret)
    size, idle = 1.0, 0
    kinds = [_some_days, _some_foods, _some_courses, _some_days, _some_foods]
    for k in range(rounds):
        left = until - time.monotonic()
        if left < 0.05 or stop(best.value):
            break
        free = kinds[k % len(kinds)](model.problem, best, dice, size)
        outcome_seconds = time.monotonic()
        found, proven = _refill(model, best, free, seconds=min(left, 2.0))
        took = time.monotonic() - outcome_seconds
        if proven and took < 0.5:
            size = min(size * 1.1, 4.0)
        elif not proven:
            size = max(size * 0.85, 0.5)
        if found:
            best, idle = found, 0
            better(best)
        else:
            idle += 1
    return best


def _refill(model: Model, best: Solution, free: set[Position], seconds: float) -> tuple[Solution | None, bool]:
    lower, upper = list(model.lp.lower), list(model.lp.upper)
    for column in _decisions(model) - _free_columns(model, free):
        lower[column] = upper[column] = round(best.columns[column])
    outcome = model.lp.solve(
        bounds=(lower, upper), start=best.columns, seconds=seconds, gap=0.002, nodes=2000,
        options={"mip_heuristic_effort": 0.0, "mip_allow_restart": False},
    )  # fmt: skip
    if outcome.values and outcome.value < best.value - 0.5:
        return model.read(outcome.values), outcome.optimal
    return None, outcome.optimal


def _decisions(model: Model) -> set[int]:
    return {*model.v.cook, *model.v.eat}


def _free_columns(model: Model, free: set[Position]) -> set[int]:
    problem, out = model.problem, set[int]()
    for k, e in enumerate(problem.eatings):
        if all((e.slot, p) in free for p in e.places):
            out.add(model.v.eat[k])
            cooking = problem.cookings[e.cooking]
            if problem.recipes[cooking.recipe].ahead and cooking.ready is None:
                out.add(model.v.cook[e.cooking])
    return out


def _some_days(problem: Problem, _: Solution, dice: random.Random, size: float) -> set[Position]:
    days = sorted({s.day for s in problem.slots})
    count = max(1, round(2 * size))
    first = dice.randrange(max(1, len(days) - count + 1))
    chosen = set(days[first : first + count])
    return {(s, p) for s, slot in enumerate(problem.slots) if slot.day in chosen for p in range(len(slot.places))}


def _some_courses(problem: Problem, _: Solution, dice: random.Random, size: float) -> set[Position]:
    names = sorted({p.name for s in problem.slots for p in s.places})
    chosen = set(dice.sample(names, min(len(names), max(1, round(size)))))
    return {
        (s, p) for s, slot in enumerate(problem.slots) for p, place in enumerate(slot.places) if place.name in chosen
    }


def _some_foods(problem: Problem, best: Solution, dice: random.Random, size: float) -> set[Position]:
    positions: dict[Position, set[int]] = {}
    for e in sorted(best.choice.eatings):
        eating = problem.eatings[e]
        items = {need.item for need in problem.cookings[eating.cooking].needs}
        for p in eating.places:
            positions[eating.slot, p] = items
    wasteful = [
        i
        for s, left in enumerate(best.left_mg)
        if left > 1 and not problem.outlives(problem.sources[s])
        for i in problem.sources[s].items
    ]
    used = sorted({i for items in positions.values() for i in items})
    if not used:
        return set()
    chosen = {dice.choice(wasteful or used), *dice.sample(used, min(len(used), max(1, round(2 * size))))}
    free = {key for key, items in positions.items() if items & chosen} | set(best.empty)
    most = max(4, round(10 * size))
    return set(dice.sample(sorted(free), min(len(free), most))) | set(best.empty)
