"""How late each task may start, and what it waits for, in a schedule whose order stays as it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from chauka.scheduling.measure import Spots, edge, is_taken
from chauka.scheduling.problem import Edge, Problem


@dataclass(frozen=True, slots=True)
class Arc:
    """`second` starts at least `wait` ticks after `first` starts; `because` names the resource, if any."""

    first: str
    second: str
    wait: int
    because: str | None = None


def shortest(problem: Problem, spots: Spots) -> dict[str, int]:
    """The shortest that each task may take in the mode it has [tick]."""
    return {task.id: task.modes[spots[task.id].mode].low for task in problem.tasks}


def arcs(problem: Problem, spots: Spots) -> tuple[Arc, ...]:
    """Everything that has to come before something else: minimum lags, and who has a resource before whom."""
    takes = shortest(problem, spots)
    out = []
    for lag in problem.lags:
        if lag.low is not None:
            first_takes = takes[lag.first] if lag.of is Edge.END else 0
            second_takes = takes[lag.second] if lag.to is Edge.END else 0
            out.append(Arc(lag.first, lag.second, lag.low + first_takes - second_takes))
    out += [Arc(first, second, takes[first], resource) for first, second, resource in handovers(problem, spots)]
    return tuple(out)


def handovers(problem: Problem, spots: Spots) -> Iterator[tuple[str, str, str]]:
    """(task, later task, resource): the later one begins when the earlier one has let go of the resource.

    Each unit of a resource goes from hand to hand, so that keeping these keeps every capacity whatever takes how
    long (chaining: N. Policella, A. Cesta, A. Oddi, S. Smith, "From precedence constraint posting to partial order
    schedules", AI Communications 20 (2007) 163-180). A unit is taken from whom one waits for anyway, else from who
    has left it the longest: then there is most to spare.
    """
    anyway = {(lag.first, lag.second) for lag in problem.lags if lag.low is not None}
    for resource in problem.resources:
        units: list[_Unit] = [(-1, "")] * resource.capacity
        for use in sorted(_uses(problem, spots, resource.name), key=lambda u: (u.start, u.end, u.first)):
            free = sorted(
                (i for i, (at, _) in enumerate(units) if at <= use.start),
                key=lambda i: ((units[i][1], use.first) not in anyway, units[i]),
            )
            for before in sorted({units[i][1] for i in free[: use.amount]} - {""}):
                yield before, use.first, resource.name
            for i in free[: use.amount]:
                units[i] = (use.end, use.last)


def latest_starts(problem: Problem, spots: Spots) -> dict[str, int]:
    """How late each task may start, all before it being as planned, with every due as punctual as planned [tick]."""
    takes = shortest(problem, spots)
    latest = {t: problem.horizon - takes[t] for t in spots}
    for due in problem.dues:
        for task in due.tasks:
            latest[task] = min(latest[task], max(due.at, spots[task].end) - takes[task])
    by_second: dict[str, list[Arc]] = defaultdict(list)
    for arc in arcs(problem, spots):
        by_second[arc.second].append(arc)
    # An arc runs forward in time, so one pass from the last start to the first is enough.
    for second in sorted(spots, key=lambda t: (spots[t].start, spots[t].end), reverse=True):
        for arc in by_second[second]:
            latest[arc.first] = min(latest[arc.first], latest[second] - arc.wait)
    for lag in problem.lags:
        if lag.high is not None:
            room = edge(spots, lag.first, lag.of) + lag.high
            shift = takes[lag.second] if lag.to is Edge.END else 0
            latest[lag.second] = min(latest[lag.second], room - shift)
    return {t: max(latest[t], spots[t].start) for t in spots}


def binding(problem: Problem, spots: Spots) -> Mapping[str, tuple[Arc, ...]]:
    """For each task the arcs that are tight: it starts the very moment they allow."""
    out: dict[str, list[Arc]] = defaultdict(list)
    takes = shortest(problem, spots)
    for arc in arcs(problem, spots):
        longer = spots[arc.first].end - spots[arc.first].start - takes[arc.first]
        if spots[arc.first].start + arc.wait + longer == spots[arc.second].start:
            out[arc.second].append(arc)
    return {task: tuple(out[task]) for task in spots}


_Unit = tuple[int, str]
"""When a unit of a resource is free again, and who had it last."""


@dataclass(frozen=True, slots=True)
class _Use:
    """So much of a resource, from the start of task `first` to the end of task `last`."""

    first: str
    start: int
    last: str
    end: int
    amount: int


def _uses(problem: Problem, spots: Spots, resource: str) -> Iterator[_Use]:
    for task in problem.tasks:
        spot = spots[task.id]
        for need in task.modes[spot.mode].needs:
            if need.resource == resource and need.amount and spot.end > spot.start:
                yield _Use(task.id, spot.start, task.id, spot.end, need.amount)
    for hold in problem.holds:
        if hold.resource == resource and is_taken(problem, hold, spots):
            first = min(hold.tasks, key=lambda t: spots[t].start)
            last = max(hold.tasks, key=lambda t: spots[t].end)
            yield _Use(first, spots[first].start, last, spots[last].end, hold.amount)
