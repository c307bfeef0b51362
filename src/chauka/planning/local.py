"""Local search: exchange dishes one or two at a time, and keep what makes the week better.

Simulated annealing over whole plans (S. Kirkpatrick, C. D. Gelatt, M. P. Vecchi, "Optimization by
simulated annealing", Science 220, 1983, 671–680; from memory). Every plan it looks at keeps all hard
rules. It needs no solver, so that a good plan is there within seconds on a slow machine too.
"""

from __future__ import annotations

import math
import random
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from chauka.planning.index import Index
from chauka.planning.model import Choice
from chauka.planning.moves import Draft, Moves
from chauka.planning.pools import PoolCost, Pools
from chauka.planning.problem import Problem

HOT, COLD = 4000.0, 80.0
"""First and last temperature [coin]: about the price of a disliked dish, and of a minute's work."""


@dataclass(slots=True)
class _Change:
    """What a change of eatings does to the running totals; kept apart until it is accepted."""

    eaten: set[int]
    value: float
    minutes: dict[int, int]
    servings: dict[int, int]
    portions: dict[int, int]
    loads: dict[int, int]
    counts: dict[int, int]
    pools: dict[int, tuple[frozenset[int], PoolCost]]
    spent: int
    own: float
    food: float
    over: float
    got: npt.NDArray[np.float64]


class LocalPlan:
    """A plan as a set of eatings, with its value and every total of the hard rules kept up to date."""

    def __init__(self, problem: Problem, choice: Choice) -> None:
        self.problem, self.pools = problem, Pools(problem)
        self.index = Index(problem)
        self.eaten = set[int]()
        self.minutes = {s: slot.minutes for s, slot in enumerate(problem.slots)}
        self.servings, self.portions = defaultdict[int, int](int), defaultdict[int, int](int)
        self.load = {k: load.at_most for k, load in enumerate(problem.loads)}
        self.count = dict.fromkeys(range(len(problem.limits)), 0)
        self.drawing = {p: frozenset[int]() for p in range(len(problem.items))}
        costs = [self.pools.cost(p, frozenset()) for p in self.pools.all_pools()]
        self.food = sum(c.cost for c in costs if c)
        self.spent, self.over, self.got = 0, 0.0, np.zeros(len(problem.targets))
        self.own = float(sum(place.empty for slot in problem.slots for place in slot.places))
        self.own += sum(problem.waste_percent / 100 * problem.cookings[c].worth for c in self.index.ready)
        self.value = math.inf
        change = self.change(set(choice.eatings))
        if change:
            self.accept(change)

    def change(self, eaten: set[int]) -> _Change | None:
        """What the plan would be with these eatings; None where a hard rule breaks."""
        gone, come = self.eaten - eaten, eaten - self.eaten
        out = _Change(eaten, 0.0, {}, {}, {}, {}, {}, {}, self.spent, self.own, self.food, self.over, self.got)
        for e in gone:
            self._book_eating(out, e, -1)
        for e in come:
            self._book_eating(out, e, 1)
        if not (self._book_cookings(out) and self._keeps_rules(out) and self._feeds(out, gone, come)):
            return None
        if gone:
            out.got = out.got - self.index.share[sorted(gone)].sum(axis=0)
        if come:
            out.got = out.got + self.index.share[sorted(come)].sum(axis=0)
        soft = self._wanted(out)
        if soft is None:
            return None
        out.value = out.own + out.food + out.over + soft + self.index.off_targets(out.got)
        return out

    def accept(self, change: _Change) -> None:
        """Make a change true."""
        self.eaten, self.value = change.eaten, change.value
        self.minutes.update(change.minutes)
        self.servings.update(change.servings)
        self.portions.update(change.portions)
        self.load.update(change.loads)
        self.count.update(change.counts)
        self.drawing.update({pool: eatings for pool, (eatings, _) in change.pools.items()})
        self.spent, self.own, self.food = change.spent, change.own, change.food
        self.over, self.got = change.over, change.got

    def _book_eating(self, out: _Change, e: int, sign: int) -> None:
        problem = self.problem
        eating = problem.eatings[e]
        c, slot = eating.cooking, eating.slot
        out.own += sign * (eating.liking + problem.minute_cost * (eating.minutes + eating.cook_minutes))
        out.own -= sign * sum(problem.slots[slot].places[p].empty for p in eating.places)
        out.minutes[slot] = out.minutes.get(slot, self.minutes[slot]) - sign * eating.minutes
        if eating.cook_minutes:
            at = problem.cookings[c].slot
            out.minutes[at] = out.minutes.get(at, self.minutes[at]) - sign * eating.cook_minutes
        out.servings[c] = out.servings.get(c, self.servings[c]) + sign
        out.portions[c] = out.portions.get(c, self.portions[c]) + sign * problem.portions(eating)
        for k in self.index.limits_of_eating[e]:
            out.counts[k] = out.counts.get(k, self.count[k]) + sign

    def _book_cookings(self, out: _Change) -> bool:
        """Cookings that begin or end with the change; whether each may feed what it feeds."""
        problem = self.problem
        for c, servings in out.servings.items():
            cooking, before = problem.cookings[c], self.servings[c]
            if cooking.ready is not None:
                if out.portions[c] > cooking.ready:
                    return False
                waste = problem.waste_percent / 100 * cooking.worth / cooking.ready
                out.own -= waste * (out.portions[c] - self.portions[c])
                continue
            if servings > problem.recipes[cooking.recipe].most_servings:
                return False
            if servings and not self.index.ahead[c] and self.index.fresh[c] not in out.eaten:
                return False
            sign = (servings > 0) - (before > 0)
            if sign:
                out.own += sign * problem.minute_cost * (cooking.minutes + cooking.before_minutes)
                out.minutes[cooking.slot] = (
                    out.minutes.get(cooking.slot, self.minutes[cooking.slot]) - sign * cooking.minutes
                )
                for k, amount in self.index.loads_of[c]:
                    out.loads[k] = out.loads.get(k, self.load[k]) - sign * amount
                for k in self.index.limits_of_cooking[c]:
                    out.counts[k] = out.counts.get(k, self.count[k]) + sign
        return True

    def _keeps_rules(self, out: _Change) -> bool:
        if any(m < 0 for m in out.minutes.values()) or any(x < 0 for x in out.loads.values()):
            return False
        for k, count in out.counts.items():
            limit = self.problem.limits[k]
            if limit.weight is None:
                if count > limit.at_most:
                    return False
            else:
                now, was = max(0, count - limit.at_most), max(0, self.count[k] - limit.at_most)
                out.over += (now - was) * limit.weight
        return True

    def _feeds(self, out: _Change, gone: set[int], come: set[int]) -> bool:
        touched = {pool for e in (*gone, *come) for pool in self.pools.draws[e]}
        for pool in touched:
            before = self.drawing[pool]
            after = before - gone | {e for e in come if pool in self.pools.draws[e]}
            cost, was = self.pools.cost(pool, after), self.pools.cost(pool, before)
            if cost is None or was is None:
                return False
            out.pools[pool] = (after, cost)
            out.food += cost.cost - was.cost
            out.spent += cost.spent - was.spent
        return self.problem.budget is None or out.spent <= self.problem.budget

    def _wanted(self, out: _Change) -> float | None:
        """Variety not reached and wishes not met [coin]; None where a locked wish is not met."""
        problem, total = self.problem, 0.0
        if problem.among:
            cooked = {problem.eatings[e].cooking for e in out.eaten}
            for among in problem.among:
                touched = sum(not cooked.isdisjoint(group) for group in among.groups)
                total += among.weight * max(0, among.at_least - touched)
        if problem.wishes:
            met = {(problem.eatings[e].slot, problem.cookings[problem.eatings[e].cooking].recipe) for e in out.eaten}
            for wish in problem.wishes:
                if not any((wish.slot, r) in met for r in wish.recipes):
                    if wish.weight is None:
                        return None
                    total += wish.weight
        return total

    def choice(self) -> Choice:
        """The plan as a choice, with the packs of the quick rule."""
        packs = dict[int, int]()
        for pool, eatings in self.drawing.items():
            cost = self.pools.cost(pool, eatings) if eatings else None
            packs.update(cost.packs if cost else {})
        cooked = {self.problem.eatings[e].cooking for e in self.eaten}
        return Choice(frozenset(cooked | self.index.ready), frozenset(self.eaten), packs)


