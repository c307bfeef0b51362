"""The bench: what to clean, soak, cut and boil ahead, box and label, and when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from chauka import scheduling
from chauka.kitchen import Book, TablePlan, as_planned
from chauka.scheduling import BenchEntry, BoxLabel
from chauka.services import plan_days
from chauka.store import books
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class BenchView:
    """The bench list of a plan."""

    bench: scheduling.BenchList


def view(household: Household, now: datetime) -> BenchView:
    """The bench list of the plan in force."""
    kept = plan_days.the_current(household, now)
    return of_plan(books.load_book(household), kept.plan)


def of_plan(book: Book, plan: TablePlan) -> BenchView:
    """The bench list of a plan."""
    return BenchView(scheduling.bench_list(plan, as_planned(book, plan)))


def on_day(book: Book, plan: TablePlan, day: date) -> tuple[BenchEntry, ...]:
    """The work ahead of one day."""
    return of_plan(book, plan).bench.on(day)


__all__ = ["BenchEntry", "BenchView", "BoxLabel", "of_plan", "on_day", "view"]
