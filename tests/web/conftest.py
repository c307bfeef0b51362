"""The demo house with a plan, in a book of its own, and a browser without a browser."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from django.test import Client
from tests.store.fixtures import blank_book, book_file, free_to_open

from chauka import demo, planning
from chauka.kitchen import Book, TablePlan
from chauka.services import workers
from chauka.store import books, plans
from chauka.store.models import Household

__all__ = ["blank_book", "book_file", "free_to_open"]
NOW = datetime.fromisoformat("2027-03-14T07:00")


@pytest.fixture(scope="session")
def book() -> Book:
    """The demo house on its first day."""
    return demo.book(NOW.date())


@pytest.fixture(scope="session")
def plan(book: Book) -> TablePlan:
    """A plan of three days, good enough to be shown."""
    return planning.plan(book, NOW.date(), 3, seconds=2)


@pytest.fixture(autouse=True)
def _no_worker(monkeypatch: pytest.MonkeyPatch) -> None:
    """What is asked to be planned is written down, and no process is started for it."""
    monkeypatch.setattr(workers, "start", lambda _: None)


@pytest.fixture
def household(book_file: Path, book: Book, plan: TablePlan) -> Household:
    """The demo house with its plan in force."""
    made = books.create(book)
    plans.accept(made, plans.propose(made, plan, NOW).number, NOW)
    return made


@pytest.fixture
def client(household: Household, settings: object) -> Client:
    """Asks for pages as a browser does, on the demo's first day."""
    settings.CHAUKA_TODAY = "2027-03-14"  # type: ignore[attr-defined]
    return Client(SERVER_NAME="localhost", headers={"accept-encoding": "gzip"})
