"""What the food of a set of eatings costs, item by item, by a quick rule: no solver.

Items that share a source form one pool; a pool's cost depends only on the eatings that draw from it, so
it is remembered for each set of them. The rule may miss a cheaper purchase, never a needed one.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from chauka.planning.problem import Problem, Source

Demand = tuple[int, int, float]
"""(slot, item, milligrams)"""


@dataclass(frozen=True, slots=True)
class PoolCost:
    """What one pool costs [coin], what of it is spent at the market, and the packs of each source."""

    cost: float
    spent: int
    packs: Mapping[int, int]


class Pools:
    """The pools of a problem, and what each eating draws from each of them."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.pool_of = _join(problem)
        self.sources = defaultdict[int, list[int]](list)
        for s in sorted(range(len(problem.sources)), key=lambda s: (problem.sources[s].last, s)):
            self.sources[self.pool_of[problem.sources[s].items[0]]].append(s)
        self.draws = [self._draws(e) for e in range(len(problem.eatings))]
        self._known = dict[tuple[int, frozenset[int]], PoolCost | None]()

    def _draws(self, e: int) -> dict[int, tuple[Demand, ...]]:
        problem, out = self.problem, defaultdict[int, list[Demand]](list)
        eating = problem.eatings[e]
        for need in problem.cookings[eating.cooking].needs:
            mg = need.mg * problem.portions(eating) / 100
            out[self.pool_of[need.item]].append((need.slot, need.item, mg))
        return {pool: tuple(demands) for pool, demands in out.items()}

    def cost(self, pool: int, eatings: frozenset[int]) -> PoolCost | None:
        """The cost of a pool for the eatings that draw from it; None where it cannot feed them."""
        key = (pool, eatings)
        if key not in self._known:
            self._known[key] = self._work_out(pool, eatings)
        return self._known[key]

    def all_pools(self) -> Iterable[int]:
        """Every pool that has a source."""
        return self.sources.keys()

    def _work_out(self, pool: int, eatings: frozenset[int]) -> PoolCost | None:
        problem = self.problem
        demands = sorted(d for e in eatings for d in self.draws[e][pool])
        left = {s: float(problem.sources[s].pack_mg) if problem.sources[s].stock else 0.0 for s in self.sources[pool]}
        packs = dict[int, int]()
        for k, (slot, item, needed) in enumerate(demands):
            mg = needed
            living = [
                s
                for s in self.sources[pool]
                if problem.sources[s].first <= slot <= problem.sources[s].last and item in problem.sources[s].items
            ]
            for s in living:
                take = min(mg, left[s])
                left[s] -= take
                mg -= take
            while mg > 1.0:
                offer = self._best_offer(living, packs, mg, demands[k + 1 :], left)
                if offer is None:
                    return None
                count = self._count(problem.sources[offer], mg, packs.get(offer, 0))
                packs[offer] = packs.get(offer, 0) + count
                left[offer] += count * problem.sources[offer].pack_mg
                take = min(mg, left[offer])
                left[offer] -= take
                mg -= take
        spent = sum(problem.sources[s].price * n for s, n in packs.items())
        return PoolCost(spent + sum(self._rest(s, left[s]) for s in left), spent, packs)

    @staticmethod
    def _count(source: Source, mg: float, bought: int) -> int:
        return max(1, min(source.most - bought, math.floor(mg / source.pack_mg)))

    def _best_offer(
        self, living: list[int], packs: dict[int, int], mg: float, later: list[Demand], left: dict[int, float]
    ) -> int | None:
        """The offer with the least cost per milligram that is put to use, now or later in its life."""
        best: tuple[float, int] | None = None
        for s in living:
            source = self.problem.sources[s]
            if source.stock or packs.get(s, 0) >= source.most:
                continue
            count = self._count(source, mg, packs.get(s, 0))
            holds = count * source.pack_mg
            useful = mg + sum(m for slot, item, m in later if slot <= source.last and item in source.items)
            useful = max(mg, useful - sum(left[x] for x in living if x != s))
            used = min(holds, useful)
            rate = (count * source.price + self._rest(s, holds - used, stock=False)) / used
            if best is None or rate < best[0]:
                best = (rate, s)
        return best[1] if best else None

    def _rest(self, s: int, left_mg: float, *, stock: bool | None = None) -> float:
        """What a rest costs: waste, or minus what it is still worth (for stock: what was taken out)."""
        source = self.problem.sources[s]
        share = left_mg / source.pack_mg
        if not self.problem.outlives(source):
            return self.problem.waste_percent / 100 * source.worth * share
        in_house = source.stock if stock is None else stock
        return source.carry * ((1 if in_house else 0) - share)


def _join(problem: Problem) -> list[int]:
    """A pool number for each item: items that share a source share it."""
    pool = list(range(len(problem.items)))
    for source in problem.sources:
        low = min(pool[i] for i in source.items)
        for old in {pool[i] for i in source.items}:
            pool = [low if p == old else p for p in pool]
    return pool
