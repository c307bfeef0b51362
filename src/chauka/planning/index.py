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


class Index:
    """Look-ups that a plan needs while it grows; `share[e, t]` is what an eating adds to a target."""

    def __init__(self, problem: Problem) -> None:
        self.limits_of_cooking = _gather((c, k) for k, limit in enumerate(problem.limits) for c in limit.cookings)
        self.limits_of_eating = _gather((e, k) for k, limit in enumerate(problem.limits) for e in limit.eatings)
        self.loads_of = _gather((c, (k, amount)) for k, load in enumerate(problem.loads) for c, amount in load.uses)
        self.living = _living(problem)
        self.share = _shares(problem)
        self.floor = np.array([t.floor for t in problem.targets], dtype=bool)
        self.weight = np.array([100.0 * t.weight for t in problem.targets])

    def off_targets(self, got: npt.NDArray[np.float64]) -> float:
        """What shares of the targets cost: short of a floor, above a ceiling [coin]."""
        off = np.where(self.floor, 1 - got, got - 1)
        return float(self.weight @ np.maximum(0.0, off))


def _living(problem: Problem) -> dict[tuple[int, int], list[int]]:
    """Sources by (item, slot) in which they live, what goes off first first."""
    by_life = sorted(range(len(problem.sources)), key=lambda s: (problem.sources[s].last, s))
    sources_of = _gather((item, s) for s in by_life for item in problem.sources[s].items)
    drawn = {(need.item, need.slot) for c in problem.cookings for need in c.needs}
    return {
        (item, slot): [s for s in sources_of[item] if problem.sources[s].first <= slot <= problem.sources[s].last]
        for item, slot in drawn
    }


def _gather(pairs: Iterable[tuple[K, V]]) -> defaultdict[K, list[V]]:
    out = defaultdict[K, list[V]](list)
    for key, value in pairs:
        out[key].append(value)
    return out


def _shares(problem: Problem) -> npt.NDArray[np.float64]:
    recipe = np.array([problem.cookings[e.cooking].recipe for e in problem.eatings], dtype=np.intp)
    slot = np.array([e.slot for e in problem.eatings], dtype=np.intp)
    content = np.array([r.nutrients for r in problem.recipes], dtype=float).reshape(len(problem.recipes), -1)
    out = np.zeros((len(problem.eatings), len(problem.targets)))
    for t, target in enumerate(problem.targets):
        per_portion = content[:, target.nutrient] * (target.portion / 100 / target.amount)
        here = np.array([target.eater in s.eaters for s in problem.slots])
        out[:, t] = per_portion[recipe] * here[slot]
    return out
