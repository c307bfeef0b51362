"""Opening a book: set Django up, bring the tables up to date, never without a copy first."""

from __future__ import annotations

import os
import sqlite3
from datetime import UTC, datetime
from pathlib import Path
from typing import NoReturn

import django
from django.apps import apps
from django.conf import settings
from django.db import DatabaseError, connection, connections
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader

from chauka.errors import InputError
from chauka.store.database import sqlite
from chauka.store.location import BOOK_VARIABLE, DATABASE_VARIABLE

SETTINGS = "chauka.site.settings"
BACKED_UP_VARIABLE = "CHAUKA_BACKED_UP"
_FIRST_TABLES = {"sqlite_sequence", "django_migrations"}  # there when making a book was cut off at once
_SQLITE_HEAD = b"SQLite format 3\0"


def open_book(path: Path | None = None) -> Path | None:
    """Open the book in `path` (default: `book_path()`), made if it is not there yet; returns where it is.

    With `DATABASE_URL` set and no path given, that database is the book, and None is returned.
    Raises `InputError` in the user's words when it is no book or cannot be written.
    """
    point_to(path)
    bring_up_to_date()
    return None if _on_server() else Path(_name())


def point_to(path: Path | None) -> None:
    """Set Django up on that book without touching it."""
    if path is not None:
        os.environ[BOOK_VARIABLE] = str(path.expanduser().absolute())
        os.environ.pop(DATABASE_VARIABLE, None)
    if not apps.ready:
        os.environ.setdefault("DJANGO_SETTINGS_MODULE", SETTINGS)
        django.setup()
    if path is not None:
        _switch(path.expanduser().absolute())


def _switch(path: Path) -> None:
    """Point an already running Django to another file."""
    if connections.settings["default"].get("NAME") == str(path):
        return
    connections["default"].close()
    connections.settings["default"] = {**connections.settings["default"], **sqlite(path)}
    del connections["default"]  # the next use makes a connection by the new settings


def _name() -> str:
    return str(connection.settings_dict["NAME"])


def _on_server() -> bool:
    return connection.vendor != "sqlite"


def file() -> Path | None:
    """The open book's file; None where it is in a PostgreSQL database, or in memory for a test."""
    return None if _on_server() or _name().startswith("file:") else Path(_name())


def bring_up_to_date() -> Path | None:
    """Make or migrate the tables. An existing book is copied first; returns the copy, if one was made."""
    if not _on_server() and not _name().startswith("file:"):  # "file:" is a test database in memory
        check_file(Path(_name()))
    try:
        return _migrate()
    except DatabaseError as error:
        _refuse(_name(), f"cannot be opened as a book: {error}")


def _migrate() -> Path | None:
    executor = MigrationExecutor(connection)
    applied, known = executor.loader.applied_migrations, executor.loader.disk_migrations
    strange = sorted(f"{app} {name}" for app, name in applied if (app, name) not in known)
    if strange:
        _refuse(_name(), f"was written by a newer chauka (it has {', '.join(strange)}); use that one")
    targets = executor.loader.graph.leaf_nodes()
    pending = [migration for migration, _ in executor.migration_plan(targets)]
    if not pending:
        return None
    copy = _copy_first(f"{pending[0].app_label}-{pending[0].name}") if applied else None
    executor.migrate(targets)
    return copy


def check_file(path: Path) -> None:
    """Make room for a new book; refuse what is there and is no book, before anything writes to it."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True, mode=0o700)
        if not path.exists():
            path.touch(mode=0o600)  # what a household eats is its own business
        with path.open("rb") as file:
            head = file.read(len(_SQLITE_HEAD))
    except OSError as error:
        _refuse(str(path), f"cannot be opened: {error.strerror}")
    if head and head != _SQLITE_HEAD:
        _refuse(str(path), "is no book of chauka (not an SQLite file)")
    if head and _tables(path) - _FIRST_TABLES and "store_household" not in _tables(path):
        _refuse(str(path), "is an SQLite file of some other program, no book of chauka")


def _tables(path: Path) -> set[str]:
    book = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    try:
        return {name for (name,) in book.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    except sqlite3.DatabaseError as error:
        _refuse(str(path), f"is damaged: {error}. Restore a copy or a dump")
    finally:
        book.close()


def _refuse(thing: str, complaint: str) -> NoReturn:
    raise InputError({thing: (f"{complaint}. Nothing was changed",)})


def unknown_migrations(path: Path) -> tuple[str, ...]:
    """What a book's file was brought up to that this chauka does not know."""
    book = sqlite3.connect(f"{path.absolute().as_uri()}?mode=ro", uri=True)
    try:
        applied = set(book.execute("SELECT app, name FROM django_migrations WHERE app = 'store'"))
    except sqlite3.DatabaseError as error:
        _refuse(str(path), f"is damaged: {error}")
    finally:
        book.close()
    known = MigrationLoader(None, ignore_no_migrations=True).disk_migrations
    return tuple(sorted(name for app, name in applied if (app, name) not in known))


def _copy_first(before: str) -> Path | None:
    if _on_server():
        if os.environ.get(BACKED_UP_VARIABLE) != "yes":
            raise InputError(
                "this database needs new tables, and chauka changes none without a copy: make one with pg_dump, "
                f"then set {BACKED_UP_VARIABLE}=yes for one start"
            )
        return None
    return copy_book(Path(_name()), f"before-{before}")


def copy_book(book: Path, label: str) -> Path:
    """A dated copy beside the book, made while it may be in use; returns its path."""
    stamp = datetime.now(tz=UTC).astimezone().strftime("%Y-%m-%d-%H%M%S")
    copy = book.with_name(f"{book.stem}.{label}.{stamp}{book.suffix}")
    source, target = sqlite3.connect(book), sqlite3.connect(copy)
    try:
        source.backup(target)
    finally:
        target.close()
        source.close()
    copy.chmod(0o600)
    return copy


def use_setting(name: str, value: object) -> None:
    """Override one setting for this process, before its first request; None leaves it as it is."""
    if value is not None:
        setattr(settings, name, value)
