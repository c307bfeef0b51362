"""The demo's week, from market list to finished write-up, as `make demo` prints it."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from tests.cli.running import Run
from tests.services.small_house import NOW
from tests.store.test_plans import PLAN

from chauka import cli, demo
from chauka.cli.paper import layout
from chauka.services import demo_house
from chauka.store import books, location, models, opening, plans

WORDS = ("demo", "--from", "2027-03-14", "--seconds", "3")
HEADINGS = ("Table", "Market", "Bench", "Stove", "Shelf", "Nutrition", "Expected waste", "Page", "And now")


@pytest.fixture
def demo_file(tmp_path: Path, free_to_open: None, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Where the demo's book goes in this test."""
    path = tmp_path / "demo.sqlite3"
    monkeypatch.setattr(location, "demo_path", lambda: path)
    return path


@pytest.mark.slow
def test_the_whole_week_is_printed_in_a_hundred_columns(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(WORDS) == 0
    out, err = capsys.readouterr()
    places = [re.search(rf"^{name}\b", out, re.MULTILINE) for name in HEADINGS]
    assert all(places)
    assert [p.start() for p in places if p] == sorted(p.start() for p in places if p)
    to_type = "    chauka "  # commands are not broken over lines
    assert max(layout.width(line) for line in out.splitlines() if not line.startswith(to_type)) <= layout.WIDTH
    said = " ".join(out.split())
    assert "could not be better by more than Rs" in said or "was not found out in that time" in said
    assert f"chauka serve --book {demo_file} --today 2027-03-14" in out
    assert "Planning 7 days" in err
    assert len(re.findall(r"^(?:Mon|Tue|Wed|Thu|Fri|Sat|Sun) \d+ Mar", out, re.MULTILINE)) >= 7
    book = books.load_book(books.household())
    assert book == demo.book()
    for lot in book.lots:
        if lot.dish:
            assert book.dish(lot.dish).name in out


@pytest.mark.slow
def test_the_demo_for_programs_replaces_the_one_before(demo_file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    opening.open_book(demo_file)
    first = demo_house.load(NOW)
    plans.propose(first, PLAN, NOW)
    assert cli.main([*WORDS, "--json"]) == 0
    week = json.loads(capsys.readouterr().out)
    assert list(week) == ["house", "now", "table", "market", "bench", "stove", "shelf", "write_up", "seconds"]
    assert week["now"] == "2027-03-14T07:00:00"
    assert models.Household.objects.count() == 1
    (kept,) = plans.every(books.household())
    assert kept.accepted == NOW


def test_the_demo_never_touches_ones_own_book(run: Run, small_house: None, book_file: Path) -> None:
    code, out, err = run(*WORDS, "--book", str(book_file))
    assert (code, out) == (1, "")
    assert "this book is of Small house; the demo goes only into a book of its own" in err
    assert books.household().name == "Small house"


def test_the_demo_can_begin_on_another_day(book_file: Path) -> None:
    later = NOW.replace(day=20)
    owner = demo_house.load(later)
    book = books.load_book(owner)
    assert book == demo.book(later.date())
    assert max(lot.since for lot in book.lots) <= later
