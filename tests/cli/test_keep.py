"""`chauka shelf keep` and `chauka shelf forget`."""

from __future__ import annotations

import json

import pytest
from tests.cli.running import Run

from chauka.cli.paper import layout


def test_it_answers_without_a_book(run: Run) -> None:
    """The line of the manual: a date, the rule that bound it, its source, and with --why the reason."""
    code, out, _ = run("shelf", "keep", "spinach, picked", "--fridge", "7", "--since", "2027-03-14", "--why")
    assert code == 0
    assert "spinach, picked, in the fridge at 7 °C since Sun 14 Mar: use by" in out
    assert "Bound by:" in out
    assert "Source:" in out
    assert "Why:" in out
    assert "Buy at most what you use in" in out
    assert max(map(layout.width, out.splitlines())) <= layout.WIDTH


def test_programs_get_the_same(run: Run) -> None:
    """Rule, source and reason are fields."""
    code, out, _ = run("shelf", "keep", "C033", "--since", "2027-03-14", "--json")
    assert code == 0
    assert {"at", "rule", "source", "reason", "low_days", "high_days"} <= set(json.loads(out)["use_by"])


def test_a_history_and_neighbours_may_be_given(run: Run) -> None:
    """A warm way home takes some of it; a stay that is none says how one is written."""
    plain = json.loads(run("shelf", "keep", "spinach", "--age-days", "0", "--since", "2027-03-14", "--json")[1])
    warm = json.loads(
        run("shelf", "keep", "spinach", "--was", "3h@31", "--was", "1d@7", "--since", "2027-03-14", "--json")[1]
    )
    assert warm["use_by"]["at"] < plain["use_by"]["at"]
    code, _, err = run("shelf", "keep", "spinach", "--was", "yesterday")
    assert code == 2
    assert "write hours or days at a temperature, as in 1h@31" in err


@pytest.mark.usefixtures("small_house")
def test_what_the_house_learnt_is_shown_and_forgotten(run: Run) -> None:
    """Binned, wilted: the factor moves and is printed, until it is forgotten."""
    day = ("--today", "2027-03-15")
    assert run("shelf", "binned", "spinach-1", "--why", "wilted on day 1", *day)[0] == 0
    assert "Learnt here: it keeps ×" in run("shelf", "keep", "palak", "--why", *day)[1]
    assert "is forgotten" in run("shelf", "forget", "palak", "--today", "2027-03-16")[1]
    assert "Learnt here" not in run("shelf", "keep", "palak", "--why", *day)[1]
