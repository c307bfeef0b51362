"""The worker that plans: killed without warning, its server stopped and started, on both kinds of database."""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Iterator
from datetime import datetime
from pathlib import Path

import pytest
from tests.store.fixtures import blank_book, book_file, free_to_open

from chauka import demo
from chauka.services import running
from chauka.store import books, jobs, plans
from chauka.store.jobs import Asked, Job
from chauka.store.models import Household

__all__ = ["blank_book", "book_file", "free_to_open"]
NOW = datetime.fromisoformat("2027-03-14T07:00")
LONG_S = 120.0
PATIENCE_S = 90.0


@pytest.fixture
def owner(book_file: Path) -> Iterator[Household]:
    """The demo house; no worker of its is left behind."""
    made = books.create(demo.book(NOW.date()))
    yield made
    for worker in _workers(book_file):
        os.kill(worker, signal.SIGKILL)


def _workers(book: Path) -> list[int]:
    """Processes that plan on this book."""
    found = []
    for process in Path("/proc").glob("[0-9]*"):
        try:
            words = (process / "cmdline").read_bytes().split(b"\0")
        except OSError:
            continue
        if b"work" in words and f"--book={book}".encode() in words:
            found.append(int(process.name))
    return found


def _until(holds: Callable[[], bool]) -> None:
    begun = time.monotonic()
    while not holds():
        assert time.monotonic() - begun < PATIENCE_S, "waited in vain"
        time.sleep(0.2)


def _worked_on_anew(owner: Household, before: str) -> bool:
    running.current(owner)  # as a phone asks
    return jobs.read(owner).worker not in ("", before)


@pytest.mark.slow
@pytest.mark.skipif(not Path("/proc/self/cmdline").exists(), reason="finds the worker in /proc, as on Linux")
def test_a_killed_worker_loses_nothing(owner: Household, book_file: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Its best plan so far stays as a proposal, another worker goes on, and stopping that keeps its best too."""
    running.start(owner, Asked(NOW.date(), NOW, 7, LONG_S))
    _until(lambda: plans.proposal(owner) is not None)
    first, kept = jobs.read(owner).worker, plans.proposal(owner)
    assert os.getpriority(os.PRIO_PROCESS, _workers(book_file)[0]) > 0
    os.kill(_workers(book_file)[0], signal.SIGKILL)
    assert plans.proposal(owner) == kept
    monkeypatch.setattr(running, "LOST_S", 3.0)
    _until(lambda: _worked_on_anew(owner, first))
    monkeypatch.undo()
    assert jobs.read(owner).queue
    running.stop(owner)
    _until(lambda: jobs.read(owner) == Job())
    assert plans.proposal(owner) is not None
    assert plans.proposal(owner) != kept
