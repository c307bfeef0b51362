"""An evening at the stove as it really goes: steps begun, done, longer than planned, left out, paused.

The evening is kept in the book as a mark, so that it survives a reload and two phones see the same.
What is late is passed on along the order of the run sheet: a step waits for what has to come before
it, and for the hands, burner or vessel it needs, less the minutes that were to spare between them.
Nothing is ever moved earlier than the sheet planned it: a dish that is early grows cold.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import date, datetime, timedelta
from enum import StrEnum
from typing import Any

from chauka.errors import InputError
from chauka.kitchen import Attention, Meal
from chauka.scheduling import Entry, RunSheet
from chauka.scheduling.problem import Problem
from chauka.scheduling.schedule import Spot
from chauka.scheduling.slack import arcs, shortest
from chauka.scheduling.times import TICKS_PER_MIN
from chauka.store import ledger, marks
from chauka.store.models import Household

EARLY_MIN = 45
"""Who begins no earlier than this before the sheet's hour follows its clock; else the clock starts now [min]."""


@dataclass(frozen=True, slots=True)
class Wait:
    """This step waits for another: `spare` minutes lie between them in the plan; `end` or only its start."""

    row: int
    spare: float
    end: bool


@dataclass(frozen=True, slots=True)
class Row:
    """One step: planned from `at`, for `minutes`, both in minutes of the evening; and how it really went."""

    text: str
    where: str
    until: str
    at: float
    minutes: float
    hands: bool
    waits: tuple[Wait, ...] = ()
    amounts: str = ""
    began: float | None = None
    done: float | None = None
    more: float = 0.0
    skipped: bool = False
    tasks: tuple[str, ...] = ()
    planned: float | None = None

    @property
    def first_planned(self) -> float:
        """When the sheet that cooking began with had it; `at` moves when the rest is planned anew [min]."""
        return self.at if self.planned is None else self.planned


@dataclass(frozen=True, slots=True)
class Evening:
    """A sitting being cooked; moments are minutes since `zero`. `held` are minutes of past pauses."""

    zero: datetime
    serve: float
    rows: tuple[Row, ...]
    paused: float | None = None
    held: float = 0.0


class State(StrEnum):
    """How a step stands now."""

    TO_COME = "to come"
    READY = "ready"
    GOING = "going"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class LiveRow:
    """One step as it stands: when it starts and ends by what is known now."""

    number: int
    row: Row
    start: datetime
    end: datetime
    late_min: float
    state: State

    @property
    def minutes(self) -> float:
        """How long it takes by what is known now [min]."""
        return (self.end - self.start).total_seconds() / 60


@dataclass(frozen=True, slots=True)
class Live:
    """The evening now. `serve` is when it comes to the table, `late_min` how much later than planned."""

    at: datetime
    rows: tuple[LiveRow, ...]
    serve: datetime
    late_min: float
    paused: bool

    @property
    def going(self) -> tuple[LiveRow, ...]:
        """Steps under way, the first to end first."""
        return tuple(sorted((r for r in self.rows if r.state == State.GOING), key=lambda r: r.end))

    @property
    def next(self) -> tuple[LiveRow, ...]:
        """The next step to begin, with those that begin in the same minute."""
        waiting = [r for r in self.rows if r.state in (State.READY, State.TO_COME)]
        first = min((r.start for r in waiting), default=self.at)
        return tuple(r for r in waiting if r.start <= first + timedelta(minutes=1))[:2]

    @property
    def in_order(self) -> tuple[LiveRow, ...]:
        """All steps as they come, by what is known now."""
        return tuple(sorted(self.rows, key=lambda r: (r.start, r.number)))

    @property
    def over(self) -> bool:
        """Whether everything is done."""
        return all(r.state == State.DONE for r in self.rows)


def from_sheet(sheet: RunSheet, now: datetime) -> Evening:
    """The evening of a run sheet that begins now. Raises `InputError` for a sheet without steps."""
    if not sheet.entries:
        raise InputError({"stove": ("there is nothing to cook at this sitting",)})
    early = timedelta(minutes=EARLY_MIN)
    planned = sheet.starts_at
    zero = planned if planned - early <= now <= planned + early else now
    shift = zero - planned
    waits = _waits(sheet)
    rows = tuple(_row(entry, planned, waits.get(n, ())) for n, entry in enumerate(sheet.entries))
    return Evening(zero, _minutes(sheet.serve + shift - zero), rows)


