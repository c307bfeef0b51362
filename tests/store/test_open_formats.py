"""What is exported as plain files comes back equal; what was changed on the way is refused with its place."""

from __future__ import annotations

import csv
import io
import json
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.services.small_house import BOOK, NOW
from tests.store import generated
from tests.store.test_books import rolled_back

from chauka.errors import InputError
from chauka.kitchen import Book, Deed, LedgerRow, TablePlan
from chauka.services import dumps, shelf
from chauka.store import books, dump, ledger, open_formats, plans


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck))
@given(
    book=generated.books(),
    plan=generated.plans,
    rows=st.lists(generated.ledger_rows, max_size=3),
    pictures=generated.pictures,
)
def test_any_book_exported_and_imported_is_equal(
    book_file: Path, book: Book, plan: TablePlan, rows: list[LedgerRow], pictures: list[bytes]
) -> None:
    with rolled_back():
        owner = books.create(book)
        plans.propose(owner, plan, NOW)
        for row in rows:
            ledger.record(owner, replace(row, lot=None))
        generated.keep_photos(owner, pictures, NOW)
        taken = dump.take(owner)
        files = open_formats.to_files(taken, NOW)
        assert open_formats.from_files(files, "x") == taken
        assert dump.take(dump.restore(open_formats.from_files(files, "x"))) == taken


def test_the_files_are_what_other_programs_read(book_file: Path, tmp_path: Path) -> None:
    owner = books.create(BOOK)
    shelf.log(owner, "spinach-1", Deed.BINNED, NOW, amount="50 g", why="=HYPERLINK(1)")
    folder = tmp_path / "out"
    dumps.export(owner, folder, NOW)
    ledger_rows = list(csv.DictReader(io.StringIO((folder / "csv/ledger.csv").read_text())))
    assert [(r["deed"], r["grams"], r["why"]) for r in ledger_rows] == [("binned", "50.0", "'=HYPERLINK(1)")]
    pages = [json.loads(p.read_text()) for p in sorted((folder / "schema.org").iterdir())]
    assert [p["@type"] for p in pages] == ["Recipe"] * 3
    was = dump.take(owner)
    shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="50 g")
    dumps.restore(folder, NOW)
    assert dump.take(books.household()) == was
    with pytest.raises(InputError, match="not empty; name a new folder"):
        dumps.export(books.household(), folder, NOW)


def test_a_changed_or_missing_file_is_named(book_file: Path) -> None:
    files = open_formats.to_files(dump.take(books.create(BOOK)), NOW)
    changed = files["lots.jsonl"].replace(b"400.0", b"4.0")
    for wrong, complaint in (
        ({"lots.jsonl": changed}, "x/lots.jsonl: was damaged or changed"),
        ({"dishes.jsonl": b"{\n"}, "x/dishes.jsonl: line 1 is damaged"),
        ({"house.jsonl": b""}, "x/house.jsonl: should be one line"),
        ({"lots.jsonl": b'{"id": 5}\n'}, r"lots\[0\].id: 5 should be a text"),
        ({"manifest.json": b"[]"}, "x/manifest.json: is not the manifest"),
    ):
        with pytest.raises(InputError, match=complaint):
            open_formats.from_files(files | wrong, "x")
    del files["prices.jsonl"]
    with pytest.raises(InputError, match=r"x/prices\.jsonl: is missing"):
        open_formats.from_files(files, "x")


def test_photos_are_files_that_other_programs_open(book_file: Path, tmp_path: Path) -> None:
    owner = books.create(BOOK)
    generated.keep_photos(owner, [b"a picture"], NOW)
    dumps.export(owner, tmp_path / "out", NOW)
    (photo,) = (tmp_path / "out" / "photos").iterdir()
    assert photo.read_bytes().startswith(b"\xff\xd8\xff")
    was = dump.take(owner)
    dumps.restore(tmp_path / "out", NOW)
    assert dump.take(books.household()) == was
    photo.write_bytes(b"\xff\xd8\xff another")
    with pytest.raises(InputError, match="does not fit the sum"):
        dumps.restore(tmp_path / "out", NOW)
    photo.unlink()
    with pytest.raises(InputError, match=r"photos/[0-9a-f]{64}\.jpg: is missing"):
        dumps.restore(tmp_path / "out", NOW)
    assert dump.take(books.household()) == was
