"""How a run sheet fares on evenings that go slower or faster than planned: seeded simulation."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from chauka.scheduling.jobs import KitchenProblem
from chauka.scheduling.problem import Edge, Problem
from chauka.scheduling.schedule import Spot
from chauka.scheduling.slack import Arc, arcs, shortest
from chauka.scheduling.times import TICKS_PER_MIN, is_wait

_TOLERATED_TICKS = 2
"""A maximum wait exceeded by no more than a minute is not counted as broken."""

Ticks = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Evenings:
    """What came of it: lateness of the last dish at the 95th percentile, and so on [min, share, count]."""

    count: int
    p95_late_min: float
    on_time_share: float
    broken_lags: float
    hot_hold_min: float


def evenings(
    sheet: KitchenProblem,
    spots: Mapping[str, Spot],
    *,
    pad: float = 0.0,
    spread: float = 0.2,
    count: int = 1000,
    seed: int = 0,
) -> Evenings:
    """`count` evenings by this sheet, each active step lognormal about its unpadded time.

    `spread` is the coefficient of variation (0.2 is an assumption, not a measurement); waits are
    exact. The simulated cook starts nothing before its planned minute and keeps the planned order;
    nothing is planned anew. With `spread` 0 and `pad` 0 the plan itself comes out.
    """
    chance = np.random.default_rng(seed)
    takes = shortest(sheet.problem, spots)
    before: dict[str, list[Arc]] = defaultdict(list)
    for arc in arcs(sheet.problem, spots):
        before[arc.second].append(arc)
    starts: dict[str, Ticks] = {}
    ends: dict[str, Ticks] = {}
    sigma = float(np.sqrt(np.log1p(spread**2)))
    for task in sorted(spots, key=lambda t: (spots[t].start, spots[t].end)):
        job = sheet.jobs[task]
        noise = chance.lognormal(-(sigma**2) / 2, sigma, count) if spread else np.ones(count)
        exact = is_wait(job.step) and not job.wash
        lasts = np.full(count, float(takes[task])) if exact else takes[task] / (1 + pad) * noise
        begin = np.full(count, float(spots[task].start))
        for arc in before[task]:
            if arc.first in ends:
                begin = np.maximum(begin, ends[arc.first] + arc.wait - takes[arc.first])
        starts[task], ends[task] = begin, begin + lasts
    return _summary(sheet.problem, spots, starts, ends)


def _summary(
    problem: Problem, spots: Mapping[str, Spot], starts: Mapping[str, Ticks], ends: Mapping[str, Ticks]
) -> Evenings:
    count = len(next(iter(starts.values())))
    late, hold = np.zeros(count), np.zeros(count)
    for due in problem.dues:
        ready: Any = np.max([ends[t] for t in due.tasks], axis=0)
        late = np.maximum(late, ready - due.at)
        if due.cap is not None:
            hold += np.maximum(0.0, due.at - ready)
    broken = np.zeros(count)
    for lag in problem.lags:
        if lag.high is not None:
            second = starts[lag.second] if lag.to is Edge.START else ends[lag.second]
            # Dough may rest longer than it must: a wait is over when the cook says so, up to its longest.
            longest = problem.task(lag.first).modes[spots[lag.first].mode].high
            may_end = np.maximum(ends[lag.first], starts[lag.first] + longest)
            first = starts[lag.first] if lag.of is Edge.START else may_end
            broken += second - first > lag.high + _TOLERATED_TICKS
    return Evenings(
        count=count,
        p95_late_min=float(np.percentile(late, 95)) / TICKS_PER_MIN,
        on_time_share=float(np.mean(late <= 2 * TICKS_PER_MIN)),
        broken_lags=float(np.mean(broken)),
        hot_hold_min=float(np.mean(hold)) / TICKS_PER_MIN,
    )
