"""Dated copies of a book, made while it may be in use, looked through, thinned out with age, and put back.

They lie in a folder beside the book. One is made by itself on the first use of a day on which
something has changed; of those the last of each of seven days, four weeks and twelve months are
kept. Copies made by hand or before something dangerous are never thrown away by chauka.
"""

from __future__ import annotations

import secrets
import sqlite3
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from typing import NoReturn

from django.db import connection

from chauka.errors import InputError
from chauka.store import opening

DAILY, BY_HAND, BEFORE_RESTORE = "daily", "by-hand", "before-restore"
KEEP_DAYS, KEEP_WEEKS, KEEP_MONTHS = 7, 4, 12
_STAMP = "%Y-%m-%d-%H%M%S"


@dataclass(frozen=True, slots=True)
class Copy:
    """One copy: where, why, of which moment, and its size."""

    path: Path
    label: str
    at: datetime
    bytes: int


def folder(book: Path) -> Path:
    """Where the copies of a book lie."""
    return book.with_name(f"{book.stem}.copies")


def every(book: Path) -> tuple[Copy, ...]:
    """All copies of a book, the newest first."""
    found = (_copy(path) for path in folder(book).glob(f"{book.stem}.*{book.suffix}"))
    return tuple(sorted((c for c in found if c), key=lambda c: (c.at, c.path.name), reverse=True))


def _copy(path: Path) -> Copy | None:
    *_, label, stamp = path.stem.split(".")
    try:
        return Copy(path, label, datetime.strptime(stamp, _STAMP), path.stat().st_size)  # noqa: DTZ007 - wall time
    except (ValueError, OSError):
        return None


def make(book: Path, label: str, now: datetime, into: Path | None = None) -> Copy:
    """Copy the book as it stands at one moment, and look the copy through before it gets its name.

    Raises `InputError` where it cannot be written; then nothing is left of it.
    """
    place = into or folder(book)
    while (path := place / f"{book.stem}.{label}.{now:{_STAMP}}{book.suffix}").exists():
        now += timedelta(seconds=1)  # no copy is ever written over
    half = place / f".{path.name}.half"
    try:
        place.mkdir(parents=True, exist_ok=True, mode=0o700)
        half.touch(mode=0o600)
    except OSError as error:
        _refuse(path, f"cannot be written: {error.strerror}")
    try:
        _pages(book, half)
        if faults := look_through(half):
            _refuse(path, f"did not come out whole ({faults[0]}); look the book through with `chauka house check`")
        half.replace(path)
    except (OSError, sqlite3.Error) as error:
        _refuse(path, f"cannot be written: {getattr(error, 'strerror', None) or error}")
    finally:
        half.unlink(missing_ok=True)
    return Copy(path, label, now, path.stat().st_size)


def make_daily(now: datetime) -> Copy | None:
    """Today's copy of the open book, if there is none yet and something has changed since the last; thins the rest."""
    book = opening.file()
    if book is None:
        return None
    latest = next((c for c in every(book) if c.at <= now), None)  # a clock set back must not end the copies
    if latest is not None and (latest.at.date() == now.date() or not _changed_since(book, latest)):
        return None
    made = make(book, DAILY, now)
    for old in too_many([c for c in every(book) if c.label == DAILY]):
        old.path.unlink(missing_ok=True)
    return made


def _changed_since(book: Path, copy: Copy) -> bool:
    """By the files' own times: the log is written first, the book itself later."""
    written = max(p.stat().st_mtime for p in (book, book.with_name(book.name + "-wal")) if p.exists())
    return written > copy.path.stat().st_mtime


def too_many(daily: Iterable[Copy]) -> list[Copy]:
    """Those of the daily copies that are neither the last of their day, week or month, of as many as are kept."""
    newest_first = sorted(daily, key=lambda c: c.at, reverse=True)
    kept: set[Path] = set()
    for most, period in ((KEEP_DAYS, _day), (KEEP_WEEKS, _week), (KEEP_MONTHS, _month)):
        kept |= set(_last_of_each(newest_first, period, most))
    return [c for c in newest_first if c.path not in kept]


def _last_of_each(newest_first: list[Copy], period: Callable[[date], object], most: int) -> list[Path]:
    last: dict[object, Path] = {}
    for copy in newest_first:
        last.setdefault(period(copy.at.date()), copy.path)
    return list(last.values())[:most]


def _day(day: date) -> object:
    return day


def _week(day: date) -> object:
    return day.isocalendar()[:2]


def _month(day: date) -> object:
    return day.year, day.month


def look_through(path: Path) -> tuple[str, ...]:
    """What is wrong with a book's file: pages that do not fit, rows that point to nothing; empty where it is whole."""
    file = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    try:
        pages = [row[0] for row in file.execute("PRAGMA integrity_check(5)")]
        astray = file.execute("PRAGMA foreign_key_check").fetchmany(5)
        has = file.execute("SELECT count(*) FROM sqlite_master WHERE name = 'store_household'").fetchone()[0]
    except sqlite3.Error as error:
        return (str(error),)
    finally:
        file.close()
    found = [] if pages == ["ok"] else pages
    found += [f"a row of {table} points to a row of {other} that is gone" for table, _, other, _ in astray]
    return tuple(found if has else [*found, "it is no book of chauka"])


def check(copy: Path) -> None:
    """Raise `InputError` where a file is damaged, foreign or written by a newer chauka."""
    opening.check_file(copy)
    if faults := look_through(copy):
        _refuse(copy, f"is damaged: {faults[0]}")
    if strange := opening.unknown_migrations(copy):
        _refuse(copy, f"was written by a newer chauka (it has {', '.join(strange)}); use that one")


def put_back(copy: Path, now: datetime) -> Copy | None:
    """Make the open book what a copy holds, all of it or nothing; the book as it was is copied first.

    Raises `InputError` where the copy is damaged, foreign or written by a newer chauka; then nothing
    was changed.
    """
    book = opening.file()
    if book is None:
        raise InputError({"restore": ("a copy of a file cannot go into a PostgreSQL database; restore a dump",)})
    if copy.resolve() == book.resolve():
        _refuse(copy, "is the open book itself")
    check(copy)
    before = make(book, BEFORE_RESTORE, now)
    connection.close()
    try:
        _pages(copy, book, timeline=secrets.randbits(31) | 1)
    except sqlite3.Error as error:
        _refuse(book, f"cannot be written: {error}")
    opening.bring_up_to_date()
    return before


def _pages(source: Path, target: Path, *, timeline: int | None = None) -> None:
    """Copy page by page in one transaction of the target; into the open book with a mark that its story is another."""
    one, other = sqlite3.connect(f"{source.absolute().as_uri()}?mode=ro", uri=True), sqlite3.connect(target)
    try:
        one.backup(other)
        if timeline is None:
            other.execute("PRAGMA journal_mode = DELETE")  # one file alone, with no log beside it
        else:
            other.execute(f"PRAGMA user_version = {timeline}")
            other.commit()
    finally:
        other.close()
        one.close()


def _refuse(path: Path, complaint: str) -> NoReturn:
    raise InputError({str(path): (f"{complaint}. Nothing was changed",)})
