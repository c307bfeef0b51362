"""One iCalendar feed of a house: sittings, market days, work ahead, cooking starts, use-by reminders.

Times are the house's wall time and carry no zone, so they mean the same to everyone in the kitchen. Each entry's
UID is made of what it is about (day and meal, market day, lot, steps), so that a changed plan moves entries
instead of doubling them.
"""

from __future__ import annotations

import hashlib
import math
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta

import icalendar

from chauka.keeping import UseBy
from chauka.kitchen import Batch, Dish, Lot, Sitting, TablePlan
from chauka.publishing import press
from chauka.publishing.times import session_min
from chauka.scheduling import BenchList, RunSheet
from chauka.scheduling.sheet import first_clause

PRODID = "-//chauka//kitchen calendar//EN"
_MARKET_OPENS = time(7, 0)
_REMIND = time(8, 0)


@dataclass(frozen=True, slots=True)
class Event:
    """One entry. `uid` is stable; a `start` that is a day means the whole day; `alarm` is how long before it rings."""

    uid: str
    start: datetime | date
    end: datetime | date
    summary: str
    text: str = ""
    alarm: timedelta | None = None
    kind: str = ""


def feed(house: str, events: Iterable[Event], stamp: datetime) -> bytes:
    """The calendar. `stamp` says as of when it holds (UTC): the plan's own time, so that the same plan gives the same
    bytes. Raises `ValueError` for two entries with one UID."""
    calendar = icalendar.Calendar()
    calendar.add("prodid", PRODID)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", house)
    seen: set[str] = set()
    for event in sorted(events, key=lambda e: (str(e.start), e.uid)):
        if event.uid in seen:
            raise ValueError(f"two calendar entries have the UID {event.uid}")
        seen.add(event.uid)
        calendar.add_component(_entry(event, stamp, _slug(house)))
    return bytes(calendar.to_ical())


def _entry(event: Event, stamp: datetime, house: str) -> icalendar.Event:
    entry = icalendar.Event()
    entry.add("uid", f"{event.uid}@{house}.chauka")
    entry.add("dtstamp", _utc(stamp))
    entry.add("dtstart", event.start)
    entry.add("dtend", event.end)
    entry.add("summary", _clean(event.summary))
    if event.text:
        entry.add("description", _clean(event.text))
    if event.kind:
        entry.add("categories", [event.kind])
    if not isinstance(event.start, datetime):
        entry.add("transp", "TRANSPARENT")
    if event.alarm is not None:
        alarm = icalendar.Alarm()
        alarm.add("action", "DISPLAY")
        alarm.add("description", _clean(event.summary))
        alarm.add("trigger", -event.alarm)
        entry.add_component(alarm)
    return entry


def plan_events(plan: TablePlan, dishes: Mapping[str, str]) -> Iterator[Event]:
    """Sittings and market days of a plan; `dishes` gives names by id."""
    for sitting in plan.sittings:
        served = [dishes.get(s.dish, s.dish) for s in plan.at(sitting.day, sitting.meal)]
        if served:
            start = datetime.combine(sitting.day, sitting.serve)
            yield Event(
                f"sitting-{sitting.day}-{sitting.meal}", start, start + timedelta(minutes=45),
                f"{str(sitting.meal).capitalize()}: {', '.join(served)}", kind="table",
            )  # fmt: skip
    for day in sorted({p.day for p in plan.purchases}):
        packs = [p for p in plan.purchases if p.day == day]
        rows = sorted(f"{p.packs} × {p.pack} ({p.stall})" for p in packs)
        start = datetime.combine(day, _MARKET_OPENS)
        yield Event(
            f"market-{day}", start, start + timedelta(hours=1), f"Market: {len(packs)} things to buy", "\n".join(rows),
            timedelta(hours=11), "market",
        )  # fmt: skip


