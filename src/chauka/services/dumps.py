"""Everything of the house in one file, and back."""

from __future__ import annotations

import json
import shutil
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from chauka import publishing
from chauka.composition import Weighed
from chauka.errors import ChaukaError, InputError
from chauka.kitchen import Book
from chauka.services import cooked
from chauka.store import copies, open_formats, opening
from chauka.store import dump as store_dump
from chauka.store.files import write_whole
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class Dumped:
    """A dump written or read: where, of which house, how much of each, and the copy made before."""

    path: Path
    house: str
    counts: Mapping[str, int]
    copy: Path | None = None


def dump(household: Household, path: Path, now: datetime) -> Dumped:
    """Write everything of the household to one JSON file, whole or not at all."""
    made = store_dump.write(household, path, now)
    return Dumped(path, made.house.name, store_dump.counts(made))


def restore(path: Path, now: datetime, *, replace: bool = False) -> Dumped:
    """Bring a dump in: read and checked in full first, then written in one transaction.

    A book file that already holds something is copied first. Raises `InputError` that names the
    place of the fault; then nothing was changed.
    """
    read = _export(path) if path.is_dir() else store_dump.read(path)
    book = opening.file()
    copy = copies.make(book, copies.BEFORE_RESTORE, now) if book else None
    store_dump.restore(read, over_another=replace)
    return Dumped(path, read.house.name, store_dump.counts(read), copy.path if copy else None)


@dataclass(frozen=True, slots=True)
class BackedUp:
    """A copy made or put back: which, and the copy of the book as it was before."""

    path: Path
    bytes: int
    copy: Path | None = None


def back_up(now: datetime, into: Path | None = None) -> BackedUp:
    """Copy the open book, into another folder where one is named; the copy is looked through."""
    book = opening.file()
    if book is None:
        raise InputError({"backup": ("this book is in a PostgreSQL database; take a copy with pg_dump",)})
    made = copies.make(book, copies.BY_HAND, now, into)
    return BackedUp(made.path, made.bytes)


def is_copy(path: Path) -> bool:
    """Whether a file is a copy of a book, rather than a dump."""
    try:
        with path.open("rb") as file:
            return file.read(16) == b"SQLite format 3\0"
    except OSError:
        return False


def put_back(path: Path, now: datetime) -> BackedUp:
    """Make the open book what a copy holds, all of it or nothing."""
    before = copies.put_back(path, now)
    return BackedUp(path, path.stat().st_size, before.path if before else None)


def copies_there() -> tuple[copies.Copy, ...]:
    """The copies of the open book, the newest first."""
    book = opening.file()
    return copies.every(book) if book else ()


MOST_BYTES = 2_000_000_000
"""An export that is larger is not one of ours."""


def export(household: Household, folder: Path, now: datetime) -> Dumped:
    """Write everything as open formats into a new folder: JSON Lines, CSV, and a schema.org page for each dish.

    The folder is whole or not there. Raises `InputError` where something is there already.
    """
    if folder.exists() and (not folder.is_dir() or any(folder.iterdir())):
        raise InputError({str(folder): ("is there already and not empty; name a new folder",)})
    taken = store_dump.take(household)
    files = open_formats.to_files(taken, now) | _pages(taken.book, cooked.of_book(household, taken.book))
    half = folder.with_name(f".{folder.name}.half")
    shutil.rmtree(half, ignore_errors=True)
    try:
        for name, data in files.items():
            write_whole(half / name, data)
        half.replace(folder)
    except OSError as error:
        raise InputError({str(folder): (f"cannot be written: {error.strerror}",)}) from None
    finally:
        shutil.rmtree(half, ignore_errors=True)
    return Dumped(folder, taken.house.name, store_dump.counts(taken))


def _pages(book: Book, weighed: Mapping[str, Sequence[Weighed]]) -> dict[str, bytes]:
    """A schema.org recipe for each dish whose foods are all known."""
    pages = {}
    for dish in book.dishes:
        try:
            page = publishing.page_data(publishing.write_up(dish, book.house, weighed.get(dish.id, ())))
        except ChaukaError:
            continue  # the JSON Lines have it all the same
        name = "".join(c if c.isalnum() or c in "-_" else "-" for c in dish.id)
        pages[f"schema.org/{name}.jsonld"] = json.dumps(page, ensure_ascii=False, indent=1).encode()
    return pages


def _export(folder: Path) -> store_dump.Dump:
    names = (*folder.glob("*.jsonl"), *folder.glob(f"{open_formats.PHOTOS}/*.jpg"), folder / open_formats.MANIFEST)
    found = [p for p in names if p.is_file()]
    if sum(p.stat().st_size for p in found) > MOST_BYTES:
        raise InputError({str(folder): ("is too large to be an export of a book",)})
    return open_formats.from_files({p.relative_to(folder).as_posix(): p.read_bytes() for p in found}, str(folder))
