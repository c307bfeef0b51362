"""A book that is saved and loaded is the same book, and no other household's."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from django.db import connection, transaction
from hypothesis import HealthCheck, given, settings
from tests.store import generated

from chauka.errors import InputError
from chauka.kitchen import Book, Course, Dish, Form, House, Line, Lot, Person, Place, Sex
from chauka.store import books, ledger, models
from chauka.units import Estimate

same_file = settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
AT = datetime.fromisoformat("2027-03-14T07:00")


@contextmanager
def rolled_back() -> Iterator[None]:
    """Leaves the file as it was, so that the next example finds it blank."""
    with transaction.atomic():
        yield
        transaction.set_rollback(True)


@same_file
@given(book=generated.books())
def test_any_book_saved_and_loaded_is_equal(book_file: Path, book: Book) -> None:
    with rolled_back():
        assert books.load_book(books.create(book)) == book


@same_file
@given(first=generated.books(), second=generated.books())
def test_saving_over_a_book_leaves_nothing_of_the_old_one(book_file: Path, first: Book, second: Book) -> None:
    with rolled_back():
        owner = books.create(first)
        books.save_book(owner, second)
        assert books.load_book(owner) == second


@same_file
@given(mine=generated.books(), theirs=generated.books())
def test_two_households_in_one_database_never_mix(book_file: Path, mine: Book, theirs: Book) -> None:
    mine = replace(mine, house=replace(mine.house, name="mine"))
    theirs = replace(theirs, house=replace(theirs.house, name="theirs"))
    with rolled_back():
        me, them = books.create(mine), books.create(theirs)
        assert books.load_book(me) == mine
        books.save_book(me, replace(mine, dishes=(), offers=(), lots=()))
        assert books.load_book(them) == theirs
        assert books.household("theirs") == them
        with pytest.raises(InputError, match="several households"):
            books.household()


@same_file
@given(book=generated.books(), dish=generated.dishes(), house=generated.houses)
def test_a_dish_or_a_house_changed_alone_leaves_the_rest(book_file: Path, book: Book, dish: Dish, house: House) -> None:
    with rolled_back():
        owner = books.create(book)
        with ledger.action(owner, AT, "write a dish") as recorder:
            books.save_dish(recorder, dish)
            books.save_house(recorder, house)
        now = books.load_book(owner)
        assert now.house == house
        assert now.dish(dish.id) == dish
        assert [d for d in now.dishes if d != dish] == [d for d in book.dishes if d.id != dish.id]
        assert (now.lots, now.offers) == (book.lots, book.offers)
        assert [c.kind for c in models.Change.objects.of(owner)] == ["dish", "house"]


def test_number_of_queries_does_not_grow_with_the_dishes(book_file: Path, django_assert_max_num_queries: Any) -> None:
    book = _example(dishes=12)
    owner = books.create(book)
    with django_assert_max_num_queries(13):
        books.load_book(owner)


def test_two_lots_of_one_id_are_refused_and_nothing_is_written(book_file: Path) -> None:
    book = _example(dishes=1)
    lot = Lot("l", 1.0, Form.WHOLE, Place.FRIDGE, AT, food="A001")
    with pytest.raises(InputError, match="'l' stands 2 times"):
        books.create(replace(book, lots=(lot, lot)))
    assert not models.Household.objects.exists()


def test_an_empty_book_says_what_to_do(book_file: Path) -> None:
    with pytest.raises(InputError, match=r"still empty.*chauka demo"):
        books.household()


def test_an_unknown_household_is_named_with_those_that_are_there(book_file: Path) -> None:
    books.create(_example(dishes=0))
    with pytest.raises(InputError, match="none is called 'x' here; there is 'h'"):
        books.household("x")


def test_reading_does_not_wait_for_a_writer(book_file: Path) -> None:
    """A page can be read while a long action still holds the write lock."""
    owner = books.create(_example(dishes=1))
    writer = sqlite3.connect(book_file, isolation_level=None)
    writer.execute("BEGIN IMMEDIATE")
    try:
        assert books.load_book(owner).house.name == "h"
    finally:
        writer.execute("ROLLBACK")
        writer.close()
    assert connection.transaction_mode == "IMMEDIATE"  # type: ignore[attr-defined]


def _example(dishes: int) -> Book:
    """A small fixed book."""
    person = Person("p", "P", Sex.FEMALE, AT.date().replace(year=1990), 55.0)
    line = Line("l", "A001", "x", "1 cup", Estimate(100.0), Form.DRY)
    return Book(
        house=House("h", (person,), 2, (), (), (2, 6)),
        dishes=tuple(Dish(f"d{i}", "D", Course.GRAIN, "A001", 2.0, (line,), ()) for i in range(dishes)),
        offers=(),
        lots=(),
    )


def test_a_book_read_again_knows_every_change(book_file: Path) -> None:
    """Only lots are read anew after most actions; a dish, the house and the offers when they changed."""
    owner = books.create(_example(dishes=2))
    lot = Lot("spinach", 400.0, Form.WHOLE, Place.FRIDGE, AT, food="D001")
    for step in range(3):
        with ledger.action(owner, AT, "put") as recorder:
            recorder.put(replace(lot, grams=100.0 + step))
        assert books.load_book(owner).lots == (replace(lot, grams=100.0 + step),)
        with ledger.action(owner, AT, "write") as recorder:
            books.save_dish(recorder, replace(books.load_book(owner).dishes[0], portions=5.0 + step))
        assert books.load_book(owner).dishes[0].portions == 5.0 + step
        with ledger.action(owner, AT, "settle") as recorder:
            books.save_house(recorder, replace(books.load_house(owner), altitude_m=7.0 + step))
        assert books.load_book(owner).house.altitude_m == 7.0 + step
        with transaction.atomic():
            fresh = books.load_book(owner)
        assert fresh == books.load_book(owner)


PARTS = House("parts", (Person("p", "P", Sex.FEMALE, AT.date(), 60.0),), 2, (), (), ())


def _dish(key: str, *lines: Line) -> Dish:
    own = Line(f"{key}-own", "C033", "spinach", "100 g", Estimate(100), Form.WHOLE)
    return Dish(key, key, Course.VEGETABLE, "C033", 2, (own, *lines), ())


def _from(part: str) -> Line:
    return Line("part", "C033", part, "50 g", Estimate(50), Form.COOKED, made=part)


def test_a_book_is_written_as_it_was_and_loaded_with_its_parts(book_file: Path) -> None:
    book = Book(PARTS, (_dish("base"), _dish("whole", _from("base"))), (), ())
    owner = books.create(book)
    assert books.load_written(owner) == book
    assert books.load_book(owner) == book.whole() != book


def test_a_part_that_others_need_stays_and_none_needs_itself(book_file: Path) -> None:
    book = Book(PARTS, (_dish("base"), _dish("whole", _from("base"))), (), ())
    owner = books.create(book)
    with pytest.raises(InputError, match="'whole' takes a part from 'base'"), ledger.action(owner, AT, "x") as recorder:
        books.remove_dish(recorder, "base")
    with pytest.raises(InputError, match="base → whole → base"), ledger.action(owner, AT, "x") as recorder:
        books.save_dish(recorder, _dish("base", _from("whole")))
    assert books.load_written(owner) == book
