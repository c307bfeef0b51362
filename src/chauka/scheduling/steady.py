"""A sheet for slow evenings: buffers where a thousand simulated evenings ask for them, within a longer session.

Padding every step alike spends the longer session where nothing goes wrong. Here the order is first planned with a
buffer before serving for each dish, one standard deviation of its longest chain (the feeding buffer of critical-chain
scheduling), and a margin on each maximum wait. Then the minutes are put, a few at a time, wherever the simulated
evenings gain most by them: everything before a moment a little earlier, or one task and what leads to it.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from itertools import product

import numpy as np

from chauka.scheduling.evenings import SPREAD, Evenings, evenings, is_exact
from chauka.scheduling.jobs import KitchenProblem
from chauka.scheduling.keep_order import Order, Ticks, Times
from chauka.scheduling.measure import measured
from chauka.scheduling.problem import Goal, Lag, Mode, Problem, Task
from chauka.scheduling.schedule import Schedule, Spot, Status
from chauka.scheduling.solve import solve

LONGER = 0.1
"""So much longer may the session be."""

WANTED_LATE_MIN, WANTED_BROKEN = 2.5, 0.2
"""Lateness of the last dish on one evening of twenty [min], and maximum waits broken an evening: less is not sought."""

_PADS = (0.0, 0.05)
_MARGIN, _MOST_MARGIN = 0.25, 20
"""Maximum waits are planned a quarter shorter, by ten minutes at most: a guess, which the evenings then judge."""

_MOVES = (2, 5, 12)
"""By so many ticks something is moved at a time."""

_ROUNDS, _SEARCHED_EVENINGS = 3, 400
_LATE_WEIGHT, _STALE_WEIGHT, _HOLD_WEIGHT = 2.0, 0.01, 0.002
"""Lateness before broken waits, as multiples of what is wanted; then a tick beyond the longest hold, and a minute of
hot hold."""

Spots = Mapping[str, Spot]


@dataclass(frozen=True, slots=True)
class Steady:
    """The schedule chosen, how it fared with the rest re-timed as it went, and how the plain one did."""

    spots: Spots
    plain: Evenings
    chosen: Evenings


def in_steady_hands(
    asked: KitchenProblem, plain: Schedule, *, seconds: float = 10.0, seed: int = 0
) -> tuple[Schedule, tuple[str, ...]]:
    """The schedule for slow evenings in the plain one's place, and what it is worth, in a sentence."""
    found = steadied(asked, plain.spots, seconds=seconds, seed=seed)
    if found.spots == plain.spots:
        return plain, ()
    levels = tuple(replace(one, value=measured(asked.problem, found.spots, one.goal)) for one in plain.levels)
    before, after = (_tail(fared) for fared in (found.plain, found.chosen))
    said = f"if steps vary by a fifth, dinner is {after} late on one evening in twenty; by the plain sheet {before}"
    return Schedule(Status.FOUND, found.spots, levels, plain.seconds), (said,)


def _tail(fared: Evenings) -> str:
    return f"{fared.p95_late_min:.0f} min"


def steadied(
    asked: KitchenProblem, plain: Spots, *, longer: float = LONGER, seconds: float = 10.0, seed: int = 0
) -> Steady:
    """The schedule that fares best on seeded slow evenings, its session at most `longer` than the plain one's.

    Never later than the plain schedule where everything goes as planned. `seconds` limits the search for orders.
    """
    search = _Search(asked, plain, longer, seed)
    for spots in (plain, *_orders(asked, search.begin, seconds, seed)):
        search.improve(spots)
    fared = [evenings(asked, spots, seed=seed + 1, live=True) for spots in (plain, search.best)]
    return Steady(search.best, *fared)


def _orders(asked: KitchenProblem, begin: int, seconds: float, seed: int) -> Iterator[Spots]:
    """Schedules with feeding buffers, without and with a little padding."""
    for pad in _PADS:
        answer = solve(_buffered(asked, pad, begin), seconds=seconds / len(_PADS), seed=seed)
        if answer.spots:
            yield answer.spots


def _buffered(asked: KitchenProblem, pad: float, begin: int) -> Problem:
    """The problem with its buffers; as much of them as the session allows is what goal LATENESS then asks for."""
    problem, feeding = asked.problem, _feeding(asked)
    return replace(
        problem,
        tasks=tuple(
            replace(task, modes=_padded(asked, task, pad), earliest=max(task.earliest, begin)) for task in problem.tasks
        ),
        lags=tuple(replace(lag, high=_shortened(lag)) for lag in problem.lags),
        dues=tuple(replace(due, at=due.at - round(feeding[due.id])) for due in problem.dues),
    )


