"""The command as people and programs meet it: help, exit codes, complaints, JSON."""

from __future__ import annotations

import json
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from tests.cli.running import Run
from tests.services.small_house import BOOK, HOUSE

from chauka import cli
from chauka.cli import root
from chauka.store import books


def test_help_lists_the_sections_in_the_order_of_the_house(capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(["--help"]) == 0
    out = capsys.readouterr().out
    places = [out.index(f"\n  {name} ") for name in root.SECTIONS]
    assert places == sorted(places)


def test_help_is_quick() -> None:
    """Nothing heavy is imported before a section is called."""
    made = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "chauka", "--help"], capture_output=True, text=True, check=True
    )
    for heavy in ("django", "ortools", "highspy", "numpy", "jinja2"):
        assert f" {heavy}\n" not in made.stderr


@pytest.mark.parametrize("section", list(root.SECTIONS))
def test_every_section_has_help_that_says_what_it_is_for(section: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main([section, "--help"]) == 0
    out = capsys.readouterr().out
    assert out.startswith(f"Usage: chauka {section}")
    assert len(out.splitlines()) > 5
    assert all(len(line) <= 100 for line in out.splitlines())


@pytest.mark.parametrize(
    "words", [["nope"], ["house", "nope"], ["shelf", "--nope"], ["stove", "yesterday"], ["shelf", "move", "x", "moon"]]
)
def test_a_command_called_wrongly_ends_with_2(words: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert cli.main(words) == 2
    assert "Error" in capsys.readouterr().err


def test_an_empty_book_says_what_to_do(run: Run) -> None:
    code, out, err = run("house")
    assert (code, out) == (1, "")
    assert err.startswith("chauka: this book is still empty")


def test_a_fault_of_ours_ends_with_3_and_no_traceback(
    run: Run, small_house: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("division by zero")

    monkeypatch.setattr("chauka.services.house.view", broken)
    code, _, err = run("house")
    assert code == 3
    assert "a fault of chauka itself (ZeroDivisionError: division by zero; broken, line" in err
    assert "Traceback" not in err


def test_stopping_ends_with_130(run: Run, small_house: None, monkeypatch: pytest.MonkeyPatch) -> None:
    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("chauka.services.house.view", stopped)
    code, _, err = run("house")
    assert code == 130
    assert "Stopped" in err


def test_the_house_is_shown(run: Run, small_house: None) -> None:
    code, out, _ = run("house", "--today", "2027-03-14")
    assert code == 0
    assert "Small house" in out
    assert "Asha" in out
    assert "36 years" in out
    assert "Rs 1,000 a week" in out


def test_json_is_for_programs(run: Run, small_house: None) -> None:
    code, out, _ = run("house", "show", "--json")
    assert code == 0
    seen = json.loads(out)
    assert list(seen) == ["house", "dishes", "offers", "lots"]
    assert seen["house"]["people"][0]["born"] == "1990-05-01"
    assert seen["house"]["weekly_budget"] == 100_000


def test_a_house_is_chosen_by_name_where_several_share_a_book(run: Run, small_house: None) -> None:
    books.create(replace(BOOK, house=replace(HOUSE, name="Next door")))
    code, _, err = run("house")
    assert code == 1
    assert "'Next door', 'Small house'; say which with --household" in err
    code, out, _ = run("house", "--household", "Next door")
    assert code == 0
    assert "Next door" in out


def test_a_whole_book_passes_its_check(run: Run, small_house: None) -> None:
    code, out, _ = run("house", "check", "--today", "2027-03-14")
    assert (code, out.startswith("The book is whole")) == (0, True)


def test_a_wrong_book_fails_its_check(run: Run, small_house: None) -> None:
    code, out, _ = run("house", "check", "--today", "2027-03-01")
    assert code == 1
    assert "lot spinach-1" in out
    assert "still to come" in out


def test_dump_and_restore_give_an_equal_book(run: Run, small_house: None, tmp_path: Path) -> None:
    file = tmp_path / "house.json"
    code, out, _ = run("house", "dump", str(file))
    assert code == 0
    assert "3 dishes" in out
    other = tmp_path / "other.sqlite3"
    code, out, _ = run("house", "restore", str(file), "--book", str(other))
    assert code == 0
    assert "Restored Small house" in out
    code, out, _ = run("house", "--book", str(other), "--json")
    assert code == 0
    assert books.load_book(books.household()) == BOOK


def test_a_damaged_dump_changes_nothing(run: Run, small_house: None, tmp_path: Path) -> None:
    file = tmp_path / "house.json"
    run("house", "dump", str(file))
    file.write_text(file.read_text().replace('"burners": 2', '"burners": 0'))
    code, _, err = run("house", "restore", str(file))
    assert code == 1
    assert "house.house Small house.burners: a kitchen needs at least one burner" in err
    assert books.load_book(books.household()) == BOOK


def test_a_book_that_is_none_is_left_alone(run: Run, tmp_path: Path) -> None:
    letter = tmp_path / "letter.txt"
    letter.write_text("Dear Amma")
    code, _, err = run("house", "--book", str(letter))
    assert code == 1
    assert "is no book of chauka" in err
    assert letter.read_text() == "Dear Amma"


def test_output_cut_off_by_the_reader_ends_quietly(
    run: Run, small_house: None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """As in `chauka house | head -1`."""

    def closed(*_: object, **__: object) -> None:
        raise BrokenPipeError

    monkeypatch.setattr("chauka.cli.session.show", closed)
    hung_up: list[bool] = []
    monkeypatch.setattr("chauka.cli.root._hang_up", lambda: hung_up.append(True) or 0)
    assert run("house")[::2] == (0, "")
    assert hung_up
