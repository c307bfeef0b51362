"""A thin layer over HiGHS: columns and rows by name of their rule, a start, progress, a time limit.

HiGHS: Q. Huangfu and J. A. J. Hall, "Parallelizing the dual revised simplex method", Mathematical
Programming Computation 10(1), 2018, 119–142.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

import highspy
import numpy as np

from chauka.errors import SolverError

Bounded = Callable[[float], None]
"""Told the best bound now and then."""
Cancel = Callable[[], bool]
"""Asked now and then; True ends the search with the best answer so far."""
Offer = Callable[[], tuple[float, ...] | None]
"""Asked now and then for a better answer found elsewhere (column values)."""
Found = Callable[[tuple[float, ...]], None]
"""Told of each better answer at once (column values)."""


@dataclass(frozen=True, slots=True)
class Outcome:
    """What the solver came back with; `values` is None where it found nothing."""

    status: str
    values: tuple[float, ...] | None
    value: float
    bound: float
    duals: tuple[float, ...] = ()
    reduced_costs: tuple[float, ...] = ()

    @property
    def optimal(self) -> bool:
        """Whether nothing better exists (within the tolerance asked for)."""
        return self.status == "optimal"


@dataclass(slots=True)
class Lp:
    """A linear programme under construction, columns and rows in the order they were added."""

    cost: list[float] = field(default_factory=list)
    lower: list[float] = field(default_factory=list)
    upper: list[float] = field(default_factory=list)
    whole: list[bool] = field(default_factory=list)
    rows: list[tuple[float, float, Mapping[int, float]]] = field(default_factory=list)
    rules: list[str] = field(default_factory=list)
    offset: float = 0.0
    _matrix: tuple[list[Any], Any] | None = None

    def column(self, lower: float = 0.0, upper: float = math.inf, *, whole: bool = False) -> int:
        """Add a column and return its index."""
        self.cost.append(0.0)
        self.lower.append(lower)
        self.upper.append(upper)
        self.whole.append(whole)
        return len(self.cost) - 1

    def row(self, rule: str, lower: float, terms: Mapping[int, float], upper: float) -> int:
        """Add lower ≤ Σ terms ≤ upper, remembered under the rule that it stands for."""
        self.rows.append((lower, upper, terms))
        self.rules.append(rule)
        return len(self.rows) - 1

    def solve(
        self,
        *,
        seconds: float = math.inf,
        gap: float = 1e-6,
        relax: bool = False,
        bounds: tuple[list[float], list[float]] | None = None,
        start: tuple[float, ...] | None = None,
        bounded: Bounded | None = None,
        cancel: Cancel | None = None,
        offered: Offer | None = None,
        found: Found | None = None,
        nodes: int | None = None,
        options: Mapping[str, float | bool | str] | None = None,
    ) -> Outcome:
        """Minimise. `relax` drops wholeness; `bounds` replaces the columns' bounds for this run."""
        highs = _Quiet()  # type: ignore[no-untyped-call]
        _set(highs, "threads", 1)
        _set(highs, "random_seed", 7)
        _set(highs, "mip_rel_gap", gap)
        _set(highs, "mip_abs_gap", 0.5)
        if math.isfinite(seconds):
            _set(highs, "time_limit", max(0.01, seconds))
        if nodes is not None:
            _set(highs, "mip_max_nodes", nodes)
        for option, value in (options or {}).items():
            _set(highs, option, value)
        lower, upper = bounds or (self.lower, self.upper)
        highs.passModel(self._model(lower, upper, relax=relax))
        if start is not None:
            solution = highspy.HighsSolution()
            solution.col_value = list(start)
            highs.setSolution(solution)
        _listen(highs, bounded, cancel, offered)
        if found:
            _tell(highs, found)
        if highs.solve() == highspy.HighsStatus.kError:
            raise SolverError("HiGHS could not run this model; please report it with the plan's inputs")
        return self._outcome(highs, integer=any(self.whole) and not relax)

    def _model(self, lower: list[float], upper: list[float], *, relax: bool) -> Any:
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = len(self.cost), len(self.rows)
        lp.col_cost_, lp.offset_ = np.array(self.cost), self.offset
        lp.col_lower_, lp.col_upper_ = np.array(lower), np.array(upper)
        lp.row_lower_ = np.array([low for low, _, _ in self.rows])
        lp.row_upper_ = np.array([high for _, high, _ in self.rows])
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_, lp.a_matrix_.index_, lp.a_matrix_.value_ = self._entries()
        if any(self.whole) and not relax:
            kinds = (highspy.HighsVarType.kContinuous, highspy.HighsVarType.kInteger)
            lp.integrality_ = [kinds[w] for w in self.whole]
        return lp

    def _entries(self) -> Any:
        """The rows' entries as arrays: starts, columns, values; made once for the same rows."""
        if self._matrix is None or self._matrix[0] != self.rows:
            lengths = [len(terms) for _, _, terms in self.rows]
            index = np.fromiter((c for _, _, terms in self.rows for c in terms), dtype=np.int32, count=sum(lengths))
            value = np.fromiter((a for _, _, terms in self.rows for a in terms.values()), float, count=sum(lengths))
            self._matrix = list(self.rows), (np.concatenate(([0], np.cumsum(lengths))), index, value)
        return self._matrix[1]

    def _outcome(self, highs: Any, *, integer: bool) -> Outcome:
        status, info = highs.getModelStatus(), highs.getInfo()
        word = _WORDS.get(status, highs.modelStatusToString(status).lower())
        if info.primal_solution_status != highspy.kSolutionStatusFeasible:
            return Outcome(word, None, math.inf, info.mip_dual_bound if integer else -math.inf)
        solution = highs.getSolution()
        value = info.objective_function_value
        bound = info.mip_dual_bound if integer else value
        if integer:
            return Outcome(word, tuple(solution.col_value), value, min(bound, value))
        return Outcome(
            word, tuple(solution.col_value), value, bound, tuple(solution.row_dual), tuple(solution.col_dual)
        )


