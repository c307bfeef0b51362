"""What a scheduler solves: tasks, resources, lags, holds and due times, in whole ticks.

Nothing here knows a kitchen. A tick is whatever the builder says; `kitchen_problem` takes 30 seconds.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from chauka.errors import Complaints


class Kind(StrEnum):
    """What a resource is to the person who reads the schedule."""

    COOK = "cook"
    BURNER = "burner"
    VESSEL = "vessel"
    OTHER = "other"


class Edge(StrEnum):
    """One end of a task."""

    START = "start"
    END = "end"


class Goal(StrEnum):
    """What is made small; a problem lists its goals in order of importance.

    Each is a sum over the due times except the last four, which look at all tasks.
    """

    LATENESS = "lateness"  # Σ max(0, end − at)
    OVER_HOLD = "hold beyond the cap"  # Σ max(0, at − end − cap)
    HOLD = "hot hold"  # Σ max(0, at − end), over dues that have a cap
    SESSION = "session length"  # last due time − first start: the later one may start, the better
    MAKESPAN = "makespan"  # last end
    ORDER = "order"  # Σ weight · start, Σ waiting between tasks that follow closely, Σ cost of modes
    CALM = "calm"  # 1,000 · lateness + order in one sum: for re-timing, where a fraction of a second is all there is


LATE_WEIGHT = 1_000
"""A tick of lateness weighs as much as so many ticks of moving, in goal CALM."""


@dataclass(frozen=True, slots=True)
class Resource:
    """Something of which `capacity` units are there at any time and come back after use."""

    name: str
    capacity: int
    kind: Kind = Kind.OTHER


@dataclass(frozen=True, slots=True)
class Need:
    """So many units of a resource while the task runs."""

    resource: str
    amount: int = 1


@dataclass(frozen=True, slots=True)
class Mode:
    """One way to do a task: it takes from `low` to `high` ticks and needs these resources.

    `way` names a choice that other tasks and holds share (`Alike`, `Hold.way`): which pot, say. `cost`
    is how unwelcome the mode is where everything else is equal (goal ORDER).
    """

    low: int
    high: int
    needs: tuple[Need, ...] = ()
    name: str = ""
    way: str = ""
    cost: int = 0


@dataclass(frozen=True, slots=True)
class Task:
    """A piece of work done once, without interruption, in exactly one of its modes.

    `weight` is how much an early start is worth where everything else is equal (goal ORDER).
    """

    id: str
    modes: tuple[Mode, ...]
    earliest: int = 0
    latest_end: int | None = None
    weight: int = 0


@dataclass(frozen=True, slots=True)
class Lag:
    """low ≤ (edge `to` of `second`) − (edge `of` of `first`) ≤ high [tick]; None means no limit.

    The default reads "`second` starts at least `low` after `first` ended". `close` asks to keep the
    wait short where everything else is equal (goal ORDER). `soft` above 0 lets `high` be exceeded at
    that weight per tick (goal ORDER): for a rule that reality has broken already.
    """

    first: str
    second: str
    low: int | None = 0
    high: int | None = None
    of: Edge = Edge.END
    to: Edge = Edge.START
    close: int = 0
    soft: int = 0


@dataclass(frozen=True, slots=True)
class Hold:
    """`amount` of a resource, taken from the first start to the last end of `tasks`, also in between.

    With a `way` it is taken only if the first of `tasks` is done in a mode of that way.
    """

    id: str
    resource: str
    tasks: tuple[str, ...]
    amount: int = 1
    way: str = ""


@dataclass(frozen=True, slots=True)
class Alike:
    """All `tasks` are done in modes of one way: what stands in the small pot stays in the small pot."""

    tasks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Due:
    """All `tasks` should have ended at tick `at`, and not more than `cap` before it.

    `cap` None means that waiting does no harm (a salad).
    """

    id: str
    tasks: tuple[str, ...]
    at: int
    cap: int | None = None


@dataclass(frozen=True, slots=True)
class Problem:
    """All of it, checked: every name is known, every demand can be met, every span is a span."""

    tasks: tuple[Task, ...]
    resources: tuple[Resource, ...]
    horizon: int
    lags: tuple[Lag, ...] = ()
    holds: tuple[Hold, ...] = ()
    dues: tuple[Due, ...] = ()
    goals: tuple[Goal, ...] = (Goal.LATENESS, Goal.OVER_HOLD, Goal.HOLD, Goal.SESSION)
    alike: tuple[Alike, ...] = ()

    def __post_init__(self) -> None:
        bad = Complaints("schedule")
        _check_unique(bad, "tasks", [t.id for t in self.tasks])
        _check_unique(bad, "resources", [r.name for r in self.resources])
        ids, capacity = {t.id for t in self.tasks}, {r.name: r.capacity for r in self.resources}
        for task in self.tasks:
            _check_task(bad, task, capacity)
        for named, where in self._named():
            bad.check(named in ids, where, f"names task {named!r}, which is not there")
        for hold in self.holds:
            _check_amount(bad, f"hold {hold.id}", Need(hold.resource, hold.amount), capacity)
            bad.check(bool(hold.tasks), f"hold {hold.id}", "holds for no task")
        ways = {t.id: {m.way for m in t.modes} for t in self.tasks}
        for same in self.alike:
            shared = set.intersection(*(ways.get(t, {""}) for t in same.tasks)) if same.tasks else set()
            bad.check(bool(shared), f"alike {', '.join(same.tasks)}", "share no way, so none of them can be done")
        for lag in self.lags:
            span = lag.low is None or lag.high is None or lag.low <= lag.high
            bad.check(span, f"lag {lag.first} to {lag.second}", f"at least {lag.low} but at most {lag.high}")
        bad.raise_if_any()

    def _named(self) -> Iterable[tuple[str, str]]:
        for lag in self.lags:
            yield lag.first, "lags"
            yield lag.second, "lags"
        for hold in self.holds:
            yield from ((t, f"hold {hold.id}") for t in hold.tasks)
        for same in self.alike:
            yield from ((t, "alike") for t in same.tasks)
        for due in self.dues:
            yield from ((t, f"due {due.id}") for t in due.tasks)

    def task(self, task_id: str) -> Task:
        """The task of that id."""
        return next(t for t in self.tasks if t.id == task_id)

    def resource(self, name: str) -> Resource:
        """The resource of that name."""
        return next(r for r in self.resources if r.name == name)


def _check_unique(bad: Complaints, where: str, names: list[str]) -> None:
    for twice in sorted({n for n in names if names.count(n) > 1}):
        bad.add(where, f"{twice!r} stands twice")


def _check_task(bad: Complaints, task: Task, capacity: dict[str, int]) -> None:
    where = f"task {task.id}"
    bad.check(bool(task.modes), where, "has no mode: say at least one way to do it")
    for mode in task.modes:
        bad.check(0 <= mode.low <= mode.high, where, f"takes {mode.low} to {mode.high} ticks, which is no span")
        for need in mode.needs:
            _check_amount(bad, where, need, capacity)


def _check_amount(bad: Complaints, where: str, need: Need, capacity: dict[str, int]) -> None:
    if need.resource not in capacity:
        bad.add(where, f"needs {need.resource!r}, which is not there")
    else:
        bad.check(need.amount >= 0, where, f"needs {need.amount} of {need.resource}, below zero")
        bad.check(
            need.amount <= capacity[need.resource],
            where,
            f"needs {need.amount} of {need.resource}, of which there are {capacity[need.resource]}",
        )
