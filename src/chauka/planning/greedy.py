"""A first plan at once, as a careful cook makes it: sitting by sitting, the best dish that fits, then buy.

It is always valid, serves as the start of the search and as the answer when there is no time to
search, and is the baseline of the benchmarks.
"""

from __future__ import annotations

import random
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from chauka.planning.model import Choice
from chauka.planning.problem import Cooking, Eating, Problem


class Manner(StrEnum):
    """By what the cook chooses."""

    COST = "least penalty"  # liking, work, money and what saves food from the bin, together
    LIKING = "best liked"
    USE_BY = "use first what goes off first"
    RANDOM = "at random"


@dataclass(slots=True)
class _Draw:
    source: int
    mg: float
    packs: int


class _Kitchen:
    """What is still free while the plan grows."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.minutes = [slot.minutes for slot in problem.slots]
        self.free = {(s, p) for s, slot in enumerate(problem.slots) for p in range(len(slot.places))}
        self.left = [float(s.pack_mg) if s.stock else 0.0 for s in problem.sources]
        self.packs = [0] * len(problem.sources)
        self.money = problem.budget
        self.cooked = {c for c, k in enumerate(problem.cookings) if k.ready is not None}
        self.ready = {c: k.ready for c, k in enumerate(problem.cookings) if k.ready is not None}
        self.servings = defaultdict[int, int](int)
        self.eaten = set[int]()
        self.load = [load.at_most for load in problem.loads]
        self.loads_of = defaultdict[int, list[tuple[int, int]]](list)
        for k, load in enumerate(problem.loads):
            for c, amount in load.uses:
                self.loads_of[c].append((k, amount))
        self.room = [limit.at_most for limit in problem.limits]
        self.limits_of_cooking, self.limits_of_eating = (
            defaultdict[int, list[int]](list),
            defaultdict[int, list[int]](list),
        )
        for k, limit in enumerate(problem.limits):
            for c in limit.cookings:
                self.limits_of_cooking[c].append(k)
            for e in limit.eatings:
                self.limits_of_eating[e].append(k)
        self.sources_of = defaultdict[int, list[int]](list)
        for s in sorted(range(len(problem.sources)), key=lambda s: (problem.sources[s].last, s)):
            for item in problem.sources[s].items:
                self.sources_of[item].append(s)

    def fits(self, e: int) -> bool:
        """Whether an eating breaks no hard rule, its food aside."""
        eating = self.problem.eatings[e]
        c = eating.cooking
        if any((eating.slot, p) not in self.free for p in eating.places) or self._full(self.limits_of_eating[e]):
            return False
        if c in self.cooked:
            return self.minutes[eating.slot] >= eating.minutes and self._can_stretch(eating)
        return self._can_cook(eating) and not self._full(self.limits_of_cooking[c])

    def _full(self, limits: list[int]) -> bool:
        return any(self.room[k] < 1 and self.problem.limits[k].weight is None for k in limits)

    def _can_cook(self, eating: Eating) -> bool:
        cooking = self.problem.cookings[eating.cooking]
        if cooking.slot != eating.slot or self.minutes[eating.slot] < eating.minutes + cooking.minutes:
            return False
        return all(self.load[k] >= amount for k, amount in self.loads_of[eating.cooking])

    def _can_stretch(self, eating: Eating) -> bool:
        cooking = self.problem.cookings[eating.cooking]
        ready = self.ready.get(eating.cooking)
        if ready is not None:
            return ready >= self.problem.portions(eating)
        if self.servings[eating.cooking] >= self.problem.recipes[cooking.recipe].most_servings:
            return False
        return self.minutes[cooking.slot] >= eating.cook_minutes

    def oversteps(self, e: int) -> int:
        """What an eating costs in soft limits [coin]."""
        c = self.problem.eatings[e].cooking
        ks = self.limits_of_eating[e] + ([] if c in self.cooked else self.limits_of_cooking[c])
        return sum(self.problem.limits[k].weight or 0 for k in ks if self.room[k] < 1)

    def draws(self, e: int) -> list[_Draw] | None:
        """Where the food for an eating would come from, first the lot that goes off first; None if it cannot."""
        problem = self.problem
        eating = problem.eatings[e]
        left, packs, money, out = dict[int, float](), dict[int, int](), self.money, list[_Draw]()
        for need in problem.cookings[eating.cooking].needs:
            mg = need.mg * problem.portions(eating) / 100
            living = [
                s
                for s in self.sources_of[need.item]
                if problem.sources[s].first <= need.slot <= problem.sources[s].last
            ]
            for s in living:
                take = min(mg, left.get(s, self.left[s]))
                if take > 0:
                    left[s] = left.get(s, self.left[s]) - take
                    out.append(_Draw(s, take, 0))
                    mg -= take
            while mg > 1e-6:
                s = self._best_offer(living, packs, mg)
                if s is None:
                    return None
                source = problem.sources[s]
                if money is not None:
                    money -= source.price
                    if money < 0:
                        return None
                take = min(mg, source.pack_mg)
                packs[s] = packs.get(s, 0) + 1
                left[s] = left.get(s, self.left[s]) + source.pack_mg - take
                out.append(_Draw(s, take, 1))
                mg -= take
        return out

    def _best_offer(self, living: list[int], packs: dict[int, int], mg: float) -> int | None:
        sources = self.problem.sources
        open_to = [s for s in living if not sources[s].stock and self.packs[s] + packs.get(s, 0) < sources[s].most]
        enough = [s for s in open_to if sources[s].pack_mg >= mg]
        key = (
            (lambda s: (sources[s].price, -sources[s].first))
            if enough
            else (lambda s: (sources[s].price / sources[s].pack_mg, -sources[s].first))
        )
        return min(enough or open_to, key=key, default=None)

    def take(self, e: int, draws: list[_Draw]) -> None:
        """Book an eating."""
        problem = self.problem
        eating = problem.eatings[e]
        c, cooking = eating.cooking, problem.cookings[eating.cooking]
        self.free -= {(eating.slot, p) for p in eating.places}
        self.minutes[eating.slot] -= eating.minutes
        for draw in draws:
            source = problem.sources[draw.source]
            self.packs[draw.source] += draw.packs
            self.left[draw.source] += draw.packs * source.pack_mg - draw.mg
            if self.money is not None:
                self.money -= draw.packs * source.price
        for k in self.limits_of_eating[e]:
            self.room[k] -= 1
        if c in self.ready:
            self.ready[c] = (self.ready[c] or 0) - problem.portions(eating)
        elif c in self.cooked:
            self.minutes[cooking.slot] -= eating.cook_minutes
        else:
            self.cooked.add(c)
            self.minutes[cooking.slot] -= cooking.minutes + (0 if problem.is_fresh(eating) else eating.cook_minutes)
            for k in self.limits_of_cooking[c]:
                self.room[k] -= 1
            for k, amount in self.loads_of[c]:
                self.load[k] -= amount
        self.servings[c] += 1
        self.eaten.add(e)


def greedy(problem: Problem, manner: Manner = Manner.COST, seed: int = 0) -> Choice:
    """The first plan: locked wishes, then each sitting's positions in order."""
    kitchen, dice = _Kitchen(problem), random.Random(seed)  # noqa: S311  (a baseline, not a secret)
    by_slot = defaultdict[int, list[int]](list)
    for e, eating in enumerate(problem.eatings):
        by_slot[eating.slot].append(e)
    wished = {(w.slot, w.recipe): w.weight for w in problem.wishes}
    order = [(slot, place) for slot in range(len(problem.slots)) for place in _places(problem, slot)]
    if problem.wishes:
        for slot in range(len(problem.slots)):
            _keep_wishes(kitchen, by_slot[slot], wished)
    for slot, place in order:
        if (slot, place) in kitchen.free:
            _fill(kitchen, [e for e in by_slot[slot] if place in problem.eatings[e].places], manner, dice)
    return Choice(
        cookings=frozenset(kitchen.cooked),
        eatings=frozenset(kitchen.eaten),
        packs={s: n for s, n in enumerate(kitchen.packs) if n},
    )


