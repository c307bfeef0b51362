"""How a run sheet fares on evenings that go slower or faster than planned: seeded simulation."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from chauka.scheduling.jobs import KitchenProblem
from chauka.scheduling.keep_order import Flags, Order, Ticks, Times
from chauka.scheduling.problem import Due, Edge, Lag, Problem
from chauka.scheduling.schedule import Spot
from chauka.scheduling.times import TICKS_PER_MIN, is_wait

SPREAD = 0.2
"""Coefficient of variation of what hands and flames do: an assumption, not a measurement."""

TOLERATED_TICKS = 2
"""A maximum wait exceeded by no more than a minute is not counted as broken."""


@dataclass(frozen=True, slots=True)
class Evenings:
    """What came of it: lateness of the last dish at the 95th percentile, and so on [min, share, count]."""

    count: int
    p95_late_min: float
    on_time_share: float
    broken_lags: float
    hot_hold_min: float


@dataclass(frozen=True, slots=True)
class Unfolded:
    """The same evenings one by one: when each task started and ended, and its longest end [tick]."""

    problem: Problem
    starts: Mapping[str, Ticks]
    ends: Mapping[str, Ticks]
    may_end: Mapping[str, Ticks]
    """Dough may rest longer than it must: a wait is over when the cook says so, up to its longest."""

    @classmethod
    def of(cls, problem: Problem, order: Order, starts: Ticks, lasts: Ticks) -> Unfolded:
        """The evenings in which the tasks of `order` start and last so."""
        all_times = (starts, starts + lasts, starts + np.maximum(order.longest, lasts))
        return cls(problem, *(dict(zip(order.tasks, times, strict=True)) for times in all_times))

    def late(self, due: Due) -> Ticks:
        """By how much a dish was ready after its time; negative: before [tick]."""
        ready: Any = np.max([self.ends[t] for t in due.tasks], axis=0)
        return np.asarray(ready - due.at)

    def over(self, lag: Lag) -> Ticks:
        """By how much a maximum wait was exceeded; negative: kept [tick]."""
        second = (self.starts if lag.to is Edge.START else self.ends)[lag.second]
        first = (self.starts if lag.of is Edge.START else self.may_end)[lag.first]
        return np.asarray(second - first - (lag.high or 0))

    def summary(self) -> Evenings:
        """What came of them."""
        dues = self.problem.dues
        late = np.maximum(0.0, np.max([self.late(due) for due in dues], axis=0))
        hold: Any = sum(np.maximum(0.0, -self.late(due)) for due in dues if due.cap is not None)
        limited = [lag for lag in self.problem.lags if lag.high is not None]
        broken = [np.mean(self.over(lag) > TOLERATED_TICKS) for lag in limited]
        return Evenings(
            count=len(late),
            p95_late_min=float(np.percentile(late, 95)) / TICKS_PER_MIN,
            on_time_share=float(np.mean(late <= 2 * TICKS_PER_MIN)),
            broken_lags=float(sum(broken)),
            hot_hold_min=float(np.mean(hold)) / TICKS_PER_MIN,
        )


def evenings(
    sheet: KitchenProblem,
    spots: Mapping[str, Spot],
    *,
    spread: float = SPREAD,
    count: int = 1000,
    seed: int = 0,
    live: bool = False,
) -> Evenings:
    """`count` evenings by this sheet, each active step lognormal about its planned time.

    `spread` is the coefficient of variation; waits are exact. The simulated cook starts nothing before its
    planned minute and keeps the planned order. With `live` the rest is re-timed every half minute in that
    order, by what is known then: what would have to stand too long is begun later. With `spread` 0 the plan
    itself comes out.
    """
    order = Order(sheet.problem, spots)
    lasts = drawn(sheet, order, spread=spread, count=count, seed=seed)
    starts = _followed(order, lasts) if live else order.unfolded(lasts, order.planned).starts
    return Unfolded.of(sheet.problem, order, starts, lasts).summary()


def is_exact(sheet: KitchenProblem, task: str) -> bool:
    """Whether a task takes what the clock says: soaking, resting, pressure that falls."""
    job = sheet.jobs[task]
    return is_wait(job.step) and not job.wash


def drawn(sheet: KitchenProblem, order: Order, *, spread: float = SPREAD, count: int = 1000, seed: int = 0) -> Ticks:
    """How long each task really takes, to the tick; one column an evening. Other plans get the same luck."""
    chance = np.random.default_rng(seed)
    sigma = float(np.sqrt(np.log1p(spread**2)))
    noise = chance.lognormal(-(sigma**2) / 2, sigma, (len(order.tasks), count))
    luck = {task: row for row, task in enumerate(sorted(order.tasks))}
    exact = np.array([[is_exact(sheet, t)] for t in order.tasks])
    real = order.shortest * noise[[luck[t] for t in order.tasks]]
    return np.asarray(np.round(np.where(exact, order.shortest, real)))


def _followed(order: Order, lasts: Ticks) -> Ticks:
    """The starts when each tick's decisions are taken on what is known at that tick."""
    shape = lasts.shape
    starts, begun = np.full(shape, np.inf), np.zeros(shape, dtype=bool)
    now = float(order.planned.min())
    while not begun.all():
        ready = np.ones(shape, dtype=bool)
        while ready.any():  # what takes no time lets the next begin at the same tick
            foreseen = _foreseen(order, lasts, starts, begun, now)
            ready = ~begun & (foreseen.starts <= now)
            starts, begun = np.where(ready, now, starts), begun | ready
        now += 1
    return starts


def _foreseen(order: Order, lasts: Ticks, starts: Ticks, begun: Flags, now: float) -> Times:
    """What the cook expects: what is over is known, what goes on takes its planned time, or a moment more."""
    over = begun & (starts + lasts <= now)
    ends = np.where(over, starts + lasts, np.where(begun, np.maximum(starts + order.shortest, now + 1), 0.0))
    floor = Times(np.where(begun, starts, np.maximum(order.planned, now)), ends)
    return order.earliest(floor, np.where(over, lasts, order.shortest), begun, over & ~order.elastic)