def _row(entry: Entry, planned: datetime, waits: Sequence[Wait]) -> Row:
    return Row(
        text=entry.text[:1].upper() + entry.text[1:],
        where=entry.where,
        until=entry.until,
        at=_minutes(entry.start - planned),
        minutes=entry.minutes,
        hands=entry.attention is Attention.HANDS_ON,
        waits=tuple(waits),
        amounts=", ".join(str(amount) for amount in entry.amounts),
        tasks=entry.tasks,
        planned=_minutes(entry.start - planned),
    )


def _waits(sheet: RunSheet) -> Mapping[int, list[Wait]]:
    """Which row waits for which, from the schedule's own arcs (lags, hands, burners, vessels)."""
    if sheet.kitchen is None or sheet.schedule is None:
        return {}
    return waits_between(
        sheet.kitchen.problem, sheet.schedule.spots, {t: n for n, e in enumerate(sheet.entries) for t in e.tasks}
    )


def waits_between(problem: Problem, spots: Mapping[str, Spot], row_of: Mapping[str, int]) -> Mapping[int, list[Wait]]:
    """By row, what it waits for in a schedule of these spots, and how much is to spare."""
    takes = shortest(problem, spots)
    found: dict[int, list[Wait]] = {}
    for arc in arcs(problem, spots):
        first, second = row_of.get(arc.first), row_of.get(arc.second)
        if first is None or second is None or first == second:
            continue
        spare = (spots[arc.second].start - spots[arc.first].start - arc.wait) / TICKS_PER_MIN
        found.setdefault(second, []).append(Wait(first, max(0.0, spare), arc.wait >= takes[arc.first]))
    return found


def retime(evening: Evening, now: datetime) -> Live:
    """When everything starts and ends by what is known now."""
    at = _minutes(now - evening.zero)
    held = evening.held + (at - evening.paused if evening.paused is not None else 0.0)
    starts, ends = [0.0] * len(evening.rows), [0.0] * len(evening.rows)
    order = sorted(range(len(evening.rows)), key=lambda n: (evening.rows[n].at, n))
    for n in order:
        row = evening.rows[n]
        late = max([held, *(_passed_on(w, evening.rows, starts, ends) for w in row.waits)])
        starts[n], ends[n] = _times(row, row.at + late, at)
    planned = [
        max(evening.serve, row.first_planned + row.minutes) for row in evening.rows
    ]  # curd sets long after dinner
    late = max([0.0, *(end - due for end, due in zip(ends, planned, strict=True))])
    serve = evening.serve + late
    rows = tuple(_live(n, evening, starts[n], ends[n], at) for n in range(len(evening.rows)))
    return Live(now, rows, _moment(evening, serve), late, evening.paused is not None)


def _passed_on(wait: Wait, rows: Sequence[Row], starts: Sequence[float], ends: Sequence[float]) -> float:
    first = rows[wait.row]
    late = ends[wait.row] - first.at - first.minutes if wait.end else starts[wait.row] - first.at
    return late - wait.spare


def _times(row: Row, planned: float, now: float) -> tuple[float, float]:
    if row.done is not None:
        return row.done if row.began is None else row.began, row.done
    if row.began is not None:
        return row.began, max(row.began + row.minutes + row.more, now)
    start = max(planned, now)
    return start, start + row.minutes + row.more


def _live(number: int, evening: Evening, start: float, end: float, at: float) -> LiveRow:
    row = evening.rows[number]
    if row.done is not None:
        state = State.DONE
    elif row.began is not None:
        state = State.GOING
    else:
        free = all(evening.rows[w.row].done is not None for w in row.waits if w.end)
        state = State.READY if free and start <= at + 1 else State.TO_COME
    return LiveRow(
        number, row, _moment(evening, start), _moment(evening, end), max(0.0, start - row.first_planned), state
    )


def _moment(evening: Evening, minutes: float) -> datetime:
    return evening.zero + timedelta(minutes=minutes)


def _minutes(span: timedelta) -> float:
    return round(span.total_seconds() / 60, 3)


# What the cook does. Each gives the evening back as it is then.


def started(evening: Evening, number: int, at: float) -> Evening:
    """The step was begun."""
    return _with(evening, number, lambda row: replace(row, began=at if row.began is None else row.began))


def finished(evening: Evening, number: int, at: float) -> Evening:
    """The step is done."""
    return _with(evening, number, lambda row: replace(row, done=at, began=at if row.began is None else row.began))


