"""Deeds are appended and lots follow them, both or neither."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.store.test_books import _example, rolled_back

from chauka.errors import InputError
from chauka.kitchen import Deed, Form, LedgerRow, Lot, Place, PriceSeen
from chauka.store import books, ledger, models
from chauka.store.models import AppendOnlyError, Household

ON_BOTH = True

AT = datetime.fromisoformat("2027-03-14T18:00")
SPINACH = Lot("spinach", 400.0, Form.WHOLE, Place.FRIDGE, AT - timedelta(days=1), food="D001", cost=4000)


@pytest.fixture
def owner(book_file: Path) -> Household:
    """A house with one lot."""
    return books.create(replace(_example(dishes=1), lots=(SPINACH,)))


def test_using_some_leaves_the_rest_and_shares_the_cost(owner: Household) -> None:
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=100.0, lot="spinach"))
    assert books.load_book(owner).lots == (replace(SPINACH, grams=300.0, cost=3000),)
    (row,) = ledger.rows(owner)
    assert (row.deed, row.grams, row.cost, row.food) == (Deed.USED, 100.0, 1000, "D001")


def test_using_all_takes_the_lot_off_the_shelf_but_keeps_its_story(owner: Household) -> None:
    with ledger.action(owner, AT, "log binned") as recorder:
        recorder.take("spinach", None, Deed.BINNED, why="slimy")
    assert books.load_book(owner).lots == ()
    assert ledger.rows(owner)[0].why == "slimy"
    (change,) = models.Change.objects.of(owner)
    assert (change.kind, change.key, change.after) == ("lot", "spinach", None)
    assert change.before["grams"] == 400.0


def test_more_than_there_is_is_refused_and_nothing_is_written(owner: Household) -> None:
    with pytest.raises(InputError, match="holds 400 g; 500 g cannot be used"):
        ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=500.0, lot="spinach"))
    assert books.load_book(owner).lots == (SPINACH,)
    assert ledger.rows(owner) == ()
    assert not models.Action.objects.exists()


@pytest.mark.parametrize("grams", [0.0, -5.0])
def test_nothing_or_less_cannot_be_taken(owner: Household, grams: float) -> None:
    with pytest.raises(InputError, match="must be above zero"):
        ledger.record(owner, LedgerRow(at=AT, deed=Deed.EATEN, grams=grams, lot="spinach"))


def test_an_unknown_lot_is_named_with_those_that_are_there(owner: Household) -> None:
    with pytest.raises(InputError, match="'leek' is not on the shelf; there is spinach"):
        ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=5.0, lot="leek"))


def test_a_lot_used_up_cannot_be_used_again(owner: Household) -> None:
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=400.0, lot="spinach"))
    with pytest.raises(InputError, match="not on the shelf: it is empty"):
        ledger.lot(owner, "spinach")


def test_buying_puts_a_lot_on_the_shelf(owner: Household) -> None:
    lot = Lot("peas", 500.0, Form.WHOLE, Place.FRIDGE, AT, food="B001", cost=6000)
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.BOUGHT, grams=500.0, lot="peas", food="B001", cost=6000), lot=lot)
    assert books.load_book(owner).lots == (SPINACH, lot)


def test_an_action_that_fails_half_way_leaves_nothing(owner: Household) -> None:
    def cut_off() -> None:
        with ledger.action(owner, AT, "buy") as recorder:
            recorder.put(replace(SPINACH, id="more"))
            recorder.saw(PriceSeen("D001", AT.date(), 400.0, 4000))
            raise ZeroDivisionError

    with pytest.raises(ZeroDivisionError):
        cut_off()
    assert books.load_book(owner).lots == (SPINACH,)
    assert ledger.prices(owner) == ()
    assert not models.Action.objects.exists()


def test_prices_can_be_asked_for_by_day_by_food_and_the_newest_alone(owner: Household) -> None:
    """Oldest first in each case; asking for more than there are gives all."""
    seen = [
        PriceSeen(food, AT.date() + timedelta(days=n), 400.0, 4000 + n) for n, food in enumerate(("D001", "B001") * 2)
    ]
    with ledger.action(owner, AT, "buy") as recorder:
        for price in seen:
            recorder.saw(price)
    assert ledger.prices(owner, newest=3) == tuple(seen[1:])
    assert ledger.prices(owner, "D001", newest=1) == (seen[2],)
    assert ledger.prices(owner, since=seen[2].on, newest=9) == tuple(seen[2:])
    assert ledger.prices(owner, newest=9) == ledger.prices(owner) == tuple(seen)


def test_ledger_rows_can_be_neither_changed_nor_deleted(owner: Household) -> None:
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=100.0, lot="spinach"))
    row = models.LedgerRow.objects.of(owner).get()
    row.grams = 1.0
    with pytest.raises(AppendOnlyError):
        row.save()
    with pytest.raises(AppendOnlyError):
        row.delete()
    with pytest.raises(AppendOnlyError):
        models.LedgerRow.objects.of(owner).update(grams=1.0)
    with pytest.raises(AppendOnlyError):
        models.LedgerRow.objects.of(owner).delete()


def test_a_free_lot_id_was_never_used(owner: Household) -> None:
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=400.0, lot="spinach"))
    assert ledger.free_lot_id(owner, "spinach") == "spinach-2"


def test_each_household_has_its_own_ledger(owner: Household) -> None:
    neighbour = _example(dishes=1)
    other = books.create(replace(neighbour, house=replace(neighbour.house, name="next door")))
    ledger.record(owner, LedgerRow(at=AT, deed=Deed.USED, grams=100.0, lot="spinach"))
    assert ledger.rows(other) == ()
    with pytest.raises(InputError, match="not on the shelf"):
        ledger.lot(other, "spinach")


@settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck))
@given(takes=st.lists(st.tuples(st.sampled_from([Deed.USED, Deed.EATEN, Deed.BINNED]), st.floats(1, 150)), max_size=6))
def test_grams_and_money_are_conserved(owner: Household, takes: list[tuple[Deed, float]]) -> None:
    """What the ledger says was taken plus what is left is what was bought."""
    with rolled_back():
        for deed, grams in takes:
            try:
                ledger.record(owner, LedgerRow(at=AT, deed=deed, grams=grams, lot="spinach"))
            except InputError:
                break
        rows, lots = ledger.rows(owner), books.load_book(owner).lots
        assert sum(r.grams for r in rows) + sum(lot.grams for lot in lots) == pytest.approx(400.0)
        assert sum(r.cost or 0 for r in rows) + sum(lot.cost or 0 for lot in lots) == 4000
