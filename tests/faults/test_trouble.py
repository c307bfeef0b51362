"""A disk that is full, a file that is read-only or locked, a clock set back, two servers: words, and nothing lost."""

from __future__ import annotations

import resource
import sqlite3
import threading
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

import pytest
from django.db import connection
from tests.faults import kill
from tests.faults.serving import Phone, Serving
from tests.services.small_house import BOOK, NOW
from tests.store.fixtures import blank_book, book_file, free_to_open

from chauka.errors import InputError
from chauka.kitchen import Deed, Proof, TablePlan
from chauka.services import house, shelf
from chauka.store import books, copies, dump, plans
from chauka.store.models import Household

__all__ = ["blank_book", "book_file", "free_to_open"]


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


def _pragma(words: str) -> None:
    with connection.cursor() as cursor:
        cursor.execute(f"PRAGMA {words}")


def _fill(owner: Household) -> None:
    for _ in range(400):
        shelf.add(owner, "C033", "300 g", NOW, note="x" * 500)


def test_a_full_disk_is_said_and_what_was_there_stays(owner: Household) -> None:
    _pragma("max_page_count = 70")
    with pytest.raises(InputError, match=r"the disk is full\. Make room"):
        _fill(owner)
    was = dump.take(owner)
    with pytest.raises(InputError, match="the disk is full"):
        _fill(owner)
    _pragma("max_page_count = 4294967294")
    assert house.check(owner, NOW, thorough=True) == tuple(house.faults(books.load_book(owner), NOW))
    shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="10 g")
    assert len(dump.take(owner).actions) > len(was.actions)


def test_a_read_only_book_is_said_and_can_still_be_read(owner: Household) -> None:
    _pragma("query_only = ON")
    with pytest.raises(InputError, match="read-only for you"):
        shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="10 g")
    assert len(shelf.view(owner, NOW).lots) == 3


def test_a_book_that_another_program_writes_to_is_said(owner: Household, book_file: Path) -> None:
    connection.ensure_connection()
    _pragma("busy_timeout = 50")
    other = sqlite3.connect(book_file, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    try:
        with pytest.raises(InputError, match="another program is writing"):
            shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="10 g")
        assert len(shelf.view(owner, NOW).lots) == 3
    finally:
        other.execute("ROLLBACK")
        other.close()
    shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="10 g")


def test_a_clock_set_back_loses_nothing_and_the_newest_plan_is_followed(owner: Household, book_file: Path) -> None:
    def plan(now: timedelta) -> int:
        made = TablePlan(NOW.date(), 1, (), (), (), (), (), (), (), Proof(1, 1, 1, "x"))
        kept = plans.propose(owner, made, NOW + now)
        return plans.accept(owner, kept.number, NOW + now).number

    plan(timedelta(days=3))
    shelf.log(owner, "spinach-1", Deed.USED, NOW + timedelta(days=3), amount="10 g")
    second = plan(timedelta())
    shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="20 g")
    assert plans.current(owner).number == second  # type: ignore[union-attr]
    assert ledger_grams(owner) == [10, 20]
    copies.make(book_file, copies.DAILY, NOW + timedelta(days=900))
    assert copies.make_daily(NOW) is not None


def ledger_grams(owner: Household) -> list[float]:
    """The grams of every deed, in the order in which they were written."""
    return [row.grams for action in dump.take(owner).actions for row in action.rows]


def test_what_does_not_agree_with_the_ledger_is_found(owner: Household) -> None:
    shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="10 g")
    with connection.cursor() as cursor:
        cursor.execute("UPDATE store_lot SET grams = 5 WHERE key = 'spinach-1'")
        cursor.execute("UPDATE store_lot SET gone = 0 WHERE key = 'rice-1'")
    found = [f.what for f in house.check(owner, NOW, thorough=True) if f.where == "lot spinach-1"]
    assert found == ["holds 5 g, and its last action left 390 g; restore a copy, or weigh what is there"]


def _writers(servers: list[Serving], lots: list[str], each: int) -> tuple[set[str], list[int]]:
    """Every server written to by one phone at the same time; the marks acknowledged, and all statuses."""
    acknowledged, statuses = set[str](), list[int]()

    def write(number: int, port: int) -> None:
        phone = Phone(port)
        for i in range(each):
            mark = f"{number}{i:04d}"
            statuses.append(phone.post(f"/shelf/{lots[i % 3]}/log", deed="used", amount="2 g", why=f"<{mark}>"))
            if statuses[-1] == 302:
                acknowledged.add(mark)
        phone.close()

    threads = [threading.Thread(target=write, args=(i, s.port)) for i, s in enumerate(servers, start=1)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return acknowledged, statuses


@pytest.mark.slow
def test_two_servers_on_one_book_lose_nothing(tmp_path: Path) -> None:
    book, lots = kill.made_book(tmp_path)
    with Serving(book) as one, Serving(book) as other:
        acknowledged, statuses = _writers([one, other], lots, 20)
    assert statuses == [302] * 40
    kill.check(book, kill.Story(sent=acknowledged, acknowledged=acknowledged))


def _small_files() -> Callable[[], None]:
    def limit() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (600_000, 600_000))

    return limit


@pytest.mark.slow
def test_a_server_on_a_full_disk_says_so_and_loses_nothing(tmp_path: Path) -> None:
    """The system refuses to let any file grow: as a full disk does."""
    book, lots = kill.made_book(tmp_path)
    with Serving(book, before=_small_files()) as server:
        acknowledged, statuses = _writers([server], lots, 150)
    assert 302 in statuses
    assert 422 in statuses
    assert set(statuses) == {302, 422}
    kill.check(book, kill.Story(sent=acknowledged, acknowledged=acknowledged))
    with Serving(book) as server:
        more, statuses = _writers([server], lots, 3)
    assert statuses == [302] * 3 or more
