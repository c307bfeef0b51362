"""The bench list on the phone: what is done is ticked off, and two phones see the same."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from chauka.scheduling import BenchEntry, BoxLabel
from chauka.services import bench, plan_days
from chauka.store import books, ledger, marks
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class BenchLine:
    """One piece of work ahead, known by its key, done or not."""

    key: str
    entry: BenchEntry
    done: bool


@dataclass(frozen=True, slots=True)
class BenchDays:
    """The bench list of a plan by day, and the labels of the boxes."""

    plan: int
    days: tuple[tuple[date, tuple[BenchLine, ...]], ...]
    labels: tuple[BoxLabel, ...]


def view(household: Household, now: datetime) -> BenchDays:
    """The bench list of the plan in force with its ticks."""
    kept = plan_days.the_current(household, now)
    listed = bench.of_plan(books.load_book(household), kept.plan).bench
    done = marks.under(household, marks.DONE, f"{kept.number}/")
    lines = [BenchLine(key, entry, key in done) for key, entry in _keyed(listed.entries)]
    by_day = groupby(lines, lambda line: line.entry.start.date())
    return BenchDays(kept.number, tuple((day, tuple(of_it)) for day, of_it in by_day), listed.labels)


def _keyed(entries: tuple[BenchEntry, ...]) -> Iterator[tuple[str, BenchEntry]]:
    for entry in entries:
        said = f"{entry.start.isoformat()} {entry.text} {entry.steps}"
        yield hashlib.sha256(said.encode()).hexdigest()[:12], entry


def tick(household: Household, plan: int, key: str, now: datetime, *, done: bool) -> None:
    """Set one line done or not done; said twice it counts once."""
    mark = f"{plan}/{key}"
    if (marks.read(household, marks.DONE, mark) is not None) == done:
        return
    with ledger.action(household, now, "bench: done" if done else "bench: not done") as recorder:
        marks.write(recorder, marks.DONE, mark, now.isoformat() if done else None)
