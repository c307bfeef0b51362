"""The rest of a schedule in the order it has: everything as early as its plan and what came before allow.

With the order kept, what is left is a simple temporal problem: each rule reads "this edge comes at least so
long after that one", a maximum wait among them (the earlier task is put off when the later one is). The
earliest times that obey all of them are longest paths (R. Dechter, I. Meiri, J. Pearl, "Temporal constraint
networks", Artificial Intelligence 49 (1991) 61-95). Milliseconds, and many evenings at a time.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from chauka.scheduling.problem import Edge, Problem
from chauka.scheduling.schedule import Spot
from chauka.scheduling.slack import handovers

Ticks = NDArray[np.float64]
Flags = NDArray[np.bool_]

_PASSES = 12
"""Where reality broke a maximum wait, times could chase each other for ever; so many passes settle all else."""


@dataclass(frozen=True, slots=True)
class Times:
    """Starts and ends, one row a task (in the order of `Order.tasks`), one column an evening [tick]."""

    starts: Ticks
    ends: Ticks


class Order:
    """The order of a schedule: `tasks` by planned start, and what each edge has to wait for."""

    def __init__(self, problem: Problem, spots: Mapping[str, Spot], *, shared: bool = True) -> None:
        """With `shared` false resources count for nothing, as if there were plenty of each."""
        self.tasks = tuple(sorted(spots, key=lambda t: (spots[t].start, spots[t].end, t)))
        self.planned = np.array([[float(spots[t].start)] for t in self.tasks])
        modes = {task.id: task.modes[spots[task.id].mode] for task in problem.tasks}
        self.shortest = np.array([[float(modes[t].low)] for t in self.tasks])
        self.longest = np.array([[float(modes[t].high)] for t in self.tasks])
        self._lengths = np.array([[float(spots[t].end - spots[t].start)] for t in self.tasks])
        self._modes = [spots[t].mode for t in self.tasks]
        self.elastic = self.longest > self.shortest
        row = {t: i for i, t in enumerate(self.tasks)}
        self._after: dict[int, list[tuple[int, float]]] = defaultdict(list)
        self._put_off: dict[int, list[tuple[int, float]]] = defaultdict(list)
        for lag in problem.lags:
            one, two = self._node(row[lag.first], lag.of), self._node(row[lag.second], lag.to)
            if lag.low is not None:
                self._after[two].append((one, float(lag.low)))
            if lag.high is not None and not lag.soft:
                self._put_off[one].append((two, -float(lag.high)))
        for first, second, _ in handovers(problem, spots) if shared else ():
            self._after[self._node(row[second], Edge.START)].append((self._node(row[first], Edge.END), 0.0))
        self._rules = {node: _arrays(rules) for node, rules in self._after.items()}
        self._backward = {node: _arrays(rules) for node, rules in self._put_off.items()}

    @staticmethod
    def _node(row: int, edge: Edge) -> int:
        return 2 * row + (edge is Edge.END)

    def spots(self, times: Times) -> dict[str, Spot]:
        """The first evening as a schedule; what may last longer than it must lasts as long as planned, if it can."""
        room = np.full(times.ends.shape, np.inf)
        both = np.stack((times.starts, times.ends), axis=1).reshape(-1, times.starts.shape[1])
        for node, (others, waits) in self._rules.items():
            for other, wait in zip(others, waits[:, 0], strict=True):
                if other % 2:
                    room[other // 2] = np.minimum(room[other // 2], both[node] - wait)
        planned = np.minimum(times.starts + np.minimum(self._lengths, self.longest), room)
        ends = np.where(self.elastic, np.maximum(times.ends, planned), times.ends)
        return {
            task: Spot(int(start), int(end), mode)
            for task, start, end, mode in zip(self.tasks, times.starts[:, 0], ends[:, 0], self._modes, strict=True)
        }

    def leads_to(self, starts: Ticks, row: int, by: float) -> Flags:
        """Which tasks have to start earlier if this one shall start `by` earlier than in `starts`; itself, too."""
        found = np.zeros(starts.shape, dtype=bool)
        found[row] = True
        for one in range(row, -1, -1):
            if not found[one] or 2 * one not in self._rules:
                continue
            others, waits = self._rules[2 * one]
            for node, wait in zip(others, waits[:, 0], strict=True):
                other = node // 2
                edge = starts[other, 0] + (self.shortest[other, 0] if node % 2 else 0.0)
                found[other] |= bool(edge + wait > starts[one, 0] - by)
        return found

    def unfolded(self, lasts: Ticks, planned: Ticks) -> Times:
        """How it goes when nobody looks ahead: each task starts as planned, or once what comes before it is done."""
        nothing = np.zeros(lasts.shape, dtype=bool)
        floor = Times(np.broadcast_to(planned, lasts.shape), np.zeros(lasts.shape))
        return self._settled(floor, lasts, nothing, nothing, look_ahead=False)

    def earliest(self, floor: Times, lasts: Ticks, begun: Flags, ended: Flags) -> Times:
        """The earliest times not before `floor`, with tasks that last `lasts`, that keep every maximum wait too.

        Starts of tasks that have `begun` and ends of those that have `ended` are facts: nothing moves them, and
        a rule against them is not kept.
        """
        return self._settled(floor, lasts, begun, ended, look_ahead=True)

    def _settled(self, floor: Times, lasts: Ticks, begun: Flags, ended: Flags, *, look_ahead: bool) -> Times:
        rows, columns = floor.starts.shape
        times: Any = np.empty((2 * rows, columns))
        times[0::2], times[1::2] = floor.starts, floor.ends
        fixed: Any = np.empty(times.shape, dtype=bool)
        fixed[0::2], fixed[1::2] = begun, ended
        longest = np.maximum(self.longest, lasts)
        for _ in range(_PASSES):
            before = times.copy()
            for row in range(rows):
                self._later(times, fixed, 2 * row, self._rules)
                self._later(times, fixed, 2 * row + 1, self._rules)
                _raise(times, fixed, 2 * row + 1, times[2 * row] + lasts[row])
            if not look_ahead:
                break
            for row in reversed(range(rows)):
                self._later(times, fixed, 2 * row + 1, self._backward)
                _raise(times, fixed, 2 * row, times[2 * row + 1] - longest[row])
                self._later(times, fixed, 2 * row, self._backward)
            if np.array_equal(before, times):
                break
        return Times(times[0::2], times[1::2])

    @staticmethod
    def _later(times: Ticks, fixed: Flags, node: int, rules: Mapping[int, tuple[Any, Ticks]]) -> None:
        if node in rules:
            others, waits = rules[node]
            _raise(times, fixed, node, (times[others] + waits).max(axis=0))


def least_lateness(problem: Problem, spots: Mapping[str, Spot]) -> int:
    """A bound for goal LATENESS [tick]: each task as early as window and lags allow, with plenty of everything."""
    order = Order(problem, spots, shared=False)
    windows = {task.id: (task.earliest, task.latest_end) for task in problem.tasks}
    floor = np.array([[float(windows[t][0])] for t in order.tasks])
    nothing = np.zeros(floor.shape, dtype=bool)
    times = order.earliest(Times(floor, np.zeros(floor.shape)), order.shortest, nothing, nothing)
    ends = dict(zip(order.tasks, times.ends[:, 0], strict=True))
    return int(sum(max(0.0, max(ends[t] for t in due.tasks) - due.at) for due in problem.dues))


def _arrays(rules: list[tuple[int, float]]) -> tuple[Any, Ticks]:
    return np.array([node for node, _ in rules]), np.array([[wait] for _, wait in rules])


def _raise(times: Ticks, fixed: Flags, node: int, least: Ticks) -> None:
    times[node] = np.where(fixed[node], times[node], np.maximum(times[node], least))
