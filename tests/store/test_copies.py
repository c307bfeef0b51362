"""Copies are whole, thinned out with age, and put back as they were; what is no copy changes nothing."""

from __future__ import annotations

import os
import sqlite3
import stat
from datetime import timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW

from chauka.errors import InputError
from chauka.kitchen import Deed, LedgerRow
from chauka.store import books, copies, dump, ledger
from chauka.store.copies import Copy
from chauka.store.models import Household


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


def _use(owner: Household, grams: float = 10) -> None:
    ledger.record(owner, LedgerRow(at=NOW, deed=Deed.USED, grams=grams, lot="spinach-1"))


def test_a_copy_put_back_is_the_book_as_it_was(owner: Household, book_file: Path) -> None:
    _use(owner)
    was = dump.take(owner)
    copy = copies.make(book_file, copies.BY_HAND, NOW)
    _use(owner, 50)
    later = dump.take(owner)
    before = copies.put_back(copy.path, NOW)
    assert dump.take(books.household()) == was
    assert before is not None
    copies.put_back(before.path, NOW + timedelta(minutes=1))
    assert dump.take(books.household()) == later


def test_another_story_of_the_same_length_is_not_taken_for_this_one(owner: Household, book_file: Path) -> None:
    """Books read before are kept by their last action's number; a copy put back gives that number again."""
    copy = copies.make(book_file, copies.BY_HAND, NOW)
    _use(owner, 10)
    assert books.load_book(owner).lots[0].grams == 390
    copies.put_back(copy.path, NOW)
    _use(owner, 100)
    assert books.load_book(owner).lots[0].grams == 300


def test_a_copy_is_private_and_found_again(owner: Household, book_file: Path) -> None:
    copy = copies.make(book_file, copies.BY_HAND, NOW)
    assert stat.S_IMODE(copy.path.stat().st_mode) == 0o600
    assert stat.S_IMODE(copy.path.parent.stat().st_mode) == 0o700
    assert copies.every(book_file) == (copy,)


def test_one_copy_a_day_and_only_if_something_changed(owner: Household, book_file: Path) -> None:
    _use(owner)
    first = copies.make_daily(NOW)
    assert first is not None
    assert copies.make_daily(NOW + timedelta(hours=2)) is None
    tomorrow = NOW + timedelta(days=1)
    for path in (book_file, book_file.with_name(book_file.name + "-wal")):
        if path.exists():
            os.utime(path, (1, 1))
    assert copies.make_daily(tomorrow) is None
    _use(owner)
    os.utime(book_file)
    assert copies.make_daily(tomorrow) is not None
    assert len(copies.every(book_file)) == 2


def test_copies_grow_thin_with_age() -> None:
    """Of two years of days: seven days, four weeks and twelve months, some of them the same copy."""
    daily = [Copy(Path(str(i)), copies.DAILY, NOW - timedelta(days=i), 1) for i in range(730)]
    gone = {c.path for c in copies.too_many(daily)}
    kept = [c for c in daily if c.path not in gone]
    assert [c.path for c in kept[:7]] == [Path(str(i)) for i in range(7)]
    assert len(kept) <= 7 + 4 + 12
    assert len({(c.at.year, c.at.month) for c in kept}) == 12
    assert copies.too_many(kept) == []


def test_what_is_no_copy_changes_nothing(owner: Household, book_file: Path, tmp_path: Path) -> None:
    was = dump.take(owner)
    letter, other = tmp_path / "letter.txt", tmp_path / "other.sqlite3"
    letter.write_text("Dear Amma, this is long enough to be read as a head")
    with sqlite3.connect(other) as made:
        made.execute("CREATE TABLE bookmarks (url TEXT)")
    made.close()
    newer = copies.make(book_file, copies.BY_HAND, NOW).path
    with sqlite3.connect(newer) as made:
        made.execute("INSERT INTO django_migrations (app, name, applied) VALUES ('store', '0999_later', '2029-01-01')")
    made.close()
    for path, complaint in (
        (letter, "is no book of chauka"),
        (other, "some other program"),
        (newer, r"newer chauka \(it has 0999_later\)"),
        (book_file, "is the open book itself"),
    ):
        with pytest.raises(InputError, match=complaint):
            copies.put_back(path, NOW)
    assert dump.take(books.household()) == was


@pytest.mark.parametrize("place", [0.2, 0.5, 0.9])
def test_a_damaged_copy_is_refused(owner: Household, book_file: Path, place: float) -> None:
    """Whole pages overwritten: the look through finds them, and the book stays."""
    was = dump.take(owner)
    copy = copies.make(book_file, copies.BY_HAND, NOW).path
    data = bytearray(copy.read_bytes())
    at = int(place * len(data)) // 4096 * 4096
    data[at : at + 4096] = os.urandom(4096)
    copy.write_bytes(data)
    with pytest.raises(InputError, match="damaged"):
        copies.put_back(copy, NOW)
    assert dump.take(books.household()) == was


def test_a_copy_cut_short_is_refused(owner: Household, book_file: Path) -> None:
    copy = copies.make(book_file, copies.BY_HAND, NOW).path
    copy.write_bytes(copy.read_bytes()[: copy.stat().st_size // 2])
    with pytest.raises(InputError, match="damaged"):
        copies.put_back(copy, NOW)


def test_where_no_copy_can_be_written_nothing_is_left(owner: Household, book_file: Path, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    with pytest.raises(InputError, match="cannot be written"):
        copies.make(book_file, copies.BY_HAND, NOW, tmp_path / "file")
    assert copies.every(book_file) == ()
