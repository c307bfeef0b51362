"""What a house logs moves its own dates: on the shelf, and never past an agency's limit."""

from __future__ import annotations

from datetime import timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from tests.services.small_house import BOOK, NOW

from chauka.kitchen import Deed, Form, Place
from chauka.services import learned, shelf
from chauka.store import books, undo
from chauka.store.models import Household

ON_BOTH = True

pytestmark = pytest.mark.django_db
RADISH = "F010"


@pytest.fixture
def owner(book_file: object) -> Household:
    """A household with the small house's book."""
    return books.create(BOOK)


def _days(owner: Household) -> float:
    return next(one.days_left for one in shelf.view(owner, NOW).lots if one.lot.food == RADISH)


def test_lots_that_were_off_early_shorten_the_next(owner: Household) -> None:
    """After three lots that wilted on day 2, a fourth is planned for fewer days than before; forgetting resets it."""
    first = shelf.add(owner, RADISH, "500 g", NOW, form=Form.WHOLE, place=Place.FRIDGE).lot
    before = _days(owner)
    later = [shelf.add(owner, RADISH, "500 g", NOW, form=Form.WHOLE, place=Place.FRIDGE).lot for _ in range(2)]
    for lot in (first, *later):
        shelf.log(owner, lot.id, Deed.BINNED, NOW + timedelta(days=2), why="wilted on day 2")
    shelf.add(owner, RADISH, "500 g", NOW, form=Form.WHOLE, place=Place.FRIDGE)
    assert _days(owner) < before
    learned.forget(owner, RADISH, NOW + timedelta(days=3))
    assert _days(owner) == pytest.approx(before)
    undo.undo(owner, NOW + timedelta(days=3))
    assert _days(owner) < before, "forgetting is taken back like any other action"


def test_a_long_ledger_is_not_read_to_the_end(owner: Household) -> None:
    """What was learnt takes the same few queries after a hundred deeds, and the newest of them counts."""

    def asked() -> int:
        with CaptureQueriesContext(connection) as queries:
            shelf.view(owner, NOW)
        return len(queries)

    lot = shelf.add(owner, RADISH, "2 kg", NOW, form=Form.WHOLE, place=Place.FRIDGE).lot
    asked()
    shelf.log(owner, lot.id, Deed.USED, NOW + timedelta(days=1), amount="1 g", why="still fine on day 1")
    before = asked()
    for number in range(100):
        shelf.log(owner, lot.id, Deed.USED, NOW + timedelta(days=1), amount="1 g", why=f"still fine on day {number}")
    assert asked() == before
    assert learned.factor(owner, RADISH).lots == 1


def test_what_is_kept_of_a_food_is_what_is_worked_out_anew(owner: Household) -> None:
    """After each action the shelf's factors are those that a process would find which has just been started."""
    lots = [shelf.add(owner, food, "500 g", NOW, form=Form.WHOLE).lot for food in (RADISH, "C033", RADISH)]

    def same() -> dict[str, float]:
        house = books.load_book(owner).house
        kept = learned.factors(owner, {RADISH, "C033"}, house)
        learned._kept.clear()
        assert kept == learned.factors(owner, {RADISH, "C033"}, house)
        return kept

    assert same() == {}
    for lot in lots:
        shelf.log(owner, lot.id, Deed.BINNED, NOW + timedelta(days=2), why="wilted on day 2")
        same()
    assert set(same()) == {RADISH, "C033"}
    undo.undo(owner, NOW + timedelta(days=2))
    same()
    learned.forget(owner, RADISH, NOW + timedelta(days=3))
    same()
