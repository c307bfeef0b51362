"""The bench: what to clean, soak, cut and boil ahead, box and label, and when."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from chauka import scheduling
from chauka.kitchen import Book, TablePlan
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
    return BenchView(scheduling.bench_list(plan, book))
