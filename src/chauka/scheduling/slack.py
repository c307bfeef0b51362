"""How late each task may start, and what it waits for, in a schedule whose order stays as it is."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
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
    """Everything that has to come before something else: minimum lags, and who had a resource first.

    Keeping the order of any two tasks that share a resource and did not overlap keeps every capacity:
    tasks that can then meet are tasks that all met before.
    """
    takes = shortest(problem, spots)
    out = []
    for lag in problem.lags:
        if lag.low is not None:
            first_takes = takes[lag.first] if lag.of is Edge.END else 0
            second_takes = takes[lag.second] if lag.to is Edge.END else 0
            out.append(Arc(lag.first, lag.second, lag.low + first_takes - second_takes))
    for resource, uses in _uses(problem, spots).items():
        for first, _, ends in uses:
            for second, starts, _ in uses:
                if first != second and ends[1] <= starts[1]:
                    out.append(Arc(ends[0], starts[0], takes[ends[0]], resource))
    return tuple(out)


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


def _uses(problem: Problem, spots: Spots) -> dict[str, list[tuple[str, tuple[str, int], tuple[str, int]]]]:
    """Per resource: (name of the use, its first task and start, its last task and end)."""
    uses: dict[str, list[tuple[str, tuple[str, int], tuple[str, int]]]] = defaultdict(list)
    for task in problem.tasks:
        spot = spots[task.id]
        for need in task.modes[spot.mode].needs:
            if need.amount and spot.end > spot.start:
                uses[need.resource].append((task.id, (task.id, spot.start), (task.id, spot.end)))
    for hold in problem.holds:
        if not is_taken(problem, hold, spots):
            continue
        first = min(hold.tasks, key=lambda t: spots[t].start)
        last = max(hold.tasks, key=lambda t: spots[t].end)
        uses[hold.resource].append((hold.id, (first, spots[first].start), (last, spots[last].end)))
    return uses
