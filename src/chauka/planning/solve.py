"""The search: a first plan at once, then better ones until the time is up, with the bound that proves them.

Two searches run side by side and tell each other what they find: branch and bound on the whole model,
which gives the bound, and the improver (`search`), which finds good plans early.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

from chauka.errors import SolverError
from chauka.planning.greedy import Manner, greedy
from chauka.planning.highs import Outcome
from chauka.planning.index import Index
from chauka.planning.model import Choice, Model, Solution
from chauka.planning.narrow import worked_out
from chauka.planning.problem import Problem
from chauka.planning.search import improve

HALF_A_COIN = 0.5
GLANCE_SECONDS, REPORT_SECONDS = 0.05, 0.25

EARLY_SECONDS = 3.0
"""When the best answer so far is shown while the search goes on [s]."""

SMALL_DECISIONS = 150
"""Up to this many decisions branch and bound alone is quicker, and gives the same answer each time."""

MANY_DECISIONS = 5_000
"""Above this many decisions every step is chosen for its time."""

RELAXED_TOLERANCE = 1e-6
"""Share by which the relaxation's value may be above its true one."""

Progress = Callable[[float, float, float], None]
"""Called with (seconds so far, best value, best bound), in the caller's thread."""
Cancel = Callable[[], bool]
"""Asked now and then, in the caller's thread; True ends the search with the best plan so far."""


@dataclass(frozen=True, slots=True)
class Result:
    """The best solution, the proven bound under it, the seconds it took and how the search ended."""

    solution: Solution
    bound: float
    seconds: float
    first_seconds: float
    status: str


Early = Callable[[Result], None]
"""Called once, in the caller's thread, with the best plan after a few seconds."""


@dataclass(slots=True)
class _Shared:
    """What the two searches know together; neither calls the user's code.

    The bound starts at 0: no term is below, because nothing is worth more than it cost.
    """

    best: Solution
    gap: float
    until: float
    bound: float = 0.0
    handed_over: float = 0.0
    proven: bool = False
    stopped: bool = False
    trouble: BaseException | None = None
    relaxed: Outcome | None = None
    lock: threading.Lock = field(default_factory=threading.Lock)

    def better(self, solution: Solution) -> None:
        """Take a solution over if it is better."""
        with self.lock:
            if solution.value < self.best.value - 1e-6 and not self.stopped:
                self.best = solution
        self._look()

    def raise_bound(self, bound: float) -> None:
        """Take a bound over if it is higher."""
        with self.lock:
            if not self.stopped:
                self.bound = max(self.bound, bound)
        self._look()

    def _look(self) -> None:
        if self.best.value - self.bound <= max(HALF_A_COIN, self.gap * abs(self.best.value)):
            self.proven = True

    def left(self) -> float:
        """Seconds left."""
        return self.until - time.monotonic()

    def over(self) -> bool:
        """Whether to stop: proven, out of time or cancelled."""
        return self.proven or self.stopped or self.left() <= 0

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
    early: Early | None = None,
) -> Result:
    """Search for at most `seconds` [s]; whatever happens, the best plan so far comes back.

    `gap` is the share of the value within which a plan counts as proven best. `start` is a choice to
    begin from beside the quick plans. `early` is called once, with the best after `EARLY_SECONDS`,
    when the search is not over by then.
    """
    began = time.monotonic()
    first = first_plan(problem, start)
    first_seconds = time.monotonic() - began
    model = Model(problem)
    best = model.complete(first.choice) or first
    shared = _Shared(best, gap, began + seconds, handed_over=best.value)
    small = len(problem.eatings) <= SMALL_DECISIONS

    def so_far(status: str) -> Result:
        plan = model.without_spare_packs(shared.best)
        return Result(plan, min(shared.bound, plan.value), time.monotonic() - began, first_seconds, status)

    def show_early() -> None:
        if early:
            early(so_far("first answer"))

    cancelled = _search(
        shared,
        [_prove] if small else [_prove, _improve],
        model,
        began=began,
        progress=progress,
        cancel=cancel,
        early=show_early,
    )
    return so_far("optimal" if shared.proven else "cancelled" if cancelled else "out of time")


