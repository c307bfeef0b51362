"""Wrong inputs for every reader: `python -m benchmarks.fuzz` in small. Only chauka's own errors may come out."""

from __future__ import annotations

from pathlib import Path

import pytest
from benchmarks.fuzz import of_house, readers, run
from tests.services.small_house import BOOK
from tests.store.fixtures import blank_book, book_file, free_to_open

from chauka.errors import ChaukaError
from chauka.reading import read_dish
from chauka.store import books

__all__ = ["blank_book", "book_file", "free_to_open"]

INPUTS = {
    "line": 300, "amount": 4_500, "captions": 10_000, "style": 3_500, "dish-file": 400, "narration": 30, "recipe": 30,
    "page-data": 80, "own-page": 300, "dump": 200, "export": 120,
}  # fmt: skip
"""By reader: many where reading is cheap. Other inputs than those of the command's first seed."""

BEFORE_A_BOOK = {"shelf": 10, "log": 10, "bought": 5, "numbers": 150, "person": 20, "rule": 500, "http": 40}
SEED = 7


@pytest.mark.parametrize("reader", readers.PURE, ids=lambda r: r.name)
def test_a_reader_raises_nothing_but_our_own_errors(reader: readers.Reader) -> None:
    """Damaged samples, random signs, pieces repeated, values changed from inside."""
    _clean(run.run(reader, INPUTS[reader.name], SEED))


def test_readers_before_a_book_change_nothing_where_they_refuse(book_file: Path) -> None:
    """The shelf by speech, the ledger, purchases, the house's settings, pages and API; the book stays as it was."""
    household = books.create(BOOK)
    for reader in of_house.readers(household):
        _clean(run.run(reader, BEFORE_A_BOOK.get(reader.name, 3), SEED))
    assert books.load_book(household) == BOOK


def test_the_tests_read_twenty_thousand() -> None:
    """As many as are promised."""
    assert sum(INPUTS.values()) + sum(BEFORE_A_BOOK.values()) >= 20_000


def _clean(found: run.Found) -> None:
    assert not found.faults, found.told


@pytest.mark.parametrize(
    "text",
    [
        '<!doctype html><script type="application/ld+json">' * 20_000,
        "<!doctype html>" + "<!--" * 100_000,
        "<!doctype html>" + "<script " * 100_000,
        "[" * 100_000,
    ],
)
def test_a_hostile_page_is_refused_without_reading_it_twice(text: str) -> None:
    """Unclosed tags and brackets once cost the square of their number."""
    with pytest.raises(ChaukaError):
        read_dish(text)
