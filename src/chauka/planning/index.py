"""A problem seen from the other side: which rules, places and sources touch which decision."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from chauka.planning.problem import Problem

K = TypeVar("K")
V = TypeVar("V")

Position = tuple[int, int]
"""(slot, place)"""


class Index:
    """Look-ups that the quick searches need.

    `at` eatings by position, `of_cooking` eatings by cooking, `fresh` the eating that is its cooking's
    own, `ready` cookings that are there from the start, `share[e, t]` what an eating adds to a target.
    """

    def __init__(self, problem: Problem) -> None:
        self.ready = frozenset(c for c, k in enumerate(problem.cookings) if k.ready is not None)
        self.ahead = tuple(problem.recipes[k.recipe].ahead for k in problem.cookings)
        self.at = _gather(((e.slot, p), k) for k, e in enumerate(problem.eatings) for p in e.places)
        self.of_cooking = _gather((e.cooking, k) for k, e in enumerate(problem.eatings))
        self.fresh = {e.cooking: k for k, e in enumerate(problem.eatings) if problem.is_fresh(e)}
        self.is_fresh = frozenset(self.fresh.values())
        self.limits_of_cooking = _gather((c, k) for k, limit in enumerate(problem.limits) for c in limit.cookings)
        self.limits_of_eating = _gather((e, k) for k, limit in enumerate(problem.limits) for e in limit.eatings)
        self.loads_of = _gather((c, (k, amount)) for k, load in enumerate(problem.loads) for c, amount in load.uses)
        by_life = sorted(range(len(problem.sources)), key=lambda s: (problem.sources[s].last, s))
        self.sources_of = _gather((item, s) for s in by_life for item in problem.sources[s].items)
        self.share = _shares(problem)
        self.floor = np.array([t.floor for t in problem.targets], dtype=bool)
        self.weight = np.array([100.0 * t.weight for t in problem.targets])

    def occupied(self, problem: Problem, eaten: Iterable[int]) -> dict[Position, int]:
        """Which eating fills each filled position."""
        return {(problem.eatings[e].slot, p): e for e in eaten for p in problem.eatings[e].places}

    def off_targets(self, got: npt.NDArray[np.float64]) -> float:
        """What shares of the targets cost: short of a floor, above a ceiling [coin]."""
        off = np.where(self.floor, 1 - got, got - 1)
        return float(self.weight @ np.maximum(0.0, off))


def _gather(pairs: Iterable[tuple[K, V]]) -> defaultdict[K, list[V]]:
    out = defaultdict[K, list[V]](list)
    for key, value in pairs:
        out[key].append(value)
    return out


def _shares(problem: Problem) -> npt.NDArray[np.float64]:
    out = np.zeros((len(problem.eatings), len(problem.targets)))
    for t, target in enumerate(problem.targets):
        for e, eating in enumerate(problem.eatings):
            if target.eater in problem.slots[eating.slot].eaters:
                recipe = problem.recipes[problem.cookings[eating.cooking].recipe]
                out[e, t] = recipe.nutrients[target.nutrient] * target.portion / 100 / target.amount
    return out
