"""The improver: good plans early, without a proof.

Everything it does is one step: open some decisions of the best plan, let HiGHS fill them anew, keep
what is better (large-neighbourhood search: P. Shaw, "Using constraint programming and local search
methods to solve vehicle routing problems", CP 1998; from memory). First the decisions that the linear
relaxation takes or nearly takes (E. Danna, E. Rothberg, C. Le Pape, "Exploring relaxation induced
neighborhoods to improve MIP solutions", Mathematical Programming 102(1), 2005; from memory), then day
by day, then whatever the dice say: days, courses, or the positions that share a food, because those
are where dishes must be chosen together.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable

from chauka.planning.highs import Outcome
from chauka.planning.model import Model, Solution
from chauka.planning.problem import Problem

Position = tuple[int, int]

NEAR = (1.0, 40.0, 150.0)
"""Reduced cost of the decisions that are opened in the first steps [coin]."""

NEAR_SHARE, NEAR_SECONDS = 0.35, 20.0
"""Share of the time left that one of the first steps may take, and the most [s]."""

WINDOW_DAYS, OVERLAP_DAYS = 7, 2
"""A longer plan is opened in windows of so many days, each beginning before the last one ends."""

ALLOWED = 1500.0
"""Reduced cost of the decisions that later steps may open [coin]."""

PART_SECONDS, PART_GAP = 4.0, 0.002
EPS, HALF = 1e-3, 0.5

GLANCES, GLANCE_SECONDS = 20, 0.05
"""How often, and after how long, to look whether the relaxation is there before anything else is done [s]."""


class _Improver:
    def __init__(
        self,
        model: Model,
        best: Callable[[], Solution],
        better: Callable[[Solution], None],
        stop: Callable[[], bool],
        left: Callable[[], float],
    ) -> None:
        self.model, self.best, self.better, self.stop, self.left = model, best, better, stop, left
        self.decisions = {*model.v.cook, *model.v.eat}
        self.days = sorted({s.day for s in model.problem.slots})

    def refill(self, free: set[int], seconds: float) -> bool:
        """Solve with only the `free` decisions open; whether the part was solved to its end."""
        best, lower, upper = self.best(), list(self.model.lp.lower), list(self.model.lp.upper)
        for column in self.decisions - free:
            lower[column] = upper[column] = round(best.columns[column])
        outcome = self.model.lp.solve(
            bounds=(lower, upper),
            start=best.columns,
            seconds=min(seconds, self.left()),
            gap=PART_GAP,
            cancel=self.stop,
            found=lambda values: self.better(self.model.read(values)),
            options={"mip_allow_restart": False},
        )
        return outcome.optimal

    def near(self, relaxed: Outcome, coins: float) -> set[int]:
        """Columns that the relaxation would take for at most so many coins, and those of the best plan."""
        best, values, costs = self.best().columns, relaxed.values or (), relaxed.reduced_costs
        return {c for c in self.decisions if values[c] > EPS or costs[c] < coins or best[c] > HALF}

    def part(self, positions: set[Position], allowed: set[int]) -> set[int]:
        """Columns that fill only these positions, out of those allowed."""
        problem, v, out = self.model.problem, self.model.v, set[int]()
        for k, e in enumerate(problem.eatings):
            if v.eat[k] in allowed and all((e.slot, p) in positions for p in e.places):
                out.add(v.eat[k])
                if problem.recipes[problem.cookings[e.cooking].recipe].ahead:
                    out.add(v.cook[e.cooking])
        return out

    def sweep(self, allowed: set[int], width: int, seconds: Callable[[], float], stop: Callable[[], bool]) -> None:
        """Windows of `width` days in order, each filled anew."""
        for window in _windows(self.days, width):
            if stop():
                return
            self.refill(self.part(_of_days(self.model.problem, window), allowed), seconds())

    def parts(self, relaxed: Outcome, dice: random.Random) -> None:
        """Parts by the dice, larger while they are solved quickly and smaller when they are not."""
        kinds, sizes, k = (_some_days, _some_foods, _some_courses), [1.0, 1.0, 1.0], 0
        while not self.stop():
            positions = kinds[k](self.model.problem, self.best(), dice, sizes[k])
            began = time.monotonic()
            ended = self.refill(self.part(positions, self.near(relaxed, ALLOWED)), PART_SECONDS)
            if not ended:
                sizes[k] = max(0.85 * sizes[k], 0.5)
            elif time.monotonic() - began < PART_SECONDS / 4:
                sizes[k] = min(1.15 * sizes[k], 5.0)
            k = (k + 1) % len(kinds)


def improve(
    model: Model,
    *,
    best: Callable[[], Solution],
    better: Callable[[Solution], None],
    stop: Callable[[], bool],
    left: Callable[[], float],
    relaxed: Callable[[], Outcome | None],
    seed: int = 1,
) -> None:
    """Improve the `best` plan until `stop`.

    `better` is told of each better solution, `left` gives the seconds left, `relaxed` the solution of the
    linear relaxation once it is there; until then the days are filled anew from all dishes.
    """
    improver = _Improver(model, best, better, stop, left)
    for _ in range(GLANCES):
        if relaxed() or stop():
            break
        time.sleep(GLANCE_SECONDS)
    while not (relaxed() or stop()):
        improver.sweep(improver.decisions, 1, lambda: PART_SECONDS, lambda: bool(relaxed() or stop()))
    outcome = relaxed()
    if not (outcome and outcome.values):
        return
    improver.sweep(improver.near(outcome, ALLOWED), 1, lambda: PART_SECONDS, stop)
    for coins in NEAR:
        improver.sweep(improver.near(outcome, coins), WINDOW_DAYS, lambda: min(NEAR_SECONDS, NEAR_SHARE * left()), stop)
        improver.sweep(improver.near(outcome, ALLOWED), 1, lambda: PART_SECONDS, stop)
    improver.parts(outcome, random.Random(seed))  # noqa: S311  (a seeded search)


def _windows(days: list[int], width: int) -> list[set[int]]:
    step = max(1, width - OVERLAP_DAYS)
    firsts = [*range(0, max(1, len(days) - width), step), max(0, len(days) - width)]
    return [set(days[k : k + width]) for k in sorted(set(firsts))]


def _of_days(problem: Problem, days: set[int]) -> set[Position]:
    return {(s, p) for s, slot in enumerate(problem.slots) if slot.day in days for p in range(len(slot.places))}


def _some_days(problem: Problem, _: Solution, dice: random.Random, size: float) -> set[Position]:
    days = sorted({s.day for s in problem.slots})
    count = max(1, round(2 * size))
    first = dice.randrange(max(1, len(days) - count + 1))
    return _of_days(problem, set(days[first : first + count]))


def _some_courses(problem: Problem, _: Solution, dice: random.Random, size: float) -> set[Position]:
    names = sorted({p.name for s in problem.slots for p in s.places})
    chosen = set(dice.sample(names, min(len(names), max(1, round(size)))))
    return {(s, p) for s, slot in enumerate(problem.slots) for p, x in enumerate(slot.places) if x.name in chosen}


def _some_foods(problem: Problem, best: Solution, dice: random.Random, size: float) -> set[Position]:
    positions = dict[Position, set[int]]()
    for e in sorted(best.choice.eatings):
        eating = problem.eatings[e]
        items = {need.item for need in problem.cookings[eating.cooking].needs}
        positions.update(dict.fromkeys(((eating.slot, p) for p in eating.places), items))
    used = sorted(set().union(*positions.values())) if positions else []
    chosen = set(dice.sample(used, min(len(used), max(1, round(2 * size)))))
    touched = sorted(key for key, items in positions.items() if items & chosen)
    most = max(4, round(10 * size))
    return {*dice.sample(touched, min(len(touched), most)), *best.empty}
