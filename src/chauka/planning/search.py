"""The improver: good plans early, without a proof.

First local search (`local`), then small models for HiGHS: the few dishes of each position that the
linear relaxation likes best, and large-neighbourhood
search: free a part of the best plan, let HiGHS refill it, keep what is better (P. Shaw, "Using
constraint programming and local search methods to solve vehicle routing problems", CP 1998; from
memory). Parts are whole days, one course on all days, or the positions that share a food: those are
where dishes must be chosen together.
"""

from __future__ import annotations

import random
import time
from collections import defaultdict
from collections.abc import Callable

from chauka.planning.highs import Outcome
from chauka.planning.local import anneal
from chauka.planning.model import Choice, Model, Solution
from chauka.planning.problem import Problem

Position = tuple[int, int]

FEW, FEW_SECONDS = (3, 5, 8), 8.0
"""Dishes per position in the first models, and how long each may take [s]."""

PART_SECONDS = 4.0

ANNEAL = ((0.1, 3.0), (0.2, 20.0))
"""Share of the time left that goes to each run of local search, and the most it may take [s]: the first so that
something better is there soon, the second before small models polish what was found."""


class _Improver:
    def __init__(
        self,
        model: Model,
        best: Solution,
        better: Callable[[Solution], None],
        stop: Callable[[], bool],
        left: Callable[[], float],
    ) -> None:
        self.model, self.best, self.better, self.stop, self.left = model, best, better, stop, left
        self.decisions = {*model.v.cook, *model.v.eat}

    def refill(self, free: set[int], seconds: float) -> bool:
        """Solve with only the `free` decisions open, keep what is better; whether the part was solved to its end."""
        lower, upper = list(self.model.lp.lower), list(self.model.lp.upper)
        for column in self.decisions - free:
            lower[column] = upper[column] = round(self.best.columns[column])
        outcome = self.model.lp.solve(
            bounds=(lower, upper),
            start=self.best.columns,
            seconds=min(seconds, self.left()),
            gap=0.002,
            cancel=self.stop,
            options={"mip_allow_restart": False},
        )
        if outcome.values and outcome.value < self.best.value - 0.5:
            self.best = self.model.read(outcome.values)
            self.better(self.best)
        return outcome.optimal

    def take(self, choice: Choice) -> None:
        """Give a choice its best packs and flows, and keep it if it is better."""
        solution = self.model.complete(choice)
        if solution and solution.value < self.best.value - 0.5:
            self.best = solution
            self.better(solution)

    def few_dishes(self, relaxed: Outcome, count: int) -> set[int]:
        """Columns of the `count` dishes that the relaxation likes best in each position, leftovers apart."""
        problem, v = self.model.problem, self.model.v
        ranks = defaultdict[tuple[int, int, bool], list[tuple[float, int]]](list)
        values = relaxed.values or ()
        for k, e in enumerate(problem.eatings):
            rank = relaxed.reduced_costs[v.eat[k]] - 1000 * values[v.eat[k]]
            for p in e.places:
                ranks[e.slot, p, problem.is_fresh(e)].append((rank, k))
        free = {column for column in self.decisions if self.best.columns[column] > 0.5}
        for (_, _, fresh), ranked in ranks.items():
            for _, k in sorted(ranked)[: count if fresh else max(2, count // 2)]:
                free |= {v.eat[k], v.cook[problem.eatings[k].cooking]}
        return free

    def part(self, positions: set[Position], allowed: set[int]) -> set[int]:
        """Columns that fill only these positions, out of those allowed."""
        problem, v, out = self.model.problem, self.model.v, set[int]()
        for k, e in enumerate(problem.eatings):
            if v.eat[k] in allowed and all((e.slot, p) in positions for p in e.places):
                out.add(v.eat[k])
                if problem.recipes[problem.cookings[e.cooking].recipe].ahead:
                    out.add(v.cook[e.cooking])
        return out


def improve(
    model: Model,
    best: Solution,
    *,
    better: Callable[[Solution], None],
    stop: Callable[[], bool],
    left: Callable[[], float],
    seed: int = 1,
) -> None:
    """Improve `best` until `stop`; `better` is told of each better solution, `left` gives the seconds left."""
    improver, dice = _Improver(model, best, better, stop, left), random.Random(seed)  # noqa: S311  (a seeded search)
    for k, (share, most) in enumerate(ANNEAL):
        seconds = min(most, share * left())
        improver.take(anneal(model.problem, improver.best.choice, left=left, seconds=seconds, stop=stop, seed=seed + k))
    relaxed = model.lp.solve(relax=True, cancel=stop)
    if not relaxed.values or stop():
        return
    for count in FEW:
        if stop():
            return
        improver.refill(improver.few_dishes(relaxed, count), min(FEW_SECONDS, 0.4 * left()))
    allowed = improver.few_dishes(relaxed, 2 * FEW[-1])
    kinds, size, k = (_some_days, _some_foods, _some_courses), 1.0, 0
    while not stop():
        positions = kinds[k % len(kinds)](model.problem, improver.best, dice, size)
        began = time.monotonic()
        ended = improver.refill(improver.part(positions, allowed), PART_SECONDS)
        quick = ended and time.monotonic() - began < PART_SECONDS / 4
        size = min(size * 1.15, 5.0) if quick else max(size * 0.85, 0.5) if not ended else size
        k += 1


def _some_days(problem: Problem, _: Solution, dice: random.Random, size: float) -> set[Position]:
    days = sorted({s.day for s in problem.slots})
    count = max(1, round(2 * size))
    first = dice.randrange(max(1, len(days) - count + 1))
    chosen = set(days[first : first + count])
    return {(s, p) for s, slot in enumerate(problem.slots) if slot.day in chosen for p in range(len(slot.places))}


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
