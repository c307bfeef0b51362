"""The rest of an evening planned anew after a tap: the scheduler's own re-timing, where it wins minutes.

Keeping the order of the sheet (`evening`) is always possible and calm. When something has taken longer, another
order may still bring dinner to the table sooner; it is taken only where it does so by a minute or more.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

from chauka.errors import ChaukaError
from chauka.scheduling import Event, RunSheet, Tap, follow
from chauka.scheduling.schedule import Spot
from chauka.scheduling.times import ticks
from chauka.services.evening import Evening, Live, Row, retime, waits_between

WORTH_MIN = 1.0
"""Nobody changes the order of work for less [min]."""


def planned_anew(evening: Evening, sheet: RunSheet, at: float) -> Evening:
    """The evening with the rest in the order that ends soonest; as it is where that wins nothing.

    `sheet` is the one that cooking began with; another (made anew after a restart) is not followed.
    `at` is the moment in minutes of the evening.
    """
    if evening.paused is not None or not _began_with(evening, sheet):
        return evening
    now = evening.zero + timedelta(minutes=at)
    kept = retime(evening, now)
    if kept.late_min < WORTH_MIN:
        return evening
    try:
        found = follow(sheet, list(_events(evening, sheet, kept, at)), sheet.starts_at + timedelta(minutes=at))
    except ChaukaError:
        return evening
    other = _moved(evening, sheet, found, kept, at)
    return other if retime(other, now).late_min <= kept.late_min - WORTH_MIN else evening


def _began_with(evening: Evening, sheet: RunSheet) -> bool:
    """Whether this is the very sheet: the same tasks in the same minutes."""
    if sheet.kitchen is None or sheet.schedule is None or len(sheet.entries) != len(evening.rows):
        return False
    return all(
        entry.tasks == row.tasks and abs(_minutes(sheet, entry.start) - row.first_planned) < 0.01
        for entry, row in zip(sheet.entries, evening.rows, strict=True)
    )


def _minutes(sheet: RunSheet, moment: datetime) -> float:
    return (moment - sheet.starts_at).total_seconds() / 60


def _events(evening: Evening, sheet: RunSheet, kept: Live, at: float) -> Iterator[Event]:
    """What was tapped, as the scheduler hears it; a step that should have begun counts as begun when it can be."""

    def moment(minutes: float) -> datetime:
        return sheet.starts_at + timedelta(minutes=minutes)

    for row, live in zip(evening.rows, kept.rows, strict=True):
        if row.skipped:
            yield Event(moment(at), Tap.SKIPPED, row.tasks)
        elif row.began is not None:
            yield Event(moment(row.began), Tap.STARTED, row.tasks)
            if row.done is not None:
                yield Event(moment(row.done), Tap.DONE, row.tasks)
            elif (longer := max(row.more, at - row.began - row.minutes)) > 0:
                yield Event(moment(row.began), Tap.MORE, row.tasks, longer)
        elif row.at < at:
            yield Event(moment(_of_evening(evening, live.start)), Tap.STARTED, row.tasks)


def _of_evening(evening: Evening, moment: datetime) -> float:
    return (moment - evening.zero).total_seconds() / 60


def _moved(evening: Evening, sheet: RunSheet, found: RunSheet, kept: Live, at: float) -> Evening:
    """The evening with what has not begun at its new minutes, and what then waits for what."""
    starts = {task: _minutes(sheet, entry.start) for entry in found.entries for task in entry.tasks}
    rows = [_moved_row(row, starts, _of_evening(evening, live.start), at)
            for row, live in zip(evening.rows, kept.rows, strict=True)]  # fmt: skip
    kitchen, schedule = sheet.kitchen, sheet.schedule
    assert kitchen is not None  # noqa: S101 -- `_began_with` has looked
    assert schedule is not None  # noqa: S101
    spots = {**schedule.spots, **{t: _spot(schedule.spots[t], row) for row in rows for t in row.tasks}}
    waits = waits_between(kitchen.problem, spots, {t: n for n, row in enumerate(rows) for t in row.tasks})
    return replace(
        evening, held=0.0, rows=tuple(replace(row, waits=tuple(waits.get(n, ()))) for n, row in enumerate(rows))
    )


def _moved_row(row: Row, starts: dict[str, float], kept_start: float, at: float) -> Row:
    if row.began is not None:
        return replace(row, at=row.began, planned=row.first_planned)
    if row.at < at or not row.tasks:
        return replace(row, at=kept_start, planned=row.first_planned)
    return replace(
        row, at=min((starts[t] for t in row.tasks if t in starts), default=row.at), planned=row.first_planned
    )


def _spot(old: Spot, row: Row) -> Spot:
    """A task's place in the schedule when its row has moved from its first minute to `at`."""
    by = ticks(row.at - row.first_planned) if row.at >= row.first_planned else -ticks(row.first_planned - row.at)
    return Spot(old.start + by, old.end + by + ticks(row.more), old.mode)
