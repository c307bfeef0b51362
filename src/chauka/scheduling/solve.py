"""Solving a problem goal after goal, with a proof for each."""

from __future__ import annotations

import math
import time
from collections.abc import Mapping
from dataclasses import dataclass, field, replace

from ortools.sat.python import cp_model

from chauka.errors import SolverError
from chauka.scheduling.measure import measured
from chauka.scheduling.model import Model
from chauka.scheduling.problem import Goal, Problem
from chauka.scheduling.schedule import Level, Schedule, Spot, Status

_ORDER_WORK = 0.5
"""Deterministic time for the last, cosmetic goal: counted in work, not seconds, so that it repeats."""

_ORDER_SHARE = 0.25
"""On a machine too busy for that work the last goal may add so much to the seconds asked for."""

_FOR_SCHEDULES = 0.4
"""Share of a goal's time for finding schedules before the bound is worked on; for a makespan, whose bound moves
well enough in CP-SAT's usual search, all of it."""

_ANSWERS = (cp_model.OPTIMAL, cp_model.FEASIBLE)


def solve(
    problem: Problem,
    *,
    seconds: float = 10.0,
    seed: int = 0,
    workers: int = 2,
    hint: Mapping[str, Spot] | None = None,
) -> Schedule:
    """The best schedule found within `seconds`, each goal made small without giving up one before it.

    A goal that is proven stays at its best value; one that is not is kept from getting worse.
    The same call gives the same values whenever every goal is proven. `hint` is a schedule to start
    from; it need not be feasible.

    Raises `SolverError` if CP-SAT refuses the model, which would be a fault of ours.
    """
    if not problem.tasks:
        return Schedule(Status.PROVEN, {}, (), 0.0)
    run = _Run(Model(problem), seconds, seed, workers)
    if hint:
        run.model.hint(hint)
    for goal in problem.goals:
        if goal is Goal.ORDER:
            run.put_in_order()
        else:
            run.minimize(goal, left=len(problem.goals) - len(run.levels))
        if not run.spots:
            return Schedule(run.ended, {}, (), run.spent)
    # A goal that was not proven may have become smaller on the way to a later one.
    levels = tuple(replace(level, value=measured(problem, run.spots, level.goal)) for level in run.levels)
    proven = all(level.proven for level in levels)
    return Schedule(Status.PROVEN if proven else Status.FOUND, run.spots, levels, run.spent)


@dataclass(slots=True)
class _Run:
    model: Model
    seconds: float
    seed: int
    workers: int
    began: float = field(default_factory=time.perf_counter)
    spots: dict[str, Spot] = field(default_factory=dict)
    levels: list[Level] = field(default_factory=list)
    ended: Status = Status.UNKNOWN

    @property
    def spent(self) -> float:
        return time.perf_counter() - self.began

    def minimize(self, goal: Goal, left: int) -> None:
        """Make one goal small, keep it there, and remember the schedule.

        First a search for good schedules; if that proves nothing, a search for the bound. CP-SAT's own
        mixture of the two hardly moves the bound with two workers.
        """
        # A goal may take what the ones before it left over, but never all of it while others wait.
        share = max(0.01, (self.seconds - self.spent) * (1.0 if left == 1 else 0.6))
        began = time.perf_counter()
        first = share if goal in (Goal.MAKESPAN, Goal.CALM) else share * _FOR_SCHEDULES
        bound = self._solve(self._solver(first), goal)
        if not self.spots:
            return
        value = measured(self.model.problem, self.spots, goal)
        remaining = share - (time.perf_counter() - began)
        if bound < value and remaining > 0:
            self.model.hint(self.spots)
            solver = self._solver(remaining)
            solver.parameters.use_objective_lb_search = True
            solver.parameters.linearization_level = 2
            bound = max(bound, self._solve(solver, goal))
            value = measured(self.model.problem, self.spots, goal)
        self.levels.append(Level(goal, value, min(value, bound), time.perf_counter() - began))
        self.model.keep(goal, value)
        self.model.hint(self.spots)

    def put_in_order(self) -> None:
        """The cosmetic goal: one worker and counted work, from scratch, so that the answer repeats."""
        solver = self._solver(max(1.0, _ORDER_SHARE * self.seconds), workers=1)
        solver.parameters.max_deterministic_time = _ORDER_WORK
        self.model.cp.clear_hints()
        self._solve(solver, Goal.ORDER)

    def _solve(self, solver: cp_model.CpSolver, goal: Goal) -> int:
        """Search; remember a schedule that is found and no worse than the last, and return the bound."""
        self.model.cp.minimize(self.model.objective(goal))
        status = solver.solve(self.model.cp)
        self.model.cp.clear_objective()
        if status == cp_model.MODEL_INVALID:
            raise SolverError(f"CP-SAT refuses the model: {self.model.cp.validate()}")
        if status in _ANSWERS:
            found = self.model.read(solver)
            problem = self.model.problem
            if not self.spots or measured(problem, found, goal) <= measured(problem, self.spots, goal):
                self.spots = found
        elif not self.spots:
            self.ended = Status.IMPOSSIBLE if status == cp_model.INFEASIBLE else Status.UNKNOWN
        return _whole(solver.best_objective_bound)

    def _solver(self, seconds: float, workers: int | None = None) -> cp_model.CpSolver:
        solver = cp_model.CpSolver()
        solver.parameters.max_time_in_seconds = seconds
        solver.parameters.num_workers = workers or self.workers
        solver.parameters.random_seed = self.seed
        return solver


def _whole(bound: float) -> int:
    """The bound as a whole number of ticks; nothing known counts as none."""
    return math.ceil(bound - 1e-6) if math.isfinite(bound) and bound > 0 else 0
