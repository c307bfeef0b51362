"""Page data: sections, durations, clips."""

from __future__ import annotations

import re
from datetime import date

from hypothesis import given
from hypothesis import strategies as st
from tests.publishing.samples import demo_write_up, small_dish, written

from chauka.publishing import Credits, Film, page_data
from chauka.publishing.page_data import duration

# The form P[nD][T[nH][nM]] of ISO 8601 with at least one part (from memory).
ISO = re.compile(r"P(?=.)(?:(\d+)D)?(?:T(?=.)(?:(\d+)H)?(?:(\d+)M)?(?:(\d+)S)?)?\Z")


def minutes(said: str) -> int:
    """Minutes of an ISO 8601 duration, read strictly."""
    found = ISO.match(said)
    assert found, said
    days, hours, mins, secs = (int(x or 0) for x in found.groups())
    assert not secs
    return days * 1440 + hours * 60 + mins


@given(st.integers(0, 100_000))
def test_durations_read_back(total: int) -> None:
    """Any minutes survive ISO 8601."""
    assert minutes(duration(total)) == total


def test_known_durations() -> None:
    """As the standard's own examples are written."""
    assert [duration(m) for m in (0, 25, 60, 90, 1440, 1500)] == ["PT0S", "PT25M", "PT1H", "PT1H30M", "P1D", "P1DT1H"]


def test_steps_ahead_make_two_sections() -> None:
    """Sections where there is work ahead, with all steps in them; a plain list where there is none."""
    sections = page_data(written(small_dish()))["recipeInstructions"]
    assert [s["@type"] for s in sections] == ["HowToSection", "HowToSection"]
    assert [[x["position"] for x in s["itemListElement"]] for s in sections] == [[1], [2, 3]]
    plain = page_data(written(small_dish(steps=small_dish().steps[1:2])))["recipeInstructions"]
    assert [s["@type"] for s in plain] == ["HowToStep"]


def test_clips_stand_where_the_film_shows_them() -> None:
    """A step that is filmed carries its offsets; the others none."""
    credit = Credits(film=Film("https://example.org/film", {"boil": (61.5, 80.0)}), published=date(2027, 3, 14))
    data = page_data(written(small_dish()), credit)
    steps = [x for s in data["recipeInstructions"] for x in s["itemListElement"]]
    assert [x.get("video", {}).get("startOffset") for x in steps] == [None, None, 61.5]
    assert data["datePublished"] == "2027-03-14"


def test_the_weights_are_numbers_too() -> None:
    """Each line's weight stands in grams as a number."""
    w = demo_write_up()
    for supply, line in zip(page_data(w)["supply"], w.dish.lines, strict=True):
        assert supply["requiredQuantity"]["value"] == round(line.grams.mean, 1)


def test_unknown_nutrients_are_left_out() -> None:
    """What is only known from below has no value in page data."""
    w = demo_write_up()
    nutrition = page_data(w)["nutrition"]
    unsure = {t for t, a in w.nutrition.per_portion.items() if a.at_least}
    assert ("FSUGAR" in unsure) == ("sugarContent" not in nutrition)
