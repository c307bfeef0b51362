"""Ways of writing an ingredient line, from American books to Hinglish notes."""

from __future__ import annotations

import json

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.reading import as_json, read_line
from chauka.reading.words import words

WAYS = [
    ("2 lbs. boneless, skinless thighs, cut into 1-inch pieces", 2, "pound", "thighs"),
    ("1/2 of a red onion, thinly sliced", 0.5, None, "red onion"),
    ("aloo 4 medium, uble hue", 4, None, "aloo"),
    ("do chammach ghee", 2, "spoon", "ghee"),
    ("thoda sa namak", None, None, "namak"),
    ("namak swad anusar", None, None, "namak"),
    ("adrak 1 inch ka tukda", 1, "inch", "adrak"),
    ("onion x 2", 2, None, "onion"),
    ("onions (2), chopped", 2, None, "onions"),
    ("three-quarters cup water", 0.75, "cup", "water"),
    ('2" piece of ginger', 2, "inch", "ginger"),
    ("400g/14oz plain flour", 400, "gram", "plain flour"),
    ("Bay leaves: 2", 2, None, "bay leaves"),
    ("Rice flour = 1 cup", 1, "cup", "rice flour"),
    ("250 gm paneer cut in cubes", 250, "gram", "paneer"),
    ("half dozen eggs", 6, None, "eggs"),
]


@pytest.mark.parametrize(("text", "quantity", "unit", "food"), WAYS)
def test_a_way_of_writing(text: str, quantity: float | None, unit: str | None, food: str) -> None:
    """Amount, unit and food of one way of writing."""
    line = read_line(text)
    assert (line.low, line.unit, line.food) == (quantity, unit, food)


def test_a_slash_or_a_colour_offers_another_food() -> None:
    """ "Ghee/oil" are two foods; "red or green pepper" are two peppers."""
    assert [a.food for a in read_line("1 tbsp ghee/oil").alternatives] == ["oil"]
    pepper = read_line("1 red or green bell pepper, diced")
    assert (pepper.food, pepper.alternatives[0].food) == ("red bell pepper", "green bell pepper")


def test_soaking_time_is_form_and_frying_is_purpose() -> None:
    """What was done is form with its time; what a food is for is its purpose, in Hinglish too."""
    assert read_line("1 cup rice - soaked for 30 minutes").form == ["soaked for 30 minutes"]
    assert read_line("tel talne ke liye").purpose == "talne ke liye"


@pytest.mark.parametrize(
    "text", ["2 tins (400 g each) chickpeas", "1 can (400 ml) coconut milk", "2 x 400g tins tomatoes"]
)
def test_the_size_of_a_container_is_its_pack(text: str) -> None:
    """What one tin holds stands apart from how many."""
    pack = read_line(text).pack
    assert pack is not None
    assert pack.low == 400


@given(
    st.sampled_from(
        sorted(
            set(words().units)
            - {"piece", "dozen", "whistle", "part", "cube", "ball", "square", "leaf", "roll", "petal", "number"}
        )
    ),
    st.integers(1, 60),
    st.sampled_from(["", "½", "¼", "¾"]),
)
def test_every_unit_prints_and_reads_back(unit: str, whole: int, part: str) -> None:
    """ "3½ cup of besan" reads as three and a half of that unit, for every unit of the list."""
    line = read_line(f"{whole}{part} {unit} of besan")
    assert line.low == pytest.approx(whole + {"": 0, "½": 0.5, "¼": 0.25, "¾": 0.75}[part])
    assert (line.unit, line.food) == (unit, "besan")


@given(st.text(max_size=120))
def test_what_is_read_is_plain_json(text: str) -> None:
    """The keys of a line hold numbers, texts and lists only, and no infinite number."""
    json.dumps(as_json(read_line(text)), allow_nan=False)