def bench_events(bench: BenchList, dishes: Mapping[str, str]) -> Iterator[Event]:
    """Work ahead, soaks among it; it rings when it is time."""
    for entry in bench:
        about = "|".join(sorted((*entry.dishes, *(step for _, step in entry.steps), entry.needed.isoformat())))
        uid = f"bench-{entry.technique}-{hashlib.sha256(about.encode()).hexdigest()[:12]}"
        needed = f"Needed by {entry.needed:%a %H:%M} for {', '.join(dishes.get(d, d) for d in entry.dishes)}."
        end = max(entry.end, entry.start + timedelta(minutes=5))
        text = "\n".join(x for x in (entry.detail, entry.why, needed) if x)
        yield Event(uid, entry.start, end, entry.text, text, timedelta(0), "bench")


def cooking_event(sheet: RunSheet, meal: str) -> Event:
    """When to start cooking for one sitting; it rings ten minutes before."""
    text = "\n".join(f"{e.start:%H:%M} {e.text}" for e in sheet)
    return Event(
        f"cook-{sheet.serve.date()}-{meal}", sheet.starts_at, sheet.serve, f"Start cooking {meal}", text,
        timedelta(minutes=10), "stove",
    )  # fmt: skip


def step_events(sheet: RunSheet, meal: str) -> Iterator[Event]:
    """Every row of a run sheet as an entry that rings when it begins; a re-timed sheet moves them."""
    day = sheet.serve.date()
    for entry in sheet:
        uid = f"stove-{day}-{meal}-{hashlib.sha256('|'.join(entry.tasks or (entry.text,)).encode()).hexdigest()[:12]}"
        amounts = ", ".join(str(amount) for amount in entry.amounts)
        until = f"Until {entry.until}." if entry.until else ""
        text = "\n".join(x for x in (entry.text, amounts, entry.where, until) if x)
        end = max(entry.end, entry.start + timedelta(minutes=1))
        yield Event(uid, entry.start, end, first_clause(entry.text), text, timedelta(0), "stove")


def use_by_events(lots: Iterable[tuple[Lot, str, UseBy]]) -> Iterator[Event]:
    """The last day of each lot (with its name and use-by), as a whole-day entry that rings the morning before."""
    for lot, name, use_by in lots:
        day = use_by.at.date()
        before = datetime.combine(day, time(0)) - datetime.combine(day - timedelta(days=1), _REMIND)
        yield Event(
            f"use-by-{lot.id}", day, day + timedelta(days=1), f"Use up: {name}", f"{use_by.reason}", before, "shelf"
        )


def _utc(stamp: datetime) -> datetime:
    return stamp if stamp.tzinfo else stamp.replace(tzinfo=UTC)


def _clean(text: str) -> str:
    """Without signs of control, which the format forbids, and with one kind of line break."""
    return str(press.clean(text))


def _slug(name: str) -> str:
    return re.sub(r"[^a-z0-9]+", "-", name.lower()).strip("-") or "house"


def cooking_starts(plan: TablePlan, dishes: Iterable[Dish]) -> Iterator[Event]:
    """About when to start for each sitting, from the dishes' steps alone: the longest dish, or all the handwork if that
    is more. Same UID as `cooking_event`, which knows better once a run sheet is made."""
    known = {d.id: d for d in dishes}
    batches = {b.id: b for b in plan.batches}
    for sitting in plan.sittings:
        served = (s for s in plan.at(sitting.day, sitting.meal) if s.batch in batches)
        cooked = [known[s.dish] for s in served if _now(batches[str(s.batch)], sitting)]
        if not cooked:
            continue
        serve = datetime.combine(sitting.day, sitting.serve)
        longest = max(session_min(d) for d in cooked)
        minutes = 5 * math.ceil(max(longest, sum(d.hands_on_min for d in cooked), 5) / 5)
        names = ", ".join(d.name for d in cooked)
        yield Event(
            f"cook-{sitting.day}-{sitting.meal}", serve - timedelta(minutes=minutes), serve,
            f"Start cooking {sitting.meal}: {names}", "About this time; the run sheet says it to the minute.",
            timedelta(minutes=10), "stove",
        )  # fmt: skip


def _now(batch: Batch, sitting: Sitting) -> bool:
    return (batch.day, batch.meal) == (sitting.day, sitting.meal)