def _padded(asked: KitchenProblem, task: Task, pad: float) -> tuple[Mode, ...]:
    if is_exact(asked, task.id):
        return task.modes
    low = [math.ceil(mode.low * (1 + pad)) for mode in task.modes]
    return tuple(replace(mode, low=lo, high=max(lo, mode.high)) for mode, lo in zip(task.modes, low, strict=True))


def _shortened(lag: Lag) -> int | None:
    if lag.high is None:
        return None
    return max(lag.low or 0, lag.high - min(_MOST_MARGIN, int(lag.high * _MARGIN)))


def _feeding(asked: KitchenProblem) -> dict[str, float]:
    """By due: one standard deviation of its longest chain of steps [tick]."""
    low = {task.id: min(mode.low for mode in task.modes) for task in asked.problem.tasks}
    before: dict[str, list[tuple[str, int]]] = defaultdict(list)
    for lag in asked.problem.lags:
        if lag.low is not None:
            before[lag.second].append((lag.first, lag.low))
    chains: dict[str, tuple[int, float]] = {}

    def chain(task: str) -> tuple[int, float]:
        """Length and variance of the longest chain that ends with this task."""
        if task not in chains:
            longest = max(((chain(t)[0] + wait, chain(t)[1]) for t, wait in before[task]), default=(0, 0.0))
            own = 0.0 if is_exact(asked, task) else (SPREAD * low[task]) ** 2
            chains[task] = longest[0] + low[task], longest[1] + own
        return chains[task]

    return {due.id: max(math.sqrt(chain(t)[1]) for t in due.tasks) for due in asked.problem.dues}


@dataclass(slots=True)
class _Search:
    """Minutes put where they help, in one order after another; `best` is the best so far."""

    asked: KitchenProblem
    plain: Spots
    longer: float
    seed: int
    begin: int = 0
    best: Spots = field(default_factory=dict)
    regret: float = math.inf

    def __post_init__(self) -> None:
        first = min(spot.start for spot in self.plain.values())
        there = min(task.earliest for task in self.asked.problem.tasks)
        self.begin = max(there, first - int((self.asked.serve_tick - first) * self.longer))

    def improve(self, spots: Spots) -> None:
        """From this schedule on, each move that helps, until a whole round of them does not."""
        here = self._settled(Order(self.asked.problem, spots))
        regret = self._regret(here)
        for _ in range(_ROUNDS):
            before = regret
            for by, move in product(_MOVES, range(3 * len(here))):
                order = Order(self.asked.problem, here)
                tried = self._settled(order, _moved(order, by, move))
                if (found := self._regret(tried)) < regret - 1e-6:
                    regret, here = found, tried
            if regret == before:
                break
        if regret < self.regret:
            self.best, self.regret = here, regret

    def _settled(self, order: Order, floor: Ticks | None = None) -> Spots:
        """Each task at its true length, not before its floor, in that order."""
        floor = np.maximum(order.planned if floor is None else floor, self.begin)
        nothing = np.zeros(floor.shape, dtype=bool)
        times = order.earliest(Times(floor, np.zeros(floor.shape)), order.shortest, nothing, nothing)
        return order.spots(times)

    def _regret(self, spots: Spots) -> float:
        """By how much what is wanted is missed; unthinkable where the plan itself is later than the plain one."""
        problem = self.asked.problem
        late, stale = (
            max(0, measured(problem, spots, goal) - measured(problem, self.plain, goal))
            for goal in (Goal.LATENESS, Goal.OVER_HOLD)
        )
        if late:
            return math.inf
        fared = evenings(self.asked, spots, count=_SEARCHED_EVENINGS, seed=self.seed)
        late_by = max(0.0, fared.p95_late_min / WANTED_LATE_MIN - 1)
        missed = _LATE_WEIGHT * late_by + max(0.0, fared.broken_lags / WANTED_BROKEN - 1)
        return missed + _STALE_WEIGHT * stale + _HOLD_WEIGHT * fared.hot_hold_min


def _moved(order: Order, by: float, move: int) -> Ticks:
    """The planned starts with all before a task earlier, or it and what leads to it earlier, or it alone later."""
    starts, row = order.planned, move // 3
    moves = (starts <= starts[row], order.leads_to(starts, row, by), np.arange(len(starts))[:, None] == row)
    return np.where(moves[move % 3], starts + (by if move % 3 == 2 else -by), starts)
