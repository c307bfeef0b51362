"""Books in temporary files, for the tests of everything above the store."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from django.db import connections
from tests.store import postgres

from chauka.store import models, opening
from chauka.store.database import from_url


@pytest.fixture(scope="session")
def blank_book(tmp_path_factory: pytest.TempPathFactory, django_db_blocker: Any) -> Path:
    """A book with tables and nothing in them, made once."""
    path = tmp_path_factory.mktemp("blank") / "blank.sqlite3"
    with django_db_blocker.unblock(), _kept_connection():
        opening.open_book(path)
        with connections["default"].cursor() as cursor:
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        connections["default"].close()
    return path


@pytest.fixture(scope="session")
def postgres_address() -> Iterator[str]:
    """An empty database of a PostgreSQL server of the tests' own; skips where there is none."""
    with postgres.server() as address:
        yield address


def on_both(metafunc: pytest.Metafunc) -> None:
    """Run the tests of modules that say `ON_BOTH = True` on a file and again on a PostgreSQL server."""
    if "book_file" in metafunc.fixturenames and getattr(metafunc.module, "ON_BOTH", False):
        metafunc.parametrize("book_file", ["file", "postgresql"], indirect=True)


@pytest.fixture
def book_file(
    request: pytest.FixtureRequest, tmp_path: Path, blank_book: Path, django_db_blocker: Any
) -> Iterator[Path]:
    """A blank book of this test's own, opened; on PostgreSQL there is no file at the path."""
    path = tmp_path / "book.sqlite3"
    if getattr(request, "param", "file") == "postgresql":
        address = request.getfixturevalue("postgres_address")
        with django_db_blocker.unblock(), _kept_connection():
            connections.settings["default"] = {**connections.settings["default"], **from_url(address)}
            del connections["default"]
            opening.bring_up_to_date()
            yield path
            for owner in models.Household.objects.all():
                owner.delete()
            connections["default"].close()
        return
    shutil.copy(blank_book, path)
    with django_db_blocker.unblock(), _kept_connection():
        opening.point_to(path)
        yield path
        connections["default"].close()


@pytest.fixture
def free_to_open(django_db_blocker: Any) -> Iterator[None]:
    """The test may open whatever books it likes."""
    with django_db_blocker.unblock(), _kept_connection():
        yield
        connections["default"].close()


class _kept_connection:  # noqa: N801 - reads as a with-statement
    """Puts the connection and environment of the other tests back."""

    def __enter__(self) -> None:
        self.patch = pytest.MonkeyPatch()
        for name in ("CHAUKA_BOOK", "DATABASE_URL"):
            self.patch.setenv(name, "")
            self.patch.delenv(name)
        self.connection, self.settings = connections["default"], connections.settings["default"]

    def __exit__(self, *_: object) -> None:
        connections.settings["default"] = self.settings
        connections["default"] = self.connection
        self.patch.undo()
