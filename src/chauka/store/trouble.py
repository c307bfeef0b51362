"""What a database complains about, in the cook's words: full, read-only, locked, failing, damaged."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import DatabaseError

from chauka.errors import InputError

_WORDS = (
    ("disk is full", "the disk is full. Make room and do it again"),
    ("readonly database", "the book cannot be written: its file, folder or disk is read-only for you"),
    ("database is locked", "another program is writing to the book and does not stop. Close it, and do it again"),
    ("disk I/O error", "the disk does not take what is written: it is full, or it fails. Look at it, and do it again"),
    ("malformed", "the book is damaged. `chauka house backup --list` shows the copies to restore"),
    ("not a database", "the book is damaged. `chauka house backup --list` shows the copies to restore"),
    ("unable to open", "the book's file cannot be opened: it was moved, or you may not read it"),
)


@contextmanager
def in_words() -> Iterator[None]:
    """A database error inside is raised as an `InputError` that says what to do; anything not known stays as it is."""
    try:
        yield
    except DatabaseError as error:
        said = str(error)
        for sign, words in _WORDS:
            if sign in said:
                raise InputError({"book": (f"{words}. Nothing of this was kept by half",)}) from error
        raise