class _Quiet(highspy.Highs):
    """HiGHS without its banner, which it prints when callbacks are made ready."""

    def enableCallbacks(self) -> None:  # noqa: N802  (HiGHS's own name)
        """Silence first."""
        self.silent()
        super().enableCallbacks()  # type: ignore[no-untyped-call]


_WORDS = {
    highspy.HighsModelStatus.kOptimal: "optimal",
    highspy.HighsModelStatus.kInfeasible: "infeasible",
    highspy.HighsModelStatus.kTimeLimit: "out of time",
    highspy.HighsModelStatus.kInterrupt: "cancelled",
}


def _set(highs: Any, option: str, value: float | bool | str) -> None:
    if highs.setOptionValue(option, value) == highspy.HighsStatus.kError:
        raise SolverError(f"HiGHS refuses the option {option} = {value}")


def _listen(highs: Any, bounded: Bounded | None, cancel: Cancel | None, offered: Offer | None) -> None:
    def asked(event: Any) -> None:
        if bounded:
            bounded(event.data_out.mip_dual_bound)
        if cancel and cancel():
            event.interrupt()

    def given(event: Any) -> None:
        values = offered() if offered else None
        if values is not None:
            event.data_in.setSolution(np.array(values))

    if offered:
        highs.cbMipUserSolution.subscribe(given)
    if cancel or bounded:
        highs.cbMipInterrupt.subscribe(asked)
    if cancel:
        _stop_within_relaxations(highs, cancel)


def _tell(highs: Any, found: Found) -> None:
    def better(event: Any) -> None:
        found(tuple(event.data_out.mip_solution))

    highs.cbMipImprovingSolution.subscribe(better)


def _stop_within_relaxations(highs: Any, cancel: Cancel) -> None:
    def stopped(event: Any) -> None:
        if cancel():
            event.interrupt()

    highs.cbSimplexInterrupt.subscribe(stopped)
    highs.cbIpmInterrupt.subscribe(stopped)
