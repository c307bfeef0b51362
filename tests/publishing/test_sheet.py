"""The HTML sheet."""

from __future__ import annotations

import json
import re
from html.parser import HTMLParser

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.publishing.samples import HOSTILE, all_write_ups, demo_write_up, line, small_dish, written

from chauka.publishing import Credits, Language, page_data, page_data_json, page_snippet, sheet_html
from chauka.publishing.text import grams_text
from chauka.publishing.words import words
from chauka.publishing.write_up import PANEL


class _Reader(HTMLParser):
    """Collects text, tags and the page data of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.text: list[str] = []
        self.tags: list[str] = []
        self.script: list[str] = []
        self._in = ""

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append(tag)
        self._in = tag

    def handle_endtag(self, tag: str) -> None:
        self._in = ""

    def handle_data(self, data: str) -> None:
        (self.script if self._in == "script" else self.text).append(data)


def read(html: str) -> _Reader:
    """A page read by an independent parser."""
    reader = _Reader()
    reader.feed(html)
    return reader


def test_it_prints_every_line_step_and_nutrient() -> None:
    """Every weight, instruction and panel nutrient of every demo dish is on its sheet."""
    for w in all_write_ups():
        text = " ".join(read(sheet_html(w)).text)
        for x in w.dish.lines:
            assert grams_text(x.grams) in text
            assert x.said in text
        assert all(s.text in text for s in w.dish.steps)
        assert all(words().nutrients[n.tag] in text for n, _ in w.panel)


def test_cooks_words_for_every_panel_nutrient() -> None:
    """No formal table name on the sheet."""
    assert set(PANEL) == set(words().nutrients)
    assert "total, from nitrogen" not in sheet_html(demo_write_up())


def test_hindi_labels() -> None:
    """The sheet can be labelled in Hindi and says so."""
    html = sheet_html(demo_write_up(), language=Language.HINDI)
    assert '<html lang="hi">' in html
    assert "सामग्री" in html


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_print_as_themselves(name: str) -> None:
    """A name full of markup is text in the page and in its data, and opens no element."""
    water = small_dish().lines[1]
    quiet = small_dish(story="quiet", lines=(line(), water))
    loud = small_dish(name=name, story=name, lines=(line(said=name), water))
    page, plain = read(sheet_html(written(loud))), read(sheet_html(written(quiet)))
    assert name in " ".join(page.text)
    assert page.tags == plain.tags
    assert json.loads("".join(page.script))["name"] == name


@given(st.text(min_size=1, max_size=40).filter(str.strip))
@settings(max_examples=40, deadline=None)
def test_any_name_survives_the_script_element(name: str) -> None:
    """Page data inside a page parses back to the very name, and never closes its element."""
    w = written(small_dish(name=name))
    text = page_data_json(w)
    assert not re.search(r"[<&\u2028\u2029]", text)
    assert json.loads(text) == page_data(w)
    assert json.loads("".join(read(page_snippet(w)).script))["name"] == name


def test_the_author_stands_only_where_given() -> None:
    """Credits are never invented."""
    assert "author" not in page_data(demo_write_up())
    assert page_data(demo_write_up(), Credits(author="Meera"))["author"]["name"] == "Meera"
