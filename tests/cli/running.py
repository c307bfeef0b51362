"""Running command lines on a test's own book."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest
from tests.services.small_house import BOOK

from chauka import cli
from chauka.store import books

Run = Callable[..., tuple[int, str, str]]


@pytest.fixture
def run(book_file: Path, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run a command line on this test's own book; gives exit code, stdout and stderr."""

    def runner(*words: str) -> tuple[int, str, str]:
        code = cli.main(list(words))
        out, err = capsys.readouterr()
        return code, out, err

    return runner


@pytest.fixture
def small_house(book_file: Path) -> None:
    """The small house is in the book."""
    books.create(BOOK)
