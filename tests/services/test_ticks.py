"""The market list on the phone: a tick buys once, is taken back whole, and may be other than listed."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.services.small_house import BOOK, MOONG, NOW, SPINACH
from tests.services.test_market import PLAN

from chauka.errors import InputError
from chauka.kitchen import Deed
from chauka.services import past, ticks
from chauka.store import books, ledger, plans
from chauka.store.models import Household

ON_BOTH = True

KEY = f"2027-03-14/{SPINACH}"


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house with a plan."""
    made = books.create(BOOK)
    plans.propose(made, PLAN, NOW)
    return made


def _number(owner: Household) -> int:
    return ticks.lists(owner, NOW).plan


def _lots(owner: Household) -> set[str]:
    return {lot.id for lot in books.load_book(owner).lots}


def test_a_tick_sent_twice_buys_once(owner: Household) -> None:
    before = _lots(owner)
    assert ticks.buy(owner, _number(owner), KEY, NOW)
    assert not ticks.buy(owner, _number(owner), KEY, NOW)
    assert len(_lots(owner) - before) == 1
    item = ticks.lists(owner, NOW).days[0].items[0]
    assert item.bought is not None
    assert item.bought["paid"] == 5000
    assert item.packs == "2 × bunch of 400 g"


def test_a_tick_taken_back_leaves_the_book_as_it_was_and_the_sums_right(owner: Household) -> None:
    before = books.load_book(owner)
    ticks.buy(owner, _number(owner), KEY, NOW)
    assert ticks.unbuy(owner, _number(owner), KEY, NOW)
    assert books.load_book(owner) == before
    assert not ticks.unbuy(owner, _number(owner), KEY, NOW)
    bought = [row for row in ledger.rows(owner) if row.deed is Deed.BOUGHT]
    assert sum(row.grams for row in bought) == 0
    assert sum(row.cost or 0 for row in bought) == 0


def test_less_for_less_and_another_food_instead(owner: Household) -> None:
    ticks.buy(owner, _number(owner), KEY, NOW, amount="300 g", paid=1500, instead=MOONG)
    lot = next(lot for lot in books.load_book(owner).lots if lot.food == MOONG)
    assert (lot.grams, lot.cost) == (300.0, 1500)


def test_another_food_needs_an_amount_and_the_list_must_have_it(owner: Household) -> None:
    with pytest.raises(InputError, match="how much"):
        ticks.buy(owner, _number(owner), KEY, NOW, instead=MOONG)
    with pytest.raises(InputError, match="has no"):
        ticks.buy(owner, _number(owner), "2027-03-14/L520", NOW)


def test_what_was_used_since_cannot_be_unbought(owner: Household) -> None:
    ticks.buy(owner, _number(owner), KEY, NOW)
    new = next(lot for lot in books.load_book(owner).lots if lot.food == SPINACH and lot.id != "spinach-1")
    with ledger.action(owner, NOW, "use") as recorder:
        recorder.take(new.id, 100.0, Deed.USED)
    with pytest.raises(InputError, match="changed again since"):
        ticks.unbuy(owner, _number(owner), KEY, NOW)
    assert ticks.lists(owner, NOW).days[0].items[0].bought is not None


def test_taking_back_can_be_taken_back(owner: Household) -> None:
    ticks.buy(owner, _number(owner), KEY, NOW)
    after = books.load_book(owner)
    bought = past.view(owner).days[0][1][0]
    past.take_back(owner, bought.number, NOW)
    with pytest.raises(InputError, match="already"):
        past.take_back(owner, bought.number, NOW)
    past.take_back(owner, past.view(owner).days[0][1][0].number, NOW)
    assert set(books.load_book(owner).lots) == set(after.lots)
    assert ticks.lists(owner, NOW).days[0].items[0].bought is not None