def anneal(
    problem: Problem,
    start: Choice,
    *,
    left: Callable[[], float],
    seconds: float,
    stop: Callable[[], bool],
    seed: int = 1,
) -> Choice:
    """Search from `start` for `seconds`; the best plan found, `start` itself where nothing is better."""
    plan, dice = LocalPlan(problem, start), random.Random(seed)  # noqa: S311  (a seeded search)
    moves, best, best_value = Moves(problem, plan.index, plan.pools, dice), set(plan.eaten), plan.value
    here = plan.index.occupied(problem, plan.eaten)
    until = left() - min(seconds, left())
    whole, k = max(1e-9, left() - until), 0
    while True:
        if k % 20 == 0:
            done = 1 - (left() - until) / whole
            heat = HOT * (COLD / HOT) ** min(1.0, max(0.0, done))
            if done >= 1 or stop():
                break
        k += 1
        draft = Draft(problem, plan.index, plan.eaten, here)
        change = plan.change(draft.eaten) if moves.propose(draft) else None
        if change and (change.value <= plan.value or dice.random() < math.exp((plan.value - change.value) / heat)):
            plan.accept(change)
            here = draft.here
            if change.value < best_value - 0.5:
                best, best_value = set(change.eaten), change.value
    return LocalPlan(problem, Choice(frozenset(), frozenset(best), {})).choice()