def _places(problem: Problem, slot: int) -> Iterator[int]:
    places = problem.slots[slot].places
    return iter(sorted(range(len(places)), key=lambda p: (-places[p].empty, p)))


def _keep_wishes(kitchen: _Kitchen, eatings: list[int], wished: dict[tuple[int, int], int | None]) -> None:
    problem = kitchen.problem
    kept = set[tuple[int, int]]()
    for e in sorted(eatings, key=lambda e: problem.eatings[e].cooking not in kitchen.cooked):
        key = (problem.eatings[e].slot, problem.cookings[problem.eatings[e].cooking].recipe)
        if key in wished and key not in kept and kitchen.fits(e):
            draws = kitchen.draws(e)
            if draws is not None:
                kitchen.take(e, draws)
                kept.add(key)


def _fill(kitchen: _Kitchen, eatings: list[int], manner: Manner, dice: random.Random) -> None:
    best: tuple[float, int, list[_Draw]] | None = None
    for e in eatings:
        if not kitchen.fits(e):
            continue
        draws = kitchen.draws(e)
        if draws is None:
            continue
        score = _score(kitchen, e, draws, manner, dice)
        if best is None or score < best[0]:
            best = (score, e, draws)
    if best and (manner is not Manner.COST or best[0] < 0):
        kitchen.take(best[1], best[2])


def _emptiness(kitchen: _Kitchen, e: int) -> int:
    eating = kitchen.problem.eatings[e]
    return sum(kitchen.problem.slots[eating.slot].places[p].empty for p in eating.places)


def _score(kitchen: _Kitchen, e: int, draws: list[_Draw], manner: Manner, dice: random.Random) -> float:
    problem = kitchen.problem
    eating = problem.eatings[e]
    places = len(eating.places)
    repeats = kitchen.oversteps(e)
    if manner is Manner.RANDOM:
        return dice.random()
    if manner is Manner.LIKING:
        return (eating.liking + repeats) / places
    soonest = min((problem.sources[d.source].last for d in draws), default=len(problem.slots))
    if manner is Manner.USE_BY:
        rescued = sum(_rescued(problem, d) for d in draws)
        return -rescued * 1e6 + soonest * 1e3 + (eating.liking + repeats) / places
    cooking = problem.cookings[eating.cooking]
    minutes = eating.minutes + (0 if eating.cooking in kitchen.cooked else cooking.minutes + cooking.before_minutes)
    bought = sum(d.packs * _burden(problem, d.source) for d in draws)
    rescued = sum(_rescued(problem, d) for d in draws)
    return eating.liking + repeats + problem.minute_cost * minutes + bought - rescued - _emptiness(kitchen, e)


def _burden(problem: Problem, s: int) -> float:
    """What buying a pack costs, beyond what stays worth something."""
    source = problem.sources[s]
    return source.price - source.carry if problem.outlives(source) else source.price


def _rescued(problem: Problem, draw: _Draw) -> float:
    """What the draw saves from the bin [coin]."""
    source = problem.sources[draw.source]
    if problem.outlives(source):
        return -source.carry * draw.mg / source.pack_mg
    return problem.waste_percent / 100 * source.worth * draw.mg / source.pack_mg
