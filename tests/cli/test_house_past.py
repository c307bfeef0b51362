"""What was done, taken back and done again by the command line."""

from __future__ import annotations

import json

import pytest
from tests.cli.running import Run

pytestmark = pytest.mark.usefixtures("small_house")


def test_a_deed_is_taken_back_and_done_again(run: Run) -> None:
    assert run("shelf", "used", "spinach-1", "150 g", "--today", "2027-03-14")[0] == 0
    code, out, _ = run("house", "history")
    assert code == 0
    assert "log used" in out
    assert run("house", "undo")[1] == "Taken back: log used (spinach-1), action 1.\n"
    assert "log used (taken back)" in run("house", "history")[1]
    assert "400 g" in run("shelf", "--today", "2027-03-14")[1]
    assert run("house", "redo")[1].startswith("Done again: take back")
    assert "250 g" in run("shelf", "--today", "2027-03-14")[1]
    assert run("house", "undo", "1")[0] == 0
    code, _, err = run("house", "undo")
    assert (code, err) == (1, "chauka: action: nothing is left to take back\n")


def test_history_for_programs(run: Run) -> None:
    run("shelf", "used", "rice-1", "50 g", "--today", "2027-03-14")
    seen = json.loads(run("house", "history", "--json")[1])
    assert seen["days"][0][1][0]["task"] == "log used"


def test_a_dish_never_changed_says_so(run: Run) -> None:
    assert "Nothing was changed" in run("dish", "history", "plain-dal")[1]
