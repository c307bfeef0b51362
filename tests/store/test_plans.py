"""Plans are proposals until one is accepted."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from tests.store import generated
from tests.store.test_books import _example, rolled_back

from chauka.errors import InputError
from chauka.kitchen import Proof, TablePlan
from chauka.store import books, plans

AT = datetime.fromisoformat("2027-03-14T07:00")
PLAN = TablePlan(AT.date(), 7, (), (), (), (), (), (), (), Proof(10.0, 9.0, 1.0, "best found"))


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(plan=generated.plans)
def test_any_plan_kept_and_found_is_equal(book_file: Path, plan: TablePlan) -> None:
    with rolled_back():
        owner = books.create(_example(dishes=0))
        plans.propose(owner, plan, AT)
        assert plans.current(owner).plan == plan  # type: ignore[union-attr]


def test_a_new_proposal_replaces_the_old_one_but_not_the_accepted_one(book_file: Path) -> None:
    owner = books.create(_example(dishes=0))
    first = plans.propose(owner, PLAN, AT)
    plans.accept(owner, first.number, AT)
    plans.propose(owner, PLAN, AT + timedelta(hours=1))
    third = plans.propose(owner, PLAN, AT + timedelta(hours=2))
    assert [kept.number for kept in plans.every(owner)] == [first.number, third.number]
    assert plans.current(owner).number == first.number  # type: ignore[union-attr]
    assert plans.proposal(owner) == third
    plans.accept(owner, third.number, AT + timedelta(hours=3))
    assert plans.current(owner).number == third.number  # type: ignore[union-attr]
    assert plans.proposal(owner) is None


def test_a_plan_of_another_house_cannot_be_accepted(book_file: Path) -> None:
    one = _example(dishes=0)
    mine = books.create(one)
    theirs = books.create(replace(one, house=replace(one.house, name="next door")))
    kept = plans.propose(theirs, PLAN, AT)
    with pytest.raises(InputError, match=f"there is no plan {kept.number}"):
        plans.accept(mine, kept.number, AT)
    assert plans.current(mine) is None
