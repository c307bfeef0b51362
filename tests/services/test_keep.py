"""How long something keeps, asked in words; and what the house's own log teaches."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW, SPINACH

from chauka import keeping
from chauka.errors import InputError
from chauka.kitchen import Deed, Form, LedgerRow, Lot, Place
from chauka.services import keep, learned, shelf
from chauka.store import books
from chauka.store.models import Household

LOT = Lot("a", 200, Form.WHOLE, Place.FRIDGE, NOW, food=SPINACH)


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


def row(day: float, deed: Deed, why: str = "", grams: float = 200.0) -> LedgerRow:
    return LedgerRow(NOW + timedelta(days=day), deed, grams, lot="a", food=SPINACH, why=why)


def test_a_form_may_follow_the_food() -> None:
    """Spinach, picked is no longer than spinach, and the rule is named."""
    blank = keep.blank_book()
    whole, picked = (keep.ask(words, blank, NOW, fridge_c=5) for words in ("spinach", "spinach, picked"))
    assert picked.lot.form is Form.PICKED
    assert picked.use_by.at <= whole.use_by.at
    assert picked.use_by.rule
    assert picked.use_by.source
    assert "Buy at most" in picked.buy


def test_a_dish_of_the_book_is_asked_by_its_name() -> None:
    """Its cautions come with it."""
    dish = BOOK.dishes[0]
    answer = keep.ask(dish.name, BOOK, NOW)
    assert answer.use_by == keeping.lot_use_by(answer.lot, BOOK.house, dish)
    assert answer.cautions == keeping.cautions(dish, BOOK.house.people)


def test_what_nobody_knows_is_refused() -> None:
    """An unknown food names itself, an absurd temperature too."""
    with pytest.raises(InputError, match="'unobtainium' is not a food"):
        keep.ask("unobtainium", BOOK, NOW)
    with pytest.raises(InputError, match="no refrigerator"):
        keep.ask("spinach", BOOK, NOW, fridge_c=40)
    with pytest.raises(InputError, match="500 °C is no room"):
        keep.ask("spinach", BOOK, NOW, room_c=500)


def test_a_warm_way_home_and_a_bad_neighbour_shorten_it() -> None:
    """An hour and a half at 31 °C, and an apple beside it."""
    blank = keep.blank_book()
    fresh = keep.ask("spinach", blank, NOW, age_days=0).use_by.at
    assert keep.ask("spinach", blank, NOW, history=[keeping.Stay(1.5, 31)]).use_by.at < fresh
    assert keep.ask("spinach", blank, NOW, age_days=0, beside=["E001"]).use_by.at < fresh


def test_only_what_spoilt_counts_as_off() -> None:
    """Wilted on day 3 is off on day 3; binned because of guests says nothing; used on day 6 was still fine."""
    first = {"a": LOT}
    (off,) = learned.seen([row(5, Deed.BINNED, "wilted on day 3")], first, BOOK.house)
    assert (off.day, off.still_fine) == (3.0, False)
    assert not learned.seen([row(5, Deed.BINNED, "too much for two")], first, BOOK.house)
    (fine,) = learned.seen([row(6, Deed.USED)], first, BOOK.house)
    assert (fine.day, fine.still_fine) == (6.0, True)


def test_a_deed_taken_back_teaches_nothing() -> None:
    """The row of the opposite weight takes it away."""
    rows = [row(3, Deed.BINNED, "wilted"), row(3, Deed.BINNED, "taken back", grams=-200.0)]
    assert not learned.seen(rows, {"a": LOT}, BOOK.house)


def test_a_lot_that_wilted_early_shortens_the_next_and_can_be_forgotten(owner: Household) -> None:
    """The factor moves, is shown, never lengthens a rule, and goes back to 1 when it is forgotten."""
    before = keep.ask("spinach", BOOK, NOW, household=owner)
    assert before.learnt is None
    shelf.log(owner, "spinach-1", Deed.BINNED, NOW + timedelta(days=1), why="wilted on day 1")
    after = keep.ask("spinach", BOOK, NOW, household=owner)
    assert after.learnt is not None
    assert 0.5 <= after.learnt.factor < 1
    assert after.use_by.at < before.use_by.at
    assert "in this house ×" in after.use_by.reason
    keep.forget(owner, "spinach", books.load_book(owner), NOW + timedelta(days=2))
    assert keep.ask("spinach", BOOK, NOW, household=owner).use_by.at == before.use_by.at


def test_no_lesson_passes_a_limit() -> None:
    """However well it goes, cooked food in the refrigerator keeps three days."""
    house = replace(BOOK.house, fridge_c=4)
    long = keeping.food_life("B013", Form.BOILED, Place.FRIDGE, house, house_factor=1.6)
    assert long.plan_days <= 3
    assert keeping.last_day(datetime(2027, 3, 14, 12)).day == 14  # noqa: DTZ001  (wall time)
