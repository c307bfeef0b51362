"""Copies from the pages: taken, downloaded, looked into, and put in the place of the book that is open.

A file that was brought in lies beside the copies until it is put in place or another one comes. It is checked in
full before it is shown, so that what is shown is what would be there. Putting it in place copies the open book
first; that copy, put back in the same way, is the undo.
"""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from chauka.errors import InputError
from chauka.services import dumps
from chauka.store import copies, dump, opening
from chauka.store.copies import Copy
from chauka.store.models import Household

LARGEST = 19_000_000
"""A larger file [byte] would be refused by the server; the command line takes it."""

_INCOMING = "incoming-"
_COUNTED = {
    "dishes": "SELECT count(*) FROM store_dish",
    "lots": "SELECT count(*) FROM store_lot WHERE NOT gone",
    "actions": "SELECT count(*) FROM store_action",
    "ledger rows": "SELECT count(*) FROM store_ledgerrow",
    "plans": "SELECT count(*) FROM store_plan",
}


@dataclass(frozen=True, slots=True)
class Held:
    """What a copy or dump holds: of which house, how much of each, and when something was last done in it."""

    name: str
    house: str
    counts: Mapping[str, int]
    last: datetime | None


@dataclass(frozen=True, slots=True)
class Beside:
    """How much of one thing the file holds and how much there is now."""

    what: str
    there: int
    here: int


def there() -> tuple[Copy, ...]:
    """The dated copies of the open book, the newest first."""
    return dumps.copies_there()


def take_copy(now: datetime) -> Path:
    """Copy the open book by hand; returns the copy."""
    return dumps.back_up(now).path


def as_dump(household: Household, now: datetime) -> bytes:
    """Everything of the household as one JSON file."""
    return dump.to_json(dump.take(household), now).encode()


def bring_in(chunks: Iterable[bytes]) -> str:
    """Keep a file that was brought in, and look into it; returns the name by which it is known.

    Raises `InputError` with the place of the fault where it is foreign, damaged or too large; then it is gone again.
    """
    place = copies.folder(_book())
    place.mkdir(parents=True, exist_ok=True, mode=0o700)
    for old in place.glob(f"{_INCOMING}*"):
        old.unlink(missing_ok=True)
    path = place / f"{_INCOMING}{secrets.token_hex(6)}"
    try:
        _write(path, chunks)
        look_into(path.name)
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    return path.name


def _write(path: Path, chunks: Iterable[bytes]) -> None:
    size = 0
    with path.open("wb") as file:
        path.chmod(0o600)
        for chunk in chunks:
            size += len(chunk)
            if size > LARGEST:
                raise InputError({"file": ("is too large for the pages; use `chauka house restore FILE`",)})
            file.write(chunk)


def look_into(name: str) -> Held:
    """What a copy, or a file that was brought in, holds. Raises `InputError` that names the fault."""
    path = _path(name)
    try:
        if not dumps.is_copy(path):
            read = dump.read(path)
            last = max((action.at for action in read.actions), default=None)
            return Held(name, read.house.name, dump.counts(read), last)
        copies.check(path)
        return _of_copy(name, path)
    except InputError as error:
        raise _said_of_the_file(error, path) from None


def _said_of_the_file(error: InputError, path: Path) -> InputError:
    """The same without the place where the server keeps it."""
    fields = {("file" if str(path) in field else field): words for field, words in error.fields.items()}
    return InputError({f: tuple(w.replace(str(path), "the file") for w in words) for f, words in fields.items()})


def _of_copy(name: str, path: Path) -> Held:
    file = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    try:
        houses = ", ".join(row[0] for row in file.execute("SELECT name FROM store_household ORDER BY name"))
        counts = {what: int(file.execute(query).fetchone()[0]) for what, query in _COUNTED.items()}
        last = file.execute("SELECT max(at) FROM store_action").fetchone()[0]
    except sqlite3.Error as error:
        raise InputError({"file": (f"is damaged: {error}. Nothing was changed",)}) from None
    finally:
        file.close()
    return Held(name, houses, counts, datetime.fromisoformat(last) if last else None)


def beside_now(held: Held) -> tuple[Beside, ...]:
    """What the file holds beside what the open book holds."""
    here = _of_copy("", _book()).counts
    return tuple(Beside(what, held.counts.get(what, 0), here[what]) for what in _COUNTED)


def put_in_place(name: str, now: datetime) -> str:
    """Make the open book what the file holds; returns the name of the copy made before."""
    path = _path(name)
    before = dumps.put_back(path, now).copy if dumps.is_copy(path) else dumps.restore(path, now, replace=True).copy
    if path.name.startswith(_INCOMING):
        path.unlink(missing_ok=True)
    return before.name if before else ""


def path_of(name: str) -> Path:
    """Where a copy lies, for its download."""
    return _path(name)


def _path(name: str) -> Path:
    place = copies.folder(_book())
    known = [copy.path for copy in there()] + list(place.glob(f"{_INCOMING}*"))
    for path in known:
        if path.name == name:
            return path
    raise InputError({"copy": ("it is not there any more; look at the list again",)})


def _book() -> Path:
    book = opening.file()
    if book is None:
        raise InputError({"copies": ("this book is in a PostgreSQL database; take copies with pg_dump",)})
    return book
