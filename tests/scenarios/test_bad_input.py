"""What a cook may get wrong, through the command line: a message that names the thing, and nothing lost."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from tests.cli.running import Run
from tests.services.small_house import BOOK, HOUSE, NOW, WILTED_SPINACH

from chauka.kitchen import Book, Course, DayRule, RuleKind
from chauka.store import books, dump, ledger, models

TODAY = ("--today", "2027-03-14")
PLAN = ("table", "show", "--new", "--days", "1", "--seconds", "2", *TODAY)


def _nothing_lost(book: Book) -> None:
    owner = books.household()
    assert books.load_book(owner) == book
    assert ledger.rows(owner) == ()


@pytest.mark.parametrize(
    ("words", "complaint"),
    [
        (("shelf", "add", "dragon scales", "1 kg"), "'dragon scales' is not a food that chauka knows"),
        (("market", "bought", "dragon scales", "1 kg", "40"), "'dragon scales' is not a food that chauka knows"),
        (("shelf", "add", "palak", "3 furlongs"), "furlong"),
        (("shelf", "add", "palak", "some"), "some"),
        (("market", "bought", "palak", "9000 kg", "40"), "9000 kg"),
        (("market", "bought", "palak", "1 kg", "much"), "'much' is no sum of money"),
        (("shelf", "used", "spinach-1", "5 kg"), "holds 400 g; 5000 g cannot be used"),
        (("shelf", "used", "leek-1"), "'leek-1' is not on the shelf; there is spinach-1"),
        (("shelf", "add", "palak", "1 kg", "--since", "2027-03-20"), "2027-03-20 07:00 is still to come"),
        (("page", "pizza"), "'pizza' is not in the dish book; it holds boiled-rice"),
    ],
)
def test_what_cannot_be_is_refused_by_name(run: Run, small_house: None, words: tuple[str, ...], complaint: str) -> None:
    code, out, err = run(*words, *TODAY)
    assert (code, out) == (1, "")
    assert complaint in err
    assert "Traceback" not in err
    _nothing_lost(BOOK)


@pytest.mark.parametrize("amount", ["-2 kg", "-200", "0 g"])
def test_a_negative_amount_is_refused(run: Run, small_house: None, amount: str) -> None:
    code, out, err = run("shelf", "add", *TODAY, "--", "palak", amount)
    assert code == 1, out
    assert amount.split(maxsplit=1)[0].lstrip("-") in err
    _nothing_lost(BOOK)


def _plan_of(run: Run, book: Book) -> tuple[int, str, str]:
    books.create(book)
    return run(*PLAN)


def test_a_dish_with_an_unknown_food(run: Run) -> None:
    line = replace(WILTED_SPINACH.lines[0], food="Z999")
    book = replace(BOOK, dishes=(*BOOK.dishes[::2], replace(WILTED_SPINACH, lines=(line,))))
    code, out, err = _plan_of(run, book)
    assert (code, out) == (1, "")
    assert "dish wilted-spinach, line spinach" in err
    assert "Z999" in err
    _nothing_lost(book)
    assert not models.Plan.objects.exists()


def test_a_lot_from_the_future(run: Run) -> None:
    book = replace(BOOK, lots=(replace(BOOK.lots[0], since=NOW + timedelta(days=2)),))
    code, out, err = _plan_of(run, book)
    assert (code, out) == (1, "")
    assert "lot spinach-1: came in at 2027-03-16 07:00 is still to come" in err
    _nothing_lost(book)


def test_a_house_without_a_burner(run: Run, small_house: None, tmp_path: Path) -> None:
    file = tmp_path / "house.json"
    dump.write(books.household(), file, NOW)
    file.write_text(file.read_text().replace('"burners": 2', '"burners": 0'))
    code, _, err = run("house", "restore", str(file))
    assert code == 1
    assert "burners: a kitchen needs at least one burner to cook on; enter how many there are" in err
    _nothing_lost(BOOK)


def test_a_budget_that_is_too_tight(run: Run) -> None:
    """Nothing on the shelf and one rupee a week: the budget is named, and the least costly way out."""
    book = replace(BOOK, house=replace(HOUSE, weekly_budget=100), lots=())
    code, out, _ = _plan_of(run, book)
    assert code == 1
    said = " ".join(out.split())
    assert "spend at most" in said or "budget" in said
    assert "way out" in said
    _nothing_lost(book)


def test_a_day_on_which_nothing_fits(run: Run) -> None:
    """A fast day, and a dish book of grain and pulse alone."""
    rules = (DayRule(RuleKind.FAST, on=NOW.date()),)
    dishes = tuple(d for d in BOOK.dishes if d.course in (Course.GRAIN, Course.PULSE))
    book = replace(BOOK, house=replace(HOUSE, rules=rules), dishes=dishes)
    code, out, _ = _plan_of(run, book)
    assert code == 1
    said = " ".join(out.split())
    assert "nothing fits" in said
    assert "fast" in said
    assert "way out" in said
    _nothing_lost(book)
