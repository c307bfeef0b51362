"""Lots, offers and the book refuse what cannot be."""

from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from tests.kitchen.test_dish import dish
from tests.kitchen.test_house import house

from chauka.errors import InputError
from chauka.kitchen import Book, Form, Lot, Offer, Place

NOON = datetime(2027, 3, 14, 12)  # noqa: DTZ001 - lots stand in local wall time
SPINACH = Lot("l1", 500, Form.WHOLE, Place.FRIDGE, NOON, food="C033")


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: replace(SPINACH, dish="dal"), "either of a food or of a dish"),
        (lambda: replace(SPINACH, food=None), "either of a food or of a dish"),
        (lambda: replace(SPINACH, grams=-1), "below zero"),
        (lambda: replace(SPINACH, age_days=-1), "below zero"),
        (lambda: replace(SPINACH, since=datetime(2027, 3, 14, tzinfo=UTC)), "leave the time zone out"),
        (lambda: SPINACH.check_not_from_the_future(datetime(2027, 3, 14, 11)), "is still to come"),  # noqa: DTZ001
        (lambda: Offer("C033", "bunch", 0, 2000, "greens"), "above zero"),
        (lambda: Offer("C033", "bunch", 400, -1, "greens"), "below zero"),
        (lambda: Book(house(), (dish(), dish()), (), ()), "stands twice"),
        (
            lambda: Book(house(), (dish(),), (), (replace(SPINACH, food=None, dish="gone"),)),
            "lot l1 holds dish 'gone', not in the dish book",
        ),
        (lambda: Book(house(), (dish(),), (), ()).dish("halwa"), "it holds wilted-spinach"),
    ],
)
def test_refusals(make: object, says: str) -> None:
    """Each refusal names the lot, offer or dish and what is wrong with it."""
    with pytest.raises(InputError) as caught:
        make()  # type: ignore[operator]
    assert says in str(caught.value)


def test_a_lot_of_this_hour_is_no_lot_of_the_future() -> None:
    """A lot that came in now passes."""
    SPINACH.check_not_from_the_future(NOON)


def test_a_book_finds_its_dishes() -> None:
    """By id."""
    assert Book(house(), (dish(),), (), (SPINACH,)).dish("wilted-spinach").portions == 2


def test_an_offer_without_weekdays_is_there_every_market_day() -> None:
    """The empty tuple is the default."""
    assert Offer("C033", "bunch", 400, 2000, "greens").weekdays == ()


def test_dates_of_the_book_are_plain() -> None:
    """A lot's moment has a date that can be compared with a plan's day."""
    assert SPINACH.since.date() == date(2027, 3, 14)
