"""How amounts, minutes and facts are written."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.publishing.samples import line, small_dish

from chauka.composition import Amount
from chauka.publishing import Language, words
from chauka.publishing.text import (
    amount_text,
    grams_text,
    line_text,
    measure_text,
    minutes_text,
    span_text,
    step_facts,
    step_name,
)  # fmt: skip
from chauka.units import Estimate, Span

PLACE = re.compile(r"{\w+}")
HINDI = words(Language.HINDI)


@pytest.mark.parametrize(
    ("minutes", "said"),
    [
        (0, "0 min"),
        (25, "25 min"),
        (60, "1 h"),
        (70, "1 h 10 min"),
        (600, "10 h"),
        (2880, "2 days"),
        (3600, "2.5 days"),
    ],
)
def test_minutes(minutes: float, said: str) -> None:
    """Minutes, hours, days: each where a cook would use it."""
    assert minutes_text(minutes) == said


@pytest.mark.parametrize(
    ("low", "high", "said"),
    [
        (5, 5, "5 min"),
        (5, 8, "5–8 min"),
        (480, 720, "8–12 h"),
        (30, 150, "30 min to 2 h 30 min"),
        (2880, 4320, "2 days to 3 days"),
    ],
)
def test_spans(low: float, high: float, said: str) -> None:
    """A range keeps both ends."""
    assert span_text(Span(low, high)) == said


def test_hindi_minutes() -> None:
    """The same in Hindi words."""
    assert minutes_text(70, HINDI) == "1 घंटा 10 मिनट"


@pytest.mark.parametrize(
    ("grams", "said"), [(0, "–"), (0.12, "0.1 g"), (9.96, "10 g"), (2.26, "2.3 g"), (224.6, "225 g")]
)
def test_grams(grams: float, said: str) -> None:
    """To the fineness of a kitchen scale; what is not weighed is a dash, not a nought."""
    assert grams_text(Estimate(grams)) == said


def test_unknown_amounts_say_at_least() -> None:
    """Where a table is silent the sheet says so, with no spread that nobody knows."""
    assert amount_text(Amount(3.21, 0.4), "mg") == "3.2 ± 0.4 mg"
    assert amount_text(Amount(3.21, 0.4, at_least=True, missing=("X901",)), "ug") == "at least 3.2 µg"


def test_lines_as_a_reader_sees_them() -> None:
    """Measure with grams; grams once; to taste; optional."""
    assert line_text(line()) == "1 cup (200 g) split moong"
    assert line_text(line(amount="200 g", prep="washed")) == "200 g split moong, washed"
    assert line_text(line(amount="", grams=Estimate(0), to_taste=True, said="salt")) == "salt (to taste)"
    assert line_text(line(optional=True)).endswith("(optional)")


def test_steps_have_short_names_and_facts() -> None:
    """The label is never the instruction; the facts name vessel, flame and minutes."""
    dish = small_dish()
    assert step_name(dish.steps[0], dish.lines) == "Soak split moong"
    assert step_facts(dish.steps[2]) == "pot · medium heat · 20–30 min"
    assert step_facts(dish.steps[2], HINDI) == "पतीला · मध्यम आँच · 20–30 मिनट"


@given(st.floats(0.05, 5000, allow_nan=False), st.sampled_from(["", "1 cup", "2 medium"]))
def test_no_line_hides_its_weight(mass_g: float, said: str) -> None:
    """Every line that weighs something prints its grams."""
    found = measure_text(line(amount=said, grams=Estimate(mass_g)))
    assert grams_text(mass_g) in found


def test_both_languages_have_the_same_words() -> None:
    """Hindi lacks no label that English has, and no placeholder."""
    english = words()
    for name in ("heads", "notes", "units", "nutrients", "courses", "allergens", "vessels", "heats"):
        ours, theirs = getattr(english, name), getattr(HINDI, name)
        assert ours.keys() == theirs.keys()
        for key in ours:
            assert sorted(PLACE.findall(ours[key])) == sorted(PLACE.findall(theirs[key])), key
