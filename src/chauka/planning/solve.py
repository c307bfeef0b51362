"""The search: a first plan at once, then better ones until the time is up, with the bound that proves them.

Two searches run side by side and tell each other what they find: branch and bound on the whole model,
which gives the bound, and the improver (`search`), which finds good plans early.
"""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass, field

from chauka.errors import SolverError
from chauka.planning.greedy import Manner, greedy
from chauka.planning.highs import Cancel, Outcome, Progress
from chauka.planning.model import Choice, Model, Solution
from chauka.planning.problem import Problem
from chauka.planning.search import improve

SMALL_DECISIONS = 150
"""Up to this many decisions branch and bound alone is quicker, and gives the same answer each time."""


@dataclass(frozen=True, slots=True)
class Result:
    """The best solution, the proven bound under it, the seconds it took and how the search ended."""

    solution: Solution
    bound: float
    seconds: float
    first_seconds: float
    status: str


@dataclass(slots=True)
class _Shared:
    """What the two searches know together."""

    model: Model
    best: Solution
    bound: float
    gap: float
    began: float
    seconds: float
    progress: Progress | None
    cancel: Cancel | None
    handed_over: float = 0.0
    proven: bool = False
    cancelled: bool = False
    lock: threading.Lock = field(default_factory=threading.Lock)

    def better(self, solution: Solution) -> None:
        """Take a solution over if it is better."""
        with self.lock:
            if solution.value < self.best.value - 1e-6:
                self.best = solution
        self.tell()

    def raise_bound(self, bound: float) -> None:
        """Take a bound over if it is higher, and tell the one who waits."""
        with self.lock:
            self.bound = max(self.bound, min(bound, self.best.value))
        self.tell()

    def tell(self) -> None:
        """Report progress."""
        if self.progress:
            self.progress(time.monotonic() - self.began, self.best.value, self.bound)

    def left(self) -> float:
        """Seconds left."""
        return self.seconds - (time.monotonic() - self.began)

    def over(self) -> bool:
        """Whether to stop: proven, out of time or cancelled."""
        if self.cancel and self.cancel():
            self.cancelled = True
        close = self.best.value - self.bound <= max(0.5, self.gap * abs(self.best.value))
        self.proven = self.proven or close
        return self.proven or self.cancelled or self.left() <= 0

    def offer(self) -> tuple[float, ...] | None:
        """A solution that branch and bound has not seen yet."""
        with self.lock:
            if self.best.value < self.handed_over - 1e-6:
                self.handed_over = self.best.value
                return self.best.columns
        return None


def solve(
    problem: Problem,
    *,
    seconds: float = 20.0,
    gap: float = 0.001,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    start: Choice | None = None,
) -> Result:
    """Search for at most `seconds` [s]; whatever happens, the best plan so far comes back.

    `gap` is the share of the value within which a plan counts as proven best. `start` is a choice to
    begin from beside the quick plans.
    """
    began = time.monotonic()
    model = Model(problem)
    best = first_plan(model, start)
    first_seconds = time.monotonic() - began
    shared = _Shared(model, best, float("-inf"), gap, began, seconds, progress, cancel, handed_over=best.value)
    if not shared.over():
        _prove(shared) if _decisions(problem) <= SMALL_DECISIONS else _side_by_side(shared)
    status = "optimal" if shared.proven else "cancelled" if shared.cancelled else "out of time"
    bound = min(shared.bound, shared.best.value)
    return Result(shared.best, bound, time.monotonic() - began, first_seconds, status)


def first_plan(model: Model, start: Choice | None = None) -> Solution:
    """The best of the quick plans (and of the one given), with its flows."""
    choices = [greedy(model.problem, manner) for manner in (Manner.COST, Manner.USE_BY)]
    tried = [model.complete(choice) for choice in [*choices, *([start] if start else [])]]
    good = [solution for solution in tried if solution]
    if not good:
        raise SolverError("no first plan could be built; a locked serving may be impossible")
    return min(good, key=lambda s: s.value)


def _decisions(problem: Problem) -> int:
    return len(problem.eatings)


def _side_by_side(shared: _Shared) -> None:
    """Branch and bound in a second thread, the improver in this one."""
    failed = list[BaseException]()

    def prove() -> None:
        try:
            _prove(shared)
        except BaseException as trouble:  # noqa: BLE001  (handed to the caller's thread below)
            failed.append(trouble)
            shared.cancelled = True

    prover = threading.Thread(target=prove, daemon=True)
    prover.start()
    try:
        improve(shared.model, shared.best, better=shared.better, stop=shared.over, left=shared.left)
    finally:
        prover.join()
    if failed:
        raise failed[0]


def _prove(shared: _Shared) -> None:
    def heard(_: float, __: float, bound: float) -> None:
        shared.raise_bound(bound)

    outcome: Outcome = shared.model.lp.solve(
        seconds=shared.left(),
        gap=shared.gap,
        start=shared.best.columns,
        progress=heard,
        cancel=shared.over,
        offered=shared.offer,
    )
    if outcome.values:
        shared.better(shared.model.read(outcome.values))
    shared.raise_bound(outcome.bound)
    shared.proven = shared.proven or outcome.optimal
