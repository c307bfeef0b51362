"""Copies made, listed and put back by the command line."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.cli.running import Run

from chauka.store import copies

pytestmark = pytest.mark.usefixtures("small_house")


def test_a_copy_is_made_listed_and_put_back(run: Run, book_file: Path, tmp_path: Path) -> None:
    code, out, _ = run("house", "backup", str(tmp_path / "stick"))
    assert code == 0
    assert "looked through and whole" in out
    (copy,) = (tmp_path / "stick").iterdir()
    run("shelf", "used", "spinach-1", "150 g", "--today", "2027-03-14")
    code, out, _ = run("house", "restore", str(copy))
    assert code == 0
    assert "The book as it was before" in out
    assert "400 g" in run("shelf", "--today", "2027-03-14")[1]
    assert "before-restore" in run("house", "backup", "--list")[1]


def test_the_first_command_of_a_day_copies_the_book(run: Run, book_file: Path) -> None:
    assert copies.every(book_file) == ()
    run("shelf", "--today", "2027-03-14")
    assert [c.label for c in copies.every(book_file)] == [copies.DAILY]
    run("shelf", "--today", "2027-03-14")
    assert len(copies.every(book_file)) == 1


def test_where_no_copy_can_be_made_the_command_still_answers(run: Run, book_file: Path) -> None:
    copies.folder(book_file).write_text("in the way")
    code, out, err = run("shelf", "--today", "2027-03-14")
    assert code == 0
    assert "3 lots" in out
    assert "today's copy of the book was not made" in err
