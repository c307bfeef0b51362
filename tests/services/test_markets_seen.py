"""How often this house did not find what stood on its list."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW

from chauka.kitchen import TablePlan
from chauka.services import market, markets_seen, plan_days
from chauka.store import books, plans
from chauka.store.models import Household


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house, following a plan that has something to buy."""
    return books.create(BOOK)


@pytest.fixture
def plan(owner: Household) -> TablePlan:
    made = plan_days.make(owner, NOW.date(), NOW, days=2, seconds=2.0).plan
    assert made.purchases
    return made


def _followed(owner: Household, plan: TablePlan, weeks: int) -> datetime:
    """The same list followed in each of so many past weeks; the day after the last."""
    for week in range(weeks):
        shift = timedelta(weeks=week)
        bought = tuple(replace(p, day=p.day + shift) for p in plan.purchases)
        moved = replace(plan, start=plan.start + shift, purchases=bought)
        plans.accept(owner, plans.propose(owner, moved, NOW + shift).number, NOW + shift)
    return NOW + timedelta(weeks=weeks)


def test_nothing_seen_is_nothing_known(owner: Household) -> None:
    assert markets_seen.chances(owner, NOW) == {}


def test_what_was_on_the_list_and_not_bought_was_missing(owner: Household, plan: TablePlan) -> None:
    """Of two listed foods one is bought each week; the other counts as missing, drawn towards one in ten."""
    now = _followed(owner, plan, 3)
    day = min(p.day for p in plan.purchases)
    listed = sorted({p.food for p in plan.purchases if p.day == day})
    for week in range(3):
        at = datetime.combine(day, time(10)) + timedelta(weeks=week)
        market.buy(owner, "F010", "500 g", 2000, at)
        for food in listed[1:]:
            market.buy(owner, food, "500 g", 2000, at)
    seen = markets_seen.chances(owner, now)
    assert seen[listed[0]].missing == pytest.approx((3 + 0.5) / (3 + 5))
    assert "missing on 3 of 3 market days" in seen[listed[0]].why
    for food in listed[1:]:
        assert seen[food].missing == pytest.approx(0.5 / 8)


def test_days_without_any_purchase_tell_nothing(owner: Household, plan: TablePlan) -> None:
    """Nobody went to the market: nothing is learnt from that."""
    assert markets_seen.chances(owner, _followed(owner, plan, 2)) == {}
