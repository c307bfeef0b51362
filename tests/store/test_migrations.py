"""A book of every schema that there was opens with all it holds, after a copy; frozen as SQL text, which diffs."""

from __future__ import annotations

import sqlite3
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW

from chauka.kitchen import Deed
from chauka.store import books, copies, dump, ledger, opening, photos, plans, soundness, undo

FROZEN = Path(__file__).parent / "frozen"
LATEST = max(Path(opening.__file__).with_name("migrations").glob("0*.py")).stem[:4]
DONE = {"0005": 5, "0006": 6}
"""Actions in the frozen book: each later one shows a photo besides, then has a dish with another as a part."""

pytestmark = pytest.mark.usefixtures("free_to_open")


def _thawed(schema: str, path: Path) -> Path:
    file = sqlite3.connect(path)
    file.executescript((FROZEN / f"{schema}.sql").read_text(encoding="utf-8"))
    file.close()
    return path


def test_the_latest_schema_is_frozen_too() -> None:
    """Whoever adds a migration freezes a book of it here."""
    assert (FROZEN / f"{LATEST}.sql").exists()


@pytest.mark.parametrize("schema", sorted(p.stem for p in FROZEN.glob("*.sql")))
def test_a_book_of_each_schema_opens_whole(schema: str, tmp_path: Path) -> None:
    path = _thawed(schema, tmp_path / "book.sqlite3")
    opening.open_book(path)
    before = list(tmp_path.glob("book.before-store-*.sqlite3"))
    assert len(before) == (schema != LATEST)
    owner = books.household()
    book = books.load_book(owner)
    first = book.dishes[: len(BOOK.dishes)]  # a later schema has one with a part besides
    assert (book.house, first, book.offers) == (BOOK.house, BOOK.dishes, BOOK.offers)
    assert [lot.grams for lot in book.lots] == [250.0, 2000.0, 500.0]
    assert [r.deed for r in ledger.rows(owner)] == [Deed.BOUGHT, Deed.USED, Deed.EATEN]
    assert len(ledger.prices(owner)) == 1
    current = plans.current(owner)
    assert current is not None
    assert current.accepted == NOW + timedelta(minutes=5)
    assert copies.look_through(path) == ()


@pytest.mark.parametrize("schema", sorted(p.stem for p in FROZEN.glob("*.sql")))
def test_a_book_of_each_schema_goes_on(schema: str, tmp_path: Path) -> None:
    """What was done before the tables changed can be taken back; new actions are numbered after the old."""
    opening.open_book(_thawed(schema, tmp_path / "book.sqlite3"))
    owner = books.household()
    last = undo.newest(owner, 1)[0][0]
    for _ in range(DONE.get(schema, 4)):
        undo.undo(owner, NOW)
    assert replace(books.load_book(owner), lots=()) == replace(BOOK, lots=())
    assert {lot.id: lot.grams for lot in books.load_book(owner).lots} == {lot.id: lot.grams for lot in BOOK.lots}
    assert undo.newest(owner, 1)[0][0] == last + DONE.get(schema, 4)
    dump.write(owner, tmp_path / "house.json", NOW)
    assert dump.take(dump.restore(dump.read(tmp_path / "house.json"))) == dump.read(tmp_path / "house.json")


def test_the_photo_of_a_frozen_book_is_still_shown(tmp_path: Path) -> None:
    opening.open_book(_thawed("0005", tmp_path / "book.sqlite3"))
    owner = books.household()
    shown = photos.shown(owner, "dish/wilted-spinach")
    assert shown is not None
    assert (photos.jpeg(owner, shown.digest) or b"")[:3] == b"\xff\xd8\xff"
    assert list(soundness.disagreements(owner)) == []


def test_the_part_of_a_frozen_dish_is_still_put_in(tmp_path: Path) -> None:
    opening.open_book(_thawed("0006", tmp_path / "book.sqlite3"))
    owner = books.household()
    assert books.load_written(owner).dish("spinach-rice").line("greens").made == "wilted-spinach"
    assert [line.id for line in books.load_book(owner).dish("spinach-rice").lines] == ["rice", "greens_spinach"]


def test_a_copy_of_an_old_schema_is_put_back(tmp_path: Path) -> None:
    opening.open_book(tmp_path / "book.sqlite3")
    old = _thawed("0001", tmp_path / "old.sqlite3")
    copies.put_back(old, NOW)
    assert books.load_book(books.household()).dishes == BOOK.dishes
