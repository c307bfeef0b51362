"""What is good at the market now, and the way round it."""

from __future__ import annotations

from datetime import date, datetime

from chauka import demo
from chauka.kitchen.stock import WAY_ROUND, stall_order
from chauka.services import good_now

BOOK = demo.book(date(2027, 3, 14))
NOW = datetime.fromisoformat("2027-03-14T07:00")


def test_only_what_the_season_has_and_the_market_sells() -> None:
    """What leaves comes first; each with its cheapest pack, what it mostly cost, and whether the list has it."""
    good = good_now.of_book(BOOK, NOW.month, {"C033": 4000.0}, frozenset({"C033"}))
    assert good
    assert [one.leaving for one in good] == sorted((one.leaving for one in good), reverse=True)
    spinach = next(one for one in good if one.food == "C033")
    assert (spinach.paid_per_kg, spinach.bought) == (4000.0, True)
    assert all(one.per_kg == min(1000 * o.price / o.grams for o in BOOK.offers if o.food == one.food) for one in good)
    assert all(one.paid_per_kg is None for one in good if one.food != "C033")


def test_what_wilts_lies_on_top() -> None:
    """Greens come after roots and dry goods, and a stall that nobody knows comes last."""
    shuffled = ["greens", "toys", "dry goods", "roots and vegetables"]
    assert sorted(shuffled, key=stall_order) == ["dry goods", "roots and vegetables", "greens", "toys"]
    assert {offer.stall for offer in BOOK.offers} <= set(WAY_ROUND)
