"""Where books lie: a file of the household's own, and one beside it for the demo house."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path

from platformdirs import user_data_path

BOOK_VARIABLE = "CHAUKA_BOOK"
DATABASE_VARIABLE = "DATABASE_URL"
HOUSEHOLD_VARIABLE = "CHAUKA_HOUSEHOLD"


def book_path(environ: Mapping[str, str] = os.environ) -> Path:
    """The book that commands open when none is named: `CHAUKA_BOOK`, else `book.sqlite3` in the user's data folder."""
    named = environ.get(BOOK_VARIABLE, "").strip()
    return Path(named).expanduser() if named else user_data_path("chauka", appauthor=False) / "book.sqlite3"


def demo_path() -> Path:
    """The demo house's own book; it is written afresh each time and is never the household's own."""
    return user_data_path("chauka", appauthor=False) / "demo.sqlite3"
