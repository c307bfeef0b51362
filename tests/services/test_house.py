"""A book that is wrong is explained in words, all faults at once."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOILED_RICE, BOOK, HOUSE, NOW, WILTED_SPINACH

from chauka.errors import InputError
from chauka.kitchen import Book, DayRule, RuleKind, VesselStock
from chauka.services import foods, house
from chauka.store import books


def _said(book: Book) -> list[tuple[str, str, bool]]:
    return [(fault.where, fault.what, fault.stops) for fault in house.faults(book, NOW)]


def test_a_whole_book_has_no_faults(book_file: Path) -> None:
    owner = books.create(BOOK)
    assert house.check(owner, NOW) == ()
    assert house.view(owner).dishes == 3


def test_an_unknown_food_is_named_with_its_line() -> None:
    line = replace(BOILED_RICE.lines[0], food="Z999")
    book = replace(BOOK, dishes=(replace(BOILED_RICE, lines=(line,)), *BOOK.dishes[1:]))
    where, what, stops = _said(book)[0]
    assert where == "dish boiled-rice, line rice"
    assert "Z999" in what
    assert stops


def test_a_lot_from_the_future_is_named() -> None:
    tomorrow = replace(BOOK.lots[0], since=NOW + timedelta(days=1))
    (fault,) = _said(replace(BOOK, lots=(tomorrow,)))[:1]
    assert fault[0] == "lot spinach-1"
    assert "2027-03-15 07:00 is still to come" in fault[1]
    assert fault[2]


def test_a_dish_that_cannot_be_cooked_here_is_a_note() -> None:
    book = replace(BOOK, house=replace(HOUSE, vessels=(VesselStock(HOUSE.vessels[0].kind),)))
    said = _said(book)
    assert ("dish wilted-spinach", "needs a wok, and the house has none; it is never planned", False) in said
    assert not any(stops for *_, stops in said)


def test_rules_and_likings_that_name_nobody_are_notes() -> None:
    asha = replace(HOUSE.people[0], liking={"gone-dish": 5})
    rule = DayRule(RuleKind.AWAY, weekday=0, people=frozenset({"nobody"}))
    book = replace(BOOK, house=replace(HOUSE, people=(asha,), rules=(rule,)))
    said = [what for _, what, _ in _said(book)]
    assert "is said to like 'gone-dish', which is not in the dish book" in said
    assert "names 'nobody', who does not live here" in said


def test_a_food_that_nobody_sells_is_a_note() -> None:
    book = replace(BOOK, offers=BOOK.offers[1:], lots=())
    assert ("dish wilted-spinach", "needs Spinach: neither sold nor on the shelf", False) in _said(book)


def test_everything_that_stops_is_said_at_once() -> None:
    line = replace(WILTED_SPINACH.lines[0], food="Z999")
    book = replace(
        BOOK,
        house=replace(HOUSE, meal_times=()),
        dishes=(replace(WILTED_SPINACH, lines=(line,)),),
        lots=(replace(BOOK.lots[0], since=NOW + timedelta(days=1)),),
    )
    with pytest.raises(InputError) as error:
        house.refuse_if_wrong(book, NOW)
    assert set(error.value.fields) == {"dish wilted-spinach, line spinach", "lot spinach-1", "house"}


def test_foods_are_found_by_code_by_the_houses_word_and_by_name() -> None:
    assert foods.resolve("C033", BOOK) == "C033"
    assert foods.resolve("Palak", BOOK) == "C033"
    assert foods.resolve("spinach", BOOK) == "C033"
    assert foods.called(BOOK)["C033"] == "palak"


def test_a_food_that_is_not_certain_is_asked_back() -> None:
    with pytest.raises(InputError, match=r"'rice' is not a food that chauka knows for certain; did you mean Rice"):
        foods.resolve("rice  ", replace(BOOK, dishes=()))
    with pytest.raises(InputError, match="'qqqq' is not a food"):
        foods.resolve("qqqq", BOOK)
