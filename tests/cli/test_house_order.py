"""What a plan minds one after the other, set by the command line."""

from __future__ import annotations

import pytest
from tests.cli.running import Run

from chauka.store import books

pytestmark = pytest.mark.usefixtures("small_house")


def test_the_order_is_kept_taken_back_and_told_by_the_plan(run: Run) -> None:
    assert run("house", "order", "waste", "money")[1] == "First waste, then money, then the rest.\n"
    assert books.load_house(books.household()).weights.order == ("waste", "money")
    said = " ".join(run("table", "--new", "--days", "1", "--seconds", "2", "--today", "2027-03-14")[1].split())
    assert "One wish after the other: missed" in said
    assert run("house", "order")[1] == "All that a plan minds is weighed together.\n"
    run("house", "undo")
    assert books.load_house(books.household()).weights.order == ("waste", "money")


def test_a_word_that_no_plan_minds_is_refused(run: Run) -> None:
    code, _, err = run("house", "order", "thrift")
    assert code == 1
    assert "'thrift' is nothing that a plan minds" in err
