"""The store on a real PostgreSQL server: the same books, ledger, undo, dumps; households apart."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from django.db import connection, connections
from hypothesis import HealthCheck, given, settings
from tests.faults.serving import Phone, Serving
from tests.services.small_house import BOOK, NOW
from tests.store import generated, postgres
from tests.store.fixtures import _kept_connection
from tests.store.test_books import rolled_back

from chauka.errors import InputError
from chauka.kitchen import Book, Deed, LedgerRow, TablePlan
from chauka.services import house, market, shelf
from chauka.store import books, copies, dump, ledger, models, opening, plans, undo
from chauka.store.database import from_url
from chauka.store.models import Household

few = settings(max_examples=10, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.fixture(scope="module")
def database() -> Iterator[str]:
    """The address of a server's empty database."""
    with postgres.server() as url:
        yield url


@pytest.fixture(autouse=True)
def opened(database: str, django_db_blocker: Any, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Django is on that database, brought up to date, with nobody in it."""
    with django_db_blocker.unblock(), _kept_connection():
        connections.settings["default"] = {**connections.settings["default"], **from_url(database)}
        del connections["default"]
        opening.bring_up_to_date()
        yield
        for owner in models.Household.objects.all():
            owner.delete()
        connections["default"].close()


@pytest.fixture
def owner() -> Household:
    """The small house."""
    return books.create(BOOK)


def test_it_is_really_postgresql() -> None:
    assert connection.vendor == "postgresql"
    assert opening.file() is None


@few
@given(book=generated.books(), plan=generated.plans)
def test_any_book_is_kept_dumped_and_restored_equal(book: Book, plan: TablePlan) -> None:
    with rolled_back():
        owner = books.create(book)
        assert books.load_book(owner) == book
        plans.propose(owner, plan, NOW)
        taken = dump.take(owner)
        assert dump.take(dump.restore(dump.from_json(dump.to_json(taken, NOW).encode()))) == taken


def test_deeds_are_kept_taken_back_and_done_again(owner: Household) -> None:
    shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="150 g")
    market.buy(owner, "C033", "500 g", 3000, NOW)
    after = books.load_book(owner)
    undo.undo(owner, NOW)
    undo.undo(owner, NOW)
    assert books.load_book(owner) == BOOK
    undo.redo(owner, NOW)
    undo.redo(owner, NOW)
    assert books.load_book(owner) == after
    assert not [f for f in house.check(owner, NOW, thorough=True) if f.where.startswith(("lot", "ledger", "file"))]


def test_a_dump_of_a_file_comes_into_the_database(owner: Household, tmp_path: Path) -> None:
    shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="150 g")
    dump.write(owner, tmp_path / "house.json", NOW)
    restored = dump.restore(dump.read(tmp_path / "house.json"))
    shelf.log(restored, "spinach-1", Deed.USED, NOW, amount="50 g")
    assert [a.number for a in dump.take(restored).actions] == [1, 2]


def test_two_households_never_see_each_other(owner: Household) -> None:
    """Whatever one does, the other's book, ledger, prices, plans and past stay as they were."""
    other = books.create(replace(BOOK, house=replace(BOOK.house, name="next door")))
    before = dump.take(other)
    market.buy(owner, "C033", "500 g", 3000, NOW)
    shelf.log(owner, "curd-1", Deed.EATEN, NOW)
    assert dump.take(other) == before
    with pytest.raises(InputError, match="there is no action 1"):
        undo.take_back(other, 1, NOW)
    with pytest.raises(InputError, match="several households share this book"):
        books.household()
    dump.restore(dump.take(owner))
    assert dump.take(other) == before


def test_writers_at_the_same_time_are_numbered_one_after_another(owner: Household) -> None:
    """Four threads, each with a connection of its own; nothing is lost, no number given twice."""
    complaints: list[BaseException] = []

    def write() -> None:
        try:
            for _ in range(8):
                ledger.record(owner, LedgerRow(at=NOW, deed=Deed.USED, grams=5.0, lot="spinach-1"))
        except BaseException as error:  # noqa: BLE001 - told to the test
            complaints.append(error)
        finally:
            connection.close()

    threads = [threading.Thread(target=write) for _ in range(4)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert complaints == []
    assert [a.number for a in dump.take(owner).actions] == list(range(1, 33))
    assert books.load_book(owner).lots[0].grams == 400 - 32 * 5


def test_a_copy_of_a_file_is_refused_in_words(owner: Household, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="restore a dump"):
        copies.put_back(tmp_path / "x.sqlite3", NOW)


def test_two_households_never_see_each_other_over_http(owner: Household, database: str) -> None:
    """One server for each household on one database; the pages of one name nothing of the other."""
    theirs = replace(BOOK.lots[1], id="secret-rice", note="theirs")
    other = books.create(replace(BOOK, house=replace(BOOK.house, name="Next door"), lots=(theirs,)))
    one, two = ({"DATABASE_URL": database, "CHAUKA_HOUSEHOLD": name} for name in ("Small house", "Next door"))
    with Serving(None, environment=one) as ours, Serving(None, environment=two) as next_door:
        here, there = Phone(ours.port), Phone(next_door.port)
        for path in ("/house/", "/shelf/", "/dishes/", "/ledger/", "/"):
            assert "Next door" not in here.get(path)[1]
            assert "Small house" not in there.get(path)[1]
        assert here.post("/shelf/secret-rice/log", deed="binned") == 422
        assert here.post("/shelf/rice-1/log", deed="used", amount="10 g") == 302
        assert there.post("/ledger/take-back", number="1") == 422
        here.close()
        there.close()
    assert books.load_book(other).lots == (theirs,)
    assert len(ledger.rows(owner)) == 1
