"""What is still free while a plan grows dish by dish: positions, minutes, food, money."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from chauka.planning.index import Index
from chauka.planning.problem import Eating, Problem, Term


@dataclass(slots=True)
class Draw:
    """So much taken from a source, after buying so many packs of it."""

    source: int
    mg: float
    packs: int


class State:
    """What is still free while the plan grows."""

    def __init__(self, problem: Problem, index: Index) -> None:
        self.problem, self.index = problem, index
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
        self.room = [limit.at_most for limit in problem.limits]
        self.cheapest = self._cheapest_minutes()
        self.got = np.zeros(len(problem.targets))
        self.off = index.off_targets(self.got)

    def _cheapest_minutes(self) -> list[dict[int, int]]:
        """The least minutes with which each required position of each slot can be filled."""
        out = [dict[int, int]() for _ in self.problem.slots]
        for eating in self.problem.eatings:
            cooking = self.problem.cookings[eating.cooking]
            minutes = cooking.minutes if eating.slot == cooking.slot else eating.minutes
            for p in eating.places:
                if self.problem.slots[eating.slot].places[p].term is Term.MISSED:
                    share = minutes // len(eating.places)
                    out[eating.slot][p] = min(out[eating.slot].get(p, share), share)
        return out

    def leaves_time(self, e: int) -> bool:
        """Whether the other required positions of the slot can still be filled afterwards."""
        eating = self.problem.eatings[e]
        cooking = self.problem.cookings[eating.cooking]
        own = eating.minutes + (cooking.minutes if eating.cooking not in self.cooked else 0)
        rest = sum(
            minutes
            for p, minutes in self.cheapest[eating.slot].items()
            if (eating.slot, p) in self.free and p not in eating.places
        )
        return self.minutes[eating.slot] >= own + rest

    def nourishes(self, e: int) -> float:
        """What an eating takes off the shortfalls, less what it adds above the ceilings [coin]."""
        return self.off - self.index.off_targets(self.got + self.index.share[e])

    def fits(self, e: int) -> bool:
        """Whether an eating breaks no hard rule, its food aside."""
        eating = self.problem.eatings[e]
        c = eating.cooking
        if any((eating.slot, p) not in self.free for p in eating.places) or self._full(self.index.limits_of_eating[e]):
            return False
        if c in self.cooked:
            return self.minutes[eating.slot] >= eating.minutes and self._can_stretch(eating)
        return self._can_cook(eating) and not self._full(self.index.limits_of_cooking[c])

    def _full(self, limits: list[int]) -> bool:
        return any(self.room[k] < 1 and self.problem.limits[k].weight is None for k in limits)

    def _can_cook(self, eating: Eating) -> bool:
        cooking = self.problem.cookings[eating.cooking]
        if cooking.slot != eating.slot or self.minutes[eating.slot] < eating.minutes + cooking.minutes:
            return False
        return all(self.load[k] >= amount for k, amount in self.index.loads_of[eating.cooking])

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
        ks = self.index.limits_of_eating[e] + ([] if c in self.cooked else self.index.limits_of_cooking[c])
        return sum(self.problem.limits[k].weight or 0 for k in ks if self.room[k] < 1)

    def draws(self, e: int) -> list[Draw] | None:
        """Where the food for an eating would come from, first the lot that goes off first; None if it cannot."""
        problem = self.problem
        eating = problem.eatings[e]
        left, packs, out = dict[int, float](), dict[int, int](), list[Draw]()
        for need in problem.cookings[eating.cooking].needs:
            wanted = need.mg * problem.portions(eating) / 100
            living = self.index.living[need.item, need.slot]
            for s in living:
                take = min(wanted, left.get(s, self.left[s]))
                if take > 0:
                    left[s] = left.get(s, self.left[s]) - take
                    out.append(Draw(s, take, 0))
                    wanted -= take
            while wanted > 1e-6:
                offer = self._best_offer(living, packs, wanted)
                if offer is None:
                    return None
                take = min(wanted, problem.sources[offer].pack_mg)
                packs[offer] = packs.get(offer, 0) + 1
                left[offer] = left.get(offer, self.left[offer]) + problem.sources[offer].pack_mg - take
                out.append(Draw(offer, take, 1))
                wanted -= take
        spent = sum(problem.sources[s].price * n for s, n in packs.items())
        return out if self.money is None or spent <= self.money else None

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

    def take(self, e: int, draws: list[Draw]) -> None:
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
        for k in self.index.limits_of_eating[e]:
            self.room[k] -= 1
        if c in self.ready:
            self.ready[c] = (self.ready[c] or 0) - problem.portions(eating)
        elif c in self.cooked:
            self.minutes[cooking.slot] -= eating.cook_minutes
        else:
            self.cooked.add(c)
            self.minutes[cooking.slot] -= cooking.minutes + (0 if problem.is_fresh(eating) else eating.cook_minutes)
            for k in self.index.limits_of_cooking[c]:
                self.room[k] -= 1
            for k, amount in self.index.loads_of[c]:
                self.load[k] -= amount
        self.servings[c] += 1
        self.eaten.add(e)
        self.got += self.index.share[e]
        self.off = self.index.off_targets(self.got)