def first_plan(problem: Problem, start: Choice | None = None) -> Solution:
    """The best of the quick plans (and of the one given), with its flows but without the whole model's columns."""
    index = Index(problem)
    manners = (Manner.COST, Manner.USE_BY) if len(problem.eatings) <= MANY_DECISIONS else (Manner.COST,)
    choices = [greedy(problem, manner, index=index) for manner in manners]
    tried = [worked_out(problem, choice) for choice in [*choices, *([start] if start else [])]]
    good = [solution for solution in tried if solution]
    if not good:
        raise SolverError("no first plan could be built; a locked serving may be impossible")
    return min(good, key=lambda s: s.value)


def _search(
    shared: _Shared,
    searches: list[Callable[[_Shared, Model], None]],
    model: Model,
    *,
    began: float,
    progress: Progress | None,
    cancel: Cancel | None,
    early: Callable[[], None],
) -> bool:
    """Run the searches in threads and watch over them; whether they were cancelled.

    HiGHS looks at its clock only between larger steps, so that the end may come a little late; no
    thread is left behind.
    """
    threads = [threading.Thread(target=_guarded, args=(search, shared, model)) for search in searches]
    cancelled = bool(cancel and cancel())
    if not cancelled:
        for thread in threads:
            thread.start()
    told, shown = 0.0, False
    while not cancelled and shared.left() > 0 and any(thread.is_alive() for thread in threads):
        next(t for t in threads if t.is_alive()).join(min(GLANCE_SECONDS, max(0.0, shared.left())))
        cancelled = bool(cancel and cancel())
        now = time.monotonic() - began
        if not shown and now >= EARLY_SECONDS:
            shown = True
            early()
        if progress and now - told >= REPORT_SECONDS:
            told = now
            progress(now, shared.best.value, min(shared.bound, shared.best.value))
    with shared.lock:
        shared.stopped = True
    for thread in threads:
        if thread.ident is not None:
            thread.join()
    if shared.trouble:
        raise shared.trouble
    if progress:
        progress(time.monotonic() - began, shared.best.value, min(shared.bound, shared.best.value))
    return cancelled


def _guarded(search: Callable[[_Shared, Model], None], shared: _Shared, model: Model) -> None:
    try:
        search(shared, model)
    except BaseException as trouble:  # noqa: BLE001  (handed to the caller's thread, which raises it)
        shared.trouble = trouble
        shared.proven = True


def _improve(shared: _Shared, model: Model) -> None:
    improve(
        model,
        best=lambda: shared.best,
        better=shared.better,
        stop=shared.over,
        left=shared.left,
        relaxed=lambda: shared.relaxed,
    )


def _prove(shared: _Shared, model: Model) -> None:
    relaxed = _relax(shared, model)
    if relaxed.optimal:
        shared.raise_bound(relaxed.value - RELAXED_TOLERANCE * abs(relaxed.value))
    if shared.over():
        return
    outcome = model.lp.solve(
        seconds=shared.left(),
        gap=shared.gap,
        start=shared.best.columns,
        bounded=shared.raise_bound,
        cancel=shared.over,
        offered=shared.offer,
        found=lambda values: shared.better(model.read(values)),
    )
    shared.raise_bound(outcome.bound)
    shared.proven = shared.proven or outcome.optimal


def _relax(shared: _Shared, model: Model) -> Outcome:
    """The linear relaxation; large ones by the interior point method, which is quicker there."""
    large = len(model.problem.eatings) > MANY_DECISIONS
    options = {"solver": "ipm", "run_crossover": "off"} if large else {}
    shared.relaxed = model.lp.solve(relax=True, seconds=shared.left(), cancel=shared.over, options=options)
    return shared.relaxed
