"""`chauka dish read` and `chauka dish lines`."""

from __future__ import annotations

import io
import json
import sys
from pathlib import Path

import pytest

from chauka.cli import main

NARRATION = Path(__file__).parents[1] / "reading" / "narrations" / "hill_rajma.vtt"


def given(text: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """Put text on standard input."""
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text.encode())))


def test_lines_come_out_in_order(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """One JSON object a line, with the keys of the label rules."""
    given("1 cup besan\nhing a pinch\n", monkeypatch)
    assert main(["dish", "lines", "--json"]) == 0
    first, second = (json.loads(line) for line in capsys.readouterr().out.splitlines())
    assert (first["qty_low"], first["unit"], first["food"]) == (1, "cup", "besan")
    assert (second["unit"], second["food"]) == ("pinch", "hing")


def test_a_narration_as_json(capsys: pytest.CaptureFixture[str]) -> None:
    """The draft and its questions for machines."""
    assert main(["dish", "read", str(NARRATION), "--json"]) == 0
    data = json.loads(capsys.readouterr().out)
    assert data["title"] == "Hill rajma"
    assert data["steps"]
    assert any(q["about"] == "cup size" for q in data["questions"])


def test_a_narration_on_paper(capsys: pytest.CaptureFixture[str]) -> None:
    """The draft for people: lines, steps, questions."""
    assert main(["dish", "read", str(NARRATION)]) == 0
    out = capsys.readouterr().out
    assert "Hill rajma" in out
    assert "6 whistles" in out
    assert "? Which cup" in out


def test_an_empty_text_is_refused(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
    """Exit code 1 and what to do."""
    given("  \n", monkeypatch)
    assert main(["dish", "read", "-"]) == 1
    assert "give a recipe" in capsys.readouterr().err
