"""Cooking by the run sheet: what the cook taps → the sheet for the rest of the evening."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime
from enum import StrEnum

from chauka.errors import Complaints
from chauka.kitchen import Clash, Proof
from chauka.scheduling.jobs import BURNERS, KitchenProblem
from chauka.scheduling.measure import excess, measured
from chauka.scheduling.problem import Goal
from chauka.scheduling.retiming import Facts, Retimed, retimed
from chauka.scheduling.schedule import Spot
from chauka.scheduling.sheet import RunSheet, first_clause, spoken_minutes
from chauka.scheduling.slack import Arc, arcs, shortest
from chauka.scheduling.times import TICKS_PER_MIN, ticks
from chauka.scheduling.write_sheet import entries


class Tap(StrEnum):
    """What a cook can say with wet hands."""

    STARTED = "started"
    DONE = "done"
    MORE = "needs more minutes"
    SKIPPED = "skipped"
    BURNER_LOST = "a burner is out"


@dataclass(frozen=True, slots=True)
class Event:
    """One tap at one moment, on one row (its `tasks`); `minutes` for MORE."""

    at: datetime
    tap: Tap
    tasks: tuple[str, ...] = ()
    minutes: float = 0.0


def follow(sheet: RunSheet, events: Iterable[Event], now: datetime | None = None) -> RunSheet:
    """The sheet re-timed after all events so far, as of `now` (by default the last event).

    What was tapped is a fact; what should have begun by now and was not tapped goes as planned.
    What stands on the fire stays there. The same sheet and events give the same answer. Always pass
    the sheet that cooking began with and every event since.
    """
    told = sorted(events, key=lambda e: e.at)
    kitchen, schedule = sheet.kitchen, sheet.schedule
    if kitchen is None or schedule is None or not told:
        return sheet
    _check(kitchen, told)
    moment = now or told[-1].at
    facts = _facts(kitchen, schedule.spots, told, _tick(kitchen, moment))
    rest = retimed(kitchen.problem, schedule.spots, facts)
    problem = replace(
        kitchen.problem, lags=rest.problem.lags, tasks=tuple(t for t in rest.problem.tasks if t.id in kitchen.jobs)
    )
    going = replace(kitchen, problem=replace(problem, horizon=rest.problem.horizon))
    spots = {t: rest.spots[t] for t in kitchen.jobs}
    rows = tuple(e for e in entries(going, spots) if not set(e.tasks) <= facts.skipped)
    return replace(
        sheet,
        entries=rows,
        proof=_proof(going, spots, rest),
        clashes=_clashes(kitchen, rest),
        why=_said(going, spots),
    )


def _check(kitchen: KitchenProblem, events: list[Event]) -> None:
    bad = Complaints("tap")
    for event in events:
        for task in set(event.tasks) - set(kitchen.jobs):
            bad.add("tasks", f"{task!r} is not on this run sheet")
        bad.check(event.minutes >= 0, "minutes", f"{event.minutes:g} min is below zero")
    bad.raise_if_any()


def _facts(kitchen: KitchenProblem, planned: Mapping[str, Spot], events: list[Event], now: int) -> Facts:
    """What has begun by now: as tapped, or as the plan unfolds behind what was tapped."""
    by_task: dict[str, list[Event]] = defaultdict(list)
    for event in events:
        for task in event.tasks:
            by_task[task].append(event)
    skipped = frozenset(t for t, taps in by_task.items() if any(e.tap is Tap.SKIPPED for e in taps))
    before: dict[str, list[Arc]] = defaultdict(list)
    for arc in arcs(kitchen.problem, planned):
        before[arc.second].append(arc)
    takes = shortest(kitchen.problem, planned)
    went: dict[str, Spot] = {}
    for task in sorted(planned, key=lambda t: (planned[t].start, planned[t].end)):
        waits = [went[a.first].end + a.wait - takes[a.first] for a in before[task] if a.first in went]
        start = max([planned[task].start, *waits])
        spot = Spot(start, start + planned[task].end - planned[task].start, planned[task].mode)
        for event in by_task[task]:
            spot = _after(event, spot, _tick(kitchen, event.at))
        if task not in skipped:
            went[task] = spot
    tapped = {t for t, taps in by_task.items() if taps} - skipped
    begun = {t: spot for t, spot in went.items() if spot.start < now or t in tapped}
    lost = sum(e.tap is Tap.BURNER_LOST for e in events)
    return Facts(now, begun, skipped, {BURNERS: lost} if lost else None)


def _after(event: Event, spot: Spot, at: int) -> Spot:
    match event.tap:
        case Tap.STARTED:
            return Spot(at, at + spot.end - spot.start, spot.mode)
        case Tap.DONE:
            return Spot(min(spot.start, at), at, spot.mode)
        case Tap.SKIPPED:
            return spot
        case _:
            return Spot(spot.start, max(spot.end, at) + ticks(event.minutes), spot.mode)


def _tick(kitchen: KitchenProblem, moment: datetime) -> int:
    minutes = (moment - kitchen.serve).total_seconds() / 60
    return max(0, kitchen.serve_tick + round(minutes * TICKS_PER_MIN))


def _proof(kitchen: KitchenProblem, spots: dict[str, Spot], rest: Retimed) -> Proof:
    terms = {
        str(goal): measured(kitchen.problem, spots, goal) / TICKS_PER_MIN
        for goal in (Goal.LATENESS, Goal.OVER_HOLD, Goal.HOLD)
    }
    return Proof(terms[str(Goal.LATENESS)], 0.0, rest.seconds, "re-timed while cooking", terms)


def _clashes(kitchen: KitchenProblem, rest: Retimed) -> tuple[Clash, ...]:
    out = []
    for lag in rest.broken:
        if lag.second in kitchen.jobs:
            job = kitchen.jobs[lag.second]
            work = f"{job.parts[0].dish.name}: {first_clause(job.step.text.rstrip('. '))}"
            over = spoken_minutes(excess(lag, rest.spots) / TICKS_PER_MIN)
            rule = f"{work} comes {over} later than it should"
            out.append(Clash((rule,), "do it as soon as your hands are free, and taste before you serve"))
    return tuple(out)


def _said(kitchen: KitchenProblem, spots: dict[str, Spot]) -> tuple[str, ...]:
    late = measured(kitchen.problem, spots, Goal.LATENESS)
    ready = max(spots[t].end for due in kitchen.problem.dues for t in due.tasks)
    if not late:
        return ("everything is still on time",)
    return (f"dinner stands on the table at {kitchen.moment(ready):%H:%M}",)
