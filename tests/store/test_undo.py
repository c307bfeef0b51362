"""Whatever was done can be taken back and done again, to any depth; the ledger only grows."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from tests.services.small_house import BOOK, NOW, SPINACH
from tests.store.test_books import rolled_back

from chauka.errors import InputError
from chauka.kitchen import Book, Deed, Form, LedgerRow, Lot, Place
from chauka.services import past
from chauka.store import books, ledger, models, undo
from chauka.store.models import Household

ON_BOTH = True


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


def _use(owner: Household, grams: float) -> None:
    lot = books.load_book(owner).lots[0]
    ledger.record(owner, LedgerRow(at=NOW, deed=Deed.USED, grams=min(grams, lot.grams), lot=lot.id))


def _buy(owner: Household, grams: float) -> None:
    lot = Lot(ledger.free_lot_id(owner, "more"), grams, Form.WHOLE, Place.FRIDGE, NOW, food=SPINACH, cost=99)
    ledger.record(owner, LedgerRow(at=NOW, deed=Deed.BOUGHT, grams=grams, lot=lot.id, cost=99), lot=lot)


def _rename(owner: Household, grams: float) -> None:
    dish = books.load_book(owner).dishes[1]
    with ledger.action(owner, NOW, "change a dish") as recorder:
        books.save_dish(recorder, replace(dish, story=f"{grams:g}"))


def _resettle(owner: Household, grams: float) -> None:
    with ledger.action(owner, NOW, "change the house") as recorder:
        books.save_house(recorder, replace(books.load_house(owner), altitude_m=grams))
        books.save_offers(recorder, [replace(BOOK.offers[0], grams=grams)])


def _move(owner: Household, grams: float) -> None:
    lot = books.load_book(owner).lots[-1]
    with ledger.action(owner, NOW, "move a lot") as recorder:
        recorder.put(replace(lot, place=Place.COUNTER, age_days=grams))


deeds = st.lists(
    st.tuples(st.sampled_from([_use, _buy, _rename, _resettle, _move]), st.floats(1, 390)), min_size=1, max_size=7
)


@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
@given(done=deeds, back=st.integers(1, 9), again=st.integers(0, 9))
def test_any_deeds_can_be_taken_back_and_done_again(
    owner: Household, done: list[tuple[Callable[[Household, float], None], float]], back: int, again: int
) -> None:
    """After k steps back and m forward the book is what it was after the deed that stands there."""
    with rolled_back():
        versions: list[Book] = [books.load_book(owner)]
        for deed, grams in done:
            deed(owner, grams)
            versions.append(books.load_book(owner))
        back = min(back, len(done))
        for step in range(1, back + 1):
            undo.undo(owner, NOW)
            assert books.load_book(owner) == versions[-1 - step]
        for step in range(min(again, back)):
            undo.redo(owner, NOW)
            assert books.load_book(owner) == versions[-back + step]
        rows = ledger.rows(owner)
        here = {lot.id for lot in books.load_book(owner).lots}
        for lot in here - {lot.id for lot in BOOK.lots}:
            taken = sum(r.grams * (1 if r.deed is Deed.BOUGHT else -1) for r in rows if r.lot == lot)
            assert taken == pytest.approx(next(x.grams for x in books.load_book(owner).lots if x.id == lot), abs=1)


def test_nothing_is_left_after_the_first_action(owner: Household) -> None:
    with pytest.raises(InputError, match="nothing is left to take back"):
        undo.undo(owner, NOW)
    with pytest.raises(InputError, match="nothing was taken back"):
        undo.redo(owner, NOW)
    _use(owner, 10)
    undo.undo(owner, NOW)
    with pytest.raises(InputError, match="nothing is left to take back"):
        undo.undo(owner, NOW)
    undo.redo(owner, NOW)
    with pytest.raises(InputError, match="nothing was taken back"):
        undo.redo(owner, NOW)


def test_something_new_ends_what_can_be_done_again(owner: Household) -> None:
    _use(owner, 10)
    undo.undo(owner, NOW)
    _use(owner, 20)
    with pytest.raises(InputError, match="nothing was taken back"):
        undo.redo(owner, NOW)


def test_an_older_action_that_something_was_built_on_stays(owner: Household) -> None:
    """Taking it back would overwrite what came later; nothing is changed by the refusal."""
    _use(owner, 10)
    _use(owner, 20)
    before = books.load_book(owner), models.Action.objects.count()
    with pytest.raises(InputError, match="take the later action back first"):
        undo.take_back(owner, 1, NOW)
    assert (books.load_book(owner), models.Action.objects.count()) == before


def test_undoing_far_back_goes_past_one_page(owner: Household, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(undo, "_AT_ONCE", 3)
    for grams in range(1, 9):
        _use(owner, grams)
    for _ in range(8):
        undo.undo(owner, NOW)
    assert books.load_book(owner) == BOOK


def test_the_history_of_a_dish_names_what_changed(owner: Household) -> None:
    dish = BOOK.dishes[1]
    lines = (replace(dish.lines[0], amount="2 bunches"),)
    with ledger.action(owner, NOW + timedelta(hours=1), "change a dish") as recorder:
        books.save_dish(recorder, replace(dish, lines=lines, portions=3.0))
    (version,) = past.of_dish(owner, dish.id)
    assert [(d.place, d.before, d.after) for d in version.differences] == [
        ("portions", 2.0, 3.0),
        ("lines.spinach.amount", "1 bunch", "2 bunches"),
    ]
    undo.undo(owner, NOW)
    newest, _ = past.of_dish(owner, dish.id)
    assert (newest.differences[0].place, newest.differences[0].after) == ("portions", 2.0)


def test_another_household_has_nothing_to_take_back(owner: Household) -> None:
    other = books.create(replace(BOOK, house=replace(BOOK.house, name="next door")))
    _use(owner, 10)
    with pytest.raises(InputError, match="nothing is left"):
        undo.undo(other, NOW)
    with pytest.raises(InputError, match="there is no action 1"):
        undo.take_back(other, 1, NOW)
