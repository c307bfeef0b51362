"""The shelf says what to use first and why; what happens to a lot is written down."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW, SPINACH

from chauka import tables
from chauka.errors import InputError
from chauka.kitchen import Deed, Form, Lot, Place
from chauka.services import shelf
from chauka.services.shelf import Freshness
from chauka.store import books, ledger
from chauka.store.models import Household

ON_BOTH = True


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


def test_what_expires_first_stands_first_with_a_reason(owner: Household) -> None:
    seen = shelf.view(owner, NOW)
    ends = [one.use_by.at for one in seen.lots]
    assert ends == sorted(ends)
    assert {one.lot.id for one in seen.lots} == {"spinach-1", "rice-1", "curd-1"}
    assert seen.lots[-1].lot.id == "rice-1"
    for one in seen.lots:
        assert one.use_by.reason
        assert one.use_by.source
    assert [one.lot.id for one in seen.at_place(Place.CUPBOARD)] == ["rice-1"]


def test_a_leaf_drains_as_the_days_go_by() -> None:
    leaves = [shelf.of_book(BOOK, NOW + timedelta(days=d)).lots[0] for d in (0, 1, 60)]
    shares = [one.leaf for one in leaves if one.leaf is not None]
    assert shares == sorted(shares, reverse=True)
    assert leaves[-1].freshness is Freshness.PAST
    assert leaves[-1].leaf == 0.0


@pytest.mark.parametrize(
    ("days", "known", "word"),
    [
        (-1, True, Freshness.PAST),
        (-1, False, Freshness.PAST),
        (0, True, Freshness.TODAY),
        (1, True, Freshness.SOON),
        (2, True, Freshness.SOON),
        (3, True, Freshness.GOOD),
        (3, False, Freshness.UNKNOWN),
    ],
)
def test_freshness_is_a_word(days: int, known: bool, word: Freshness) -> None:
    assert shelf._freshness(days, known=known) is word


def test_adding_by_the_houses_own_words(owner: Household) -> None:
    made = shelf.add(owner, "palak", "1.5 kg", NOW, age_days=1)
    assert made.lot == Lot("palak-14-mar", 1500.0, Form.WHOLE, Place.FRIDGE, NOW, food=SPINACH, age_days=1)
    assert made.lot in books.load_book(owner).lots
    assert made.name == "palak"


def test_a_lot_from_the_future_is_refused(owner: Household) -> None:
    with pytest.raises(InputError, match="2027-03-15 07:00 is still to come"):
        shelf.add(owner, "palak", "1 kg", NOW, since=NOW + timedelta(days=1))
    assert books.load_book(owner) == BOOK


def test_logging_takes_words_grams_or_all(owner: Household) -> None:
    assert shelf.log_used(owner, "spinach-1", "100 g", NOW).lot.grams == 300.0
    assert shelf.log_eaten(owner, "spinach-1", 50, NOW).lot.grams == 250.0
    assert shelf.log_used(owner, "spinach-1", "0.1 kg", NOW).lot.grams == 150.0
    made = shelf.log_binned(owner, "spinach-1", None, NOW, why="slimy")
    assert (made.grams, made.lot.grams, made.name) == (150.0, 0.0, "palak")
    assert [(r.deed, r.why) for r in ledger.rows(owner)][-1] == (Deed.BINNED, "slimy")
    assert "spinach-1" not in {lot.id for lot in books.load_book(owner).lots}


@pytest.mark.parametrize("amount", ["-5 g", "0", "5 furlongs", "nan", "1e9"])
def test_an_amount_that_cannot_be_is_refused(owner: Household, amount: str) -> None:
    with pytest.raises(InputError):
        shelf.log_used(owner, "spinach-1", amount, NOW)
    assert books.load_book(owner) == BOOK
    assert ledger.rows(owner) == ()


def test_moving_keeps_the_age(owner: Household) -> None:
    made = shelf.move(owner, "spinach-1", Place.FREEZER, NOW)
    assert (made.lot.place, made.lot.since, made.lot.age_days) == (Place.FREEZER, NOW, 1.0)
    assert ledger.rows(owner)[0].why == "from the fridge to the freezer"


def test_opening_uncovers(owner: Household) -> None:
    assert not shelf.open_lot(owner, "curd-1", NOW).lot.covered
    assert ledger.rows(owner)[0].deed is Deed.OPENED


def test_a_cooked_dish_must_be_weighed(book_file: Path) -> None:
    boiled = Lot("boiled", 300.0, Form.COOKED, Place.FRIDGE, NOW, dish="boiled-rice")
    owner = books.create(replace(BOOK, lots=(boiled,)))
    with pytest.raises(InputError, match="must be weighed"):
        shelf.log_eaten(owner, "boiled", "1 cup", NOW)
    assert shelf.log_eaten(owner, "boiled", "100", NOW).lot.grams == 200.0


def test_bunches_are_weighed_as_bought_and_picked_leaves_as_eaten(owner: Household) -> None:
    """A lot in form whole holds what will be thrown away too; two bunches give less once picked."""
    whole = shelf.add(owner, SPINACH, "2 bunches", NOW).lot.grams
    picked = shelf.add(owner, SPINACH, "2 bunches", NOW, form=Form.PICKED).lot.grams
    share = tables.edible_fraction(SPINACH)
    assert share is not None
    assert picked == pytest.approx(whole * share.mean)
    left = shelf.log(owner, "spinach-1", Deed.USED, NOW, amount="1 bunch").lot.grams
    assert left == pytest.approx(400 - whole / 2)
