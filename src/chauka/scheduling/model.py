"""The problem as a CP-SAT model: one small method per rule.

The maths stands in `docs/scheduling.md`. All variables are whole ticks.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from ortools.sat.python import cp_model

from chauka.scheduling.problem import LATE_WEIGHT, Alike, Due, Edge, Goal, Hold, Kind, Lag, Problem, Task
from chauka.scheduling.schedule import Spot

Expr = Any  # CP-SAT's expressions, and some methods of its model, carry no useful types


@dataclass(slots=True)
class TaskVars:
    """Start and end of one task, its interval, and which mode is chosen."""

    start: Expr
    end: Expr
    interval: Expr
    chosen: list[Expr]


@dataclass(slots=True)
class Model:
    """Variables and rules for one problem; `objective` gives the expression of a goal."""

    problem: Problem
    cp: Any = field(default_factory=cp_model.CpModel)
    tasks: dict[str, TaskVars] = field(default_factory=dict)
    _uses: dict[str, list[tuple[Expr, int]]] = field(default_factory=lambda: defaultdict(list))
    _terms: dict[Goal, Expr] = field(default_factory=dict)
    _spans: dict[tuple[str, ...], tuple[Expr, Expr, Expr]] = field(default_factory=dict)
    """From the first start to the last end of tasks that hold something together: start, size, end."""

    def __post_init__(self) -> None:
        for task in self.problem.tasks:
            self.tasks[task.id] = self._add_task(task)
        for lag in self.problem.lags:
            self._add_lag(lag)
        for same in self.problem.alike:
            self._add_alike(same)
        for hold in self.problem.holds:
            self._add_hold(hold)
        self._add_capacities()
        self._add_pooled_cooks()

    def objective(self, goal: Goal) -> Expr:
        """The expression to be made small."""
        if goal not in self._terms:
            self._terms[goal] = self._expression(goal)
        return self._terms[goal]

    def keep(self, goal: Goal, value: int) -> None:
        """From now on the goal may not be worse than `value`."""
        self.cp.add(self.objective(goal) <= value)

    def hint(self, spots: Mapping[str, Spot]) -> None:
        """Start the next search from this schedule, which need not be feasible."""
        self.cp.clear_hints()
        for task_id, spot in spots.items():
            task = self.tasks[task_id]
            size = task.interval.size_expr()
            self.cp.add_hint(task.start, spot.start)
            if not isinstance(size, int):
                self.cp.add_hint(size, spot.end - spot.start)
            for i, is_chosen in enumerate(task.chosen):
                self.cp.add_hint(is_chosen, i == spot.mode)

    def read(self, solver: cp_model.CpSolver) -> dict[str, Spot]:
        """The schedule that the solver found."""
        spots = {}
        for task_id, task in self.tasks.items():
            mode = next((i for i, is_chosen in enumerate(task.chosen) if solver.boolean_value(is_chosen)), 0)
            spots[task_id] = Spot(solver.value(task.start), solver.value(task.end), mode)
        return spots

    # -- rules ---------------------------------------------------------------------------------

    def _add_task(self, task: Task) -> TaskVars:
        """A task runs once, for as long as its mode allows, inside its window."""
        last = self.problem.horizon if task.latest_end is None else min(task.latest_end, self.problem.horizon)
        shortest, longest = min(m.low for m in task.modes), max(m.high for m in task.modes)
        start, size, end, interval = self._add_span(task.id, task.earliest, last, shortest, longest)
        if len(task.modes) == 1:
            for need in task.modes[0].needs:
                self._uses[need.resource].append((interval, need.amount))
            return TaskVars(start, end, interval, [])
        chosen = [self.cp.new_bool_var(f"{task.id} by {m.name or i}") for i, m in enumerate(task.modes)]
        self.cp.add_exactly_one(chosen)
        for mode, is_chosen in zip(task.modes, chosen, strict=True):
            self.cp.add_linear_constraint(size, mode.low, mode.high).only_enforce_if(is_chosen)
            part = self.cp.new_optional_interval_var(start, size, end, is_chosen, f"{task.id} {mode.name}")
            for need in mode.needs:
                self._uses[need.resource].append((part, need.amount))
        return TaskVars(start, end, interval, chosen)

    def _add_span(self, name: str, earliest: int, last: int, shortest: int, longest: int) -> tuple[Expr, ...]:
        """Start, size, end and interval of something that lies in a window."""
        start = self.cp.new_int_var(earliest, last, f"{name} starts")
        if shortest == longest:
            self.cp.add(start + shortest <= last)
            return start, shortest, start + shortest, self.cp.new_fixed_size_interval_var(start, shortest, name)
        size = self.cp.new_int_var(shortest, longest, f"{name} takes")
        end = self.cp.new_int_var(earliest, last, f"{name} ends")
        return start, size, end, self.cp.new_interval_var(start, size, end, name)

    def _add_lag(self, lag: Lag) -> None:
        """low ≤ second − first ≤ high."""
        wait = self._wait(lag)
        if lag.low is not None:
            self.cp.add(wait >= lag.low)
        if lag.high is not None and not lag.soft:
            self.cp.add(wait <= lag.high)

    def _add_alike(self, same: Alike) -> None:
        """All are done in one way: as many modes of each way are chosen for one as for the next."""
        tasks = [self.problem.task(t) for t in same.tasks]
        for way in sorted({mode.way for task in tasks for mode in task.modes}):
            counts = [self._in_way(task, way) for task in tasks]
            for one, two in pairwise(counts):
                self.cp.add(one == two)

    def _in_way(self, task: Task, way: str) -> Expr:
        """1 if the task is done in a mode of that way, else 0."""
        chosen = self.tasks[task.id].chosen
        if not chosen:
            return self.cp.new_constant(int(task.modes[0].way == way))
        of_way = [c for c, mode in zip(chosen, task.modes, strict=True) if mode.way == way]
        if len(of_way) == 1:
            return of_way[0]
        is_so = self.cp.new_bool_var(f"{task.id} {way}")
        self.cp.add(sum(of_way) == is_so)
        return is_so

    def _add_hold(self, hold: Hold) -> None:
        """A vessel is taken from its first use until it is clean again, if it is the one chosen."""
        start, size, end = self._held(hold)
        if hold.way:
            taken = self._in_way(self.problem.task(hold.tasks[0]), hold.way)
            interval = self.cp.new_optional_interval_var(start, size, end, taken, hold.id)
        else:
            interval = self.cp.new_interval_var(start, size, end, hold.id)
        self._uses[hold.resource].append((interval, hold.amount))

    def _held(self, hold: Hold) -> tuple[Expr, Expr, Expr]:
        if hold.tasks not in self._spans:
            spots = [self.tasks[t] for t in hold.tasks]
            if len(spots) == 1:
                self._spans[hold.tasks] = (spots[0].start, spots[0].interval.size_expr(), spots[0].end)
            else:
                horizon = self.problem.horizon
                start, end = (self.cp.new_int_var(0, horizon, f"{hold.id} {edge}") for edge in Edge)
                size = self.cp.new_int_var(0, horizon, f"{hold.id} takes")
                self.cp.add_min_equality(start, [s.start for s in spots])
                self.cp.add_max_equality(end, [s.end for s in spots])
                self._spans[hold.tasks] = (start, size, end)
        return self._spans[hold.tasks]

    def _add_capacities(self) -> None:
        """No resource is asked for more than there is, at any moment."""
        for resource in self.problem.resources:
            uses = [(interval, amount) for interval, amount in self._uses[resource.name] if amount]
            if len(uses) < 2:
                continue
            if all(2 * amount > resource.capacity for _, amount in uses):
                self.cp.add_no_overlap([interval for interval, _ in uses])
            else:
                self.cp.add_cumulative([i for i, _ in uses], [a for _, a in uses], resource.capacity)

    def _add_pooled_cooks(self) -> None:
        """All cooks together, which follows from each alone and makes the bound stronger."""
        cooks = {r.name: r.capacity for r in self.problem.resources if r.kind is Kind.COOK}
        if len(cooks) < 2:
            return
        pooled = []
        for task in self.problem.tasks:
            least = min(sum(n.amount for n in m.needs if n.resource in cooks) for m in task.modes)
            if least:
                pooled.append((self.tasks[task.id].interval, least))
        self.cp.add_cumulative([i for i, _ in pooled], [a for _, a in pooled], sum(cooks.values()))

    # -- goals ---------------------------------------------------------------------------------

    def _expression(self, goal: Goal) -> Expr:
        make = {
            Goal.LATENESS: self._lateness,
            Goal.OVER_HOLD: self._over_hold,
            Goal.HOLD: self._hold,
            Goal.SESSION: self._session,
            Goal.MAKESPAN: self._makespan,
            Goal.ORDER: self._order,
            Goal.CALM: self._calm,
        }
        return make[goal]()

    def _lateness(self) -> Expr:
        return sum(self._positive(f"{d.id} late", self._ready(d) - d.at) for d in self.problem.dues)

    def _over_hold(self) -> Expr:
        return sum(
            self._positive(f"{due.id} waits too long", due.at - self._ready(due) - due.cap)
            for due in self.problem.dues
            if due.cap is not None
        )

    def _hold(self) -> Expr:
        hot = [due for due in self.problem.dues if due.cap is not None]
        return sum(self._positive(f"{due.id} waits", due.at - self._ready(due)) for due in hot)

    def _session(self) -> Expr:
        first = self.cp.new_int_var(0, self.problem.horizon, "first start")
        self.cp.add_min_equality(first, [t.start for t in self.tasks.values()])
        return max((due.at for due in self.problem.dues), default=self.problem.horizon) - first

    def _makespan(self) -> Expr:
        last = self.cp.new_int_var(0, self.problem.horizon, "last end")
        for task in self.tasks.values():
            self.cp.add(last >= task.end)
        return last

    def _order(self) -> Expr:
        early = sum(task.weight * self.tasks[task.id].start for task in self.problem.tasks if task.weight)
        close = sum(lag.close * self._wait(lag) for lag in self.problem.lags if lag.close)
        too_long = sum(
            lag.soft * self._positive(f"{lag.second} too late", self._wait(lag) - lag.high)
            for lag in self.problem.lags
            if lag.soft and lag.high is not None
        )
        unwelcome = sum(
            mode.cost * is_chosen
            for task in self.problem.tasks
            for mode, is_chosen in zip(task.modes, self.tasks[task.id].chosen, strict=False)
            if mode.cost
        )
        return early + close + too_long + unwelcome

    def _ready(self, due: Due) -> Expr:
        ends = [self.tasks[t].end for t in due.tasks]
        if len(ends) == 1:
            return ends[0]
        ready = self.cp.new_int_var(0, self.problem.horizon, f"{due.id} ready")
        self.cp.add_max_equality(ready, ends)
        return ready

    def _positive(self, name: str, expression: Expr) -> Expr:
        above = self.cp.new_int_var(0, self.problem.horizon, name)
        self.cp.add(above >= expression)
        return above

    def _calm(self) -> Expr:
        return LATE_WEIGHT * self.objective(Goal.LATENESS) + self.objective(Goal.ORDER)

    def _wait(self, lag: Lag) -> Expr:
        return self._edge(lag.second, lag.to) - self._edge(lag.first, lag.of)

    def _edge(self, task_id: str, edge: Edge) -> Expr:
        task = self.tasks[task_id]
        return task.start if edge is Edge.START else task.end
