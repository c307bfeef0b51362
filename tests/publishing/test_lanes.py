"""The run sheet as lanes."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from xml.etree import ElementTree as ET

from tests.publishing.made_plan import run_sheet

from chauka.publishing import style
from chauka.publishing.lanes import held_in, lanes, lanes_svg
from chauka.scheduling import RunSheet

SVG = "{http://www.w3.org/2000/svg}"


def test_every_row_of_the_sheet_is_a_bar_in_each_lane_it_takes() -> None:
    """Hands, burner and vessel each show it, or it stands aside."""
    sheet = run_sheet()
    bars = ET.fromstring(lanes_svg(sheet)).findall(f"{SVG}rect")  # noqa: S314 - our own text
    taken = sum(max(1, bool(e.cook) + bool(e.burner) + bool(held_in(e))) for e in sheet)
    assert len(bars) == taken == sum(map(len, lanes(sheet).values()))


def test_bars_of_hands_and_burners_do_not_lie_on_one_another_for_long() -> None:
    """A burner carries one pot at a time."""
    for name, rows in lanes(run_sheet()).items():
        if name.startswith("burner"):
            ordered = sorted(rows, key=lambda e: e.start)
            assert all(a.end <= b.start for a, b in pairwise(ordered))


def test_for_a_file_it_brings_its_own_colours_and_for_a_page_none() -> None:
    """A page forbids style in the document; a file has no page."""
    sheet, look = run_sheet(), style()
    assert "<style>" not in lanes_svg(sheet)
    assert look.accent in lanes_svg(sheet, look)


def test_words_of_the_book_are_escaped() -> None:
    """A dish named with signs of markup stays text."""
    sheet = run_sheet()
    wild = replace(sheet, entries=(replace(sheet.entries[0], text="<b>dal & rice</b>"),))
    titles = [t.text or "" for t in ET.fromstring(lanes_svg(wild)).iter(f"{SVG}title")]  # noqa: S314
    assert any("<b>dal & rice</b>" in t for t in titles)


def test_a_sheet_without_steps_draws_nothing() -> None:
    """There is nothing to draw."""
    sheet = run_sheet()
    assert lanes_svg(RunSheet(sheet.serve, (), sheet.proof)) == ""
