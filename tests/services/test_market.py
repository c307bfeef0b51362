"""What was really bought becomes a lot, a ledger row and a price seen, or nothing at all."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, MOONG, NOW, RICE, SPINACH

from chauka.errors import InputError
from chauka.kitchen import Batch, Book, Deed, Form, Meal, Place, PriceSeen, Proof, Purchase, TablePlan
from chauka.services import market
from chauka.store import books, ledger, models
from chauka.store.models import Household

PLAN = TablePlan(
    start=NOW.date(),
    days=7,
    sittings=(),
    batches=(Batch("b1", "wilted-spinach", NOW.date(), Meal.DINNER, 2.0),),
    servings=(),
    purchases=(
        Purchase("p1", date(2027, 3, 17), MOONG, "500 g packet", 1, 500.0, 500.0, 7000, "grocer"),
        Purchase("p2", NOW.date(), SPINACH, "bunch of 400 g", 2, 800.0, 700.0, 5000, "greens", ("b1",)),
        Purchase("p3", NOW.date(), RICE, "1 kg bag", 1, 1000.0, 1000.0, 9000, "grocer"),
    ),
    draws=(),
    left_over=(),
    shortfalls=(),
    proof=Proof(1.0, 1.0, 1.0, "proven best"),
)


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


def test_lists_are_by_day_and_stall_with_what_they_feed() -> None:
    lists = market.of_plan(BOOK, PLAN)
    assert [(d.day, [s.name for s in d.stalls], d.cost) for d in lists.days] == [
        (NOW.date(), ["greens", "grocer"], 14000),
        (date(2027, 3, 17), ["grocer"], 7000),
    ]
    spinach = lists.days[0].items[0]
    assert (spinach.name, spinach.feeds) == ("palak", ("Wilted spinach",))
    assert lists.cost == PLAN.cost == 21000
    assert lists.budget == 100_000


def test_days_gone_by_are_left_out() -> None:
    lists = market.of_plan(BOOK, PLAN, since=NOW.date() + timedelta(days=1))
    assert [d.day for d in lists.days] == [date(2027, 3, 17)]


def test_buying_writes_lot_deed_and_price(owner: Household) -> None:
    made = market.buy(owner, "palak", "800 g", 4500, NOW)
    assert (made.lot.grams, made.lot.form, made.lot.place, made.lot.cost) == (800.0, Form.WHOLE, Place.FRIDGE, 4500)
    assert made.lot in books.load_book(owner).lots
    (row,) = ledger.rows(owner)
    assert (row.deed, row.lot, row.grams, row.cost) == (Deed.BOUGHT, made.lot.id, 800.0, 4500)
    assert market.prices(owner, "palak") == (PriceSeen(SPINACH, NOW.date(), 800.0, 4500),)
    assert models.Action.objects.of(owner).get().task == "buy"


def test_a_dry_food_comes_dry_and_goes_to_the_cupboard(owner: Household) -> None:
    made = market.buy(owner, "moong dal", "500 g", 7000, NOW)
    assert (made.lot.form, made.lot.place) == (Form.DRY, Place.CUPBOARD)


def test_two_purchases_of_one_day_are_two_lots(owner: Household) -> None:
    first = market.buy(owner, "palak", "400 g", 2500, NOW)
    second = market.buy(owner, "palak", "400 g", 2400, NOW)
    assert (first.lot.id, second.lot.id) == ("palak-14-mar", "palak-14-mar-2")


@pytest.mark.parametrize(
    ("food", "amount", "paid", "complaint"),
    [
        ("dragon scales", "1 kg", 100, "'dragon scales' is not a food"),
        ("palak", "3 furlongs", 100, "furlong"),
        ("palak", "-2 kg", 100, "-2|below|negative|minus"),
        ("palak", "0 g", 100, "cannot be right|above zero"),
        ("palak", "9000 kg", 100, "cannot be right|more than"),
        ("palak", "1 kg", -5, "cannot be right"),
        ("palak", "1 kg", 10**9, "cannot be right"),
        ("", "1 kg", 100, "is not a food"),
        ("palak", "", 100, "amount"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    owner: Household, food: str, amount: str, paid: int, complaint: str
) -> None:
    with pytest.raises(InputError, match=complaint):
        market.buy(owner, food, amount, paid, NOW)
    assert books.load_book(owner) == BOOK
    assert ledger.rows(owner) == ()
    assert not models.Action.objects.exists()


def test_the_house_keeps_a_food_where_it_kept_it_before() -> None:
    counter = replace(BOOK.lots[0], place=Place.COUNTER)
    book = Book(BOOK.house, BOOK.dishes, BOOK.offers, (counter,))
    assert market.usual_place(SPINACH, Form.WHOLE, book) is Place.COUNTER
