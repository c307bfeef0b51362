"""The server killed without warning, in the middle of what several phones write."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest
from tests.faults import kill


@pytest.mark.slow
def test_nothing_acknowledged_is_lost_when_the_server_is_killed(tmp_path: Path) -> None:
    """`python -m tests.faults.kill --kills 500` does the same five hundred times."""
    story = kill.kill_again_and_again(*kill.made_book(tmp_path), kills=12, seed=7)
    assert story.kills == 12
    assert len(story.acknowledged) >= 6  # on a busy machine a server lives for a handful of actions


def test_the_check_can_fail(tmp_path: Path) -> None:
    """A book that lost something acknowledged, or keeps half an action, is found out."""
    book, _ = kill.made_book(tmp_path)
    kill.check(book, kill.Story())
    with pytest.raises(kill.LostError, match="acknowledged and lost: \\['12345'\\]"):
        kill.check(book, kill.Story(sent={"12345"}, acknowledged={"12345"}))
    file = sqlite3.connect(book)
    file.execute(
        "INSERT INTO store_action (position, number, at, task, note, household_id) "
        "VALUES (0, 1, '2027-03-14 07:00:00', 'log used', '', 1)"
    )
    file.commit()
    file.close()
    with pytest.raises(kill.LostError, match="half there: 0 rows, 0 changes"):
        kill.check(book, kill.Story())