def longer(evening: Evening, number: int, at: float, minutes: float = 5.0) -> Evening:
    """The step needs more minutes: counted from now, where its time is over already."""

    def more(row: Row) -> Row:
        over = 0.0 if row.began is None else max(0.0, at - (row.began + row.minutes + row.more))
        return replace(row, more=row.more + over + minutes)

    return _with(evening, number, more)


def left_out(evening: Evening, number: int, at: float) -> Evening:
    """The step is not needed this time."""
    return _with(evening, number, lambda row: replace(row, done=at, began=at, skipped=True))


def again(evening: Evening, number: int, _at: float) -> Evening:
    """The step was not begun after all."""
    return _with(evening, number, lambda row: replace(row, began=None, done=None, more=0.0, skipped=False))


def paused(evening: Evening, _number: int, at: float) -> Evening:
    """Everything that has not begun waits."""
    return evening if evening.paused is not None else replace(evening, paused=at)


def resumed(evening: Evening, _number: int, at: float) -> Evening:
    """It goes on; what has not begun is later by the pause."""
    if evening.paused is None:
        return evening
    return replace(evening, paused=None, held=evening.held + at - evening.paused)


DEEDS: Mapping[str, Callable[[Evening, int, float], Evening]] = {
    "begin": started,
    "done": finished,
    "more": longer,
    "skip": left_out,
    "again": again,
    "pause": paused,
    "resume": resumed,
}


def _with(evening: Evening, number: int, change: Callable[[Row], Row]) -> Evening:
    if not 0 <= number < len(evening.rows):
        raise InputError({"step": (f"there is no step {number + 1} on this sheet",)})
    rows = list(evening.rows)
    rows[number] = change(rows[number])
    return replace(evening, rows=tuple(rows))


# Kept in the book.


def begin(household: Household, day: date, meal: Meal, sheet: RunSheet, now: datetime) -> Evening:
    """Begin to cook; an evening begun already on another phone is joined."""
    there = current(household, day, meal)
    if there is not None:
        return there
    evening = from_sheet(sheet, now)
    _keep(household, _key(day, meal), evening, now, task="begin to cook")
    return evening


def current(household: Household, day: date, meal: Meal) -> Evening | None:
    """The evening of that sitting; None where nobody has begun."""
    said = marks.read(household, marks.EVENING, _key(day, meal))
    return None if said is None else _read(said)


def did(
    household: Household,
    day: date,
    meal: Meal,
    now: datetime,
    *,
    deed: str,
    number: int = 0,
    again: Callable[[Evening, float], Evening] = lambda evening, _at: evening,
) -> Evening:
    """Write one deed of `DEEDS` down; `again` plans the rest anew, by what is known then."""
    evening = current(household, day, meal)
    if evening is None:
        raise InputError({"stove": ("nobody has begun to cook this sitting; begin first",)})
    if deed not in DEEDS:
        raise InputError({"stove": (f"{deed!r} is none of {', '.join(DEEDS)}",)})
    at = _minutes(now - evening.zero)
    changed = again(DEEDS[deed](evening, number, at), at)
    step = changed.rows[number].text if deed not in ("pause", "resume") else ""
    _keep(household, _key(day, meal), changed, now, task=f"stove: {deed}", note=step)
    return changed


def end(household: Household, day: date, meal: Meal, now: datetime) -> None:
    """Put the evening away; it stays in the ledger."""
    with ledger.action(household, now, "leave the stove", _key(day, meal)) as recorder:
        marks.write(recorder, marks.EVENING, _key(day, meal), None)


def _keep(household: Household, key: str, evening: Evening, now: datetime, *, task: str, note: str = "") -> None:
    with ledger.action(household, now, task, note or key) as recorder:
        marks.write(recorder, marks.EVENING, key, {**asdict(evening), "zero": evening.zero.isoformat()})


def _key(day: date, meal: Meal) -> str:
    return f"{day.isoformat()} {meal}"


def _read(said: Mapping[str, Any]) -> Evening:
    rows = tuple(_read_row(row) for row in said["rows"])
    return Evening(
        zero=datetime.fromisoformat(said["zero"]),
        serve=said["serve"],
        rows=rows,
        paused=said["paused"],
        held=said["held"],
    )


def _read_row(said: Mapping[str, Any]) -> Row:
    waits = tuple(Wait(**wait) for wait in said["waits"])
    return Row(**{**said, "waits": waits, "tasks": tuple(said.get("tasks", ()))})
