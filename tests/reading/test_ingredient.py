"""Reading ingredient lines: each common way of writing an amount, and any text at all."""

from __future__ import annotations

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from chauka.reading.ingredient import as_json, read_line

WRITTEN = [
    ("1 cup besan", 1, 1, "cup", "besan"),
    ("besan 1 cup", 1, 1, "cup", "besan"),
    ("Besan - 1½ katori, sifted", 1.5, 1.5, "katori", "besan"),
    ("3–4 pods garlic", 3, 4, "pod", "garlic"),
    ("a fistful of coriander", 1, 1, "fistful", "coriander"),
    ("1-1/2 tsp. cumin", 1.5, 1.5, "teaspoon", "cumin"),
    ("½ tsp haldi", 0.5, 0.5, "teaspoon", "haldi"),
    ("two and a half cups water", 2.5, 2.5, "cup", "water"),
    ("half a cup curd", 0.5, 0.5, "cup", "curd"),
    ("one inch piece of ginger", 1, 1, "inch", "ginger"),
    ("2 x 400 g tins tomatoes", 2, 2, "tin", "tomatoes"),
    ("hing a pinch", 1, 1, "pinch", "hing"),
    ("10 to 12 curry leaves", 10, 12, None, "curry leaves"),
    ("green chillies 2 (slit)", 2, 2, None, "green chillies"),
    ("1 dozen bananas", 12, 12, None, "bananas"),
    ("250gms paneer", 250, 250, "gram", "paneer"),
    ("१ cup dahi", 1, 1, "cup", "dahi"),
    ("about 200 g spinach", 200, 200, "gram", "spinach"),
    ("salt", None, None, None, "salt"),
]


@pytest.mark.parametrize(("text", "low", "high", "unit", "food"), WRITTEN)
def test_amount_unit_and_food(text: str, low: float | None, high: float | None, unit: str | None, food: str) -> None:
    """The line's amount, unit and food, in English order and in Indian order."""
    line = read_line(text)
    assert (line.low, line.high, line.unit, line.food) == (low, high, unit, food)


def test_forms_stand_apart_from_the_food() -> None:
    """Preparation before and behind the name is form."""
    line = read_line("2 cups finely chopped fresh amaranth leaves, washed and drained")
    assert line.food == "amaranth leaves"
    assert line.form == ["finely chopped fresh", "washed", "drained"]


def test_two_foods_offered() -> None:
    """An "or" offers another food with its own amount."""
    (other,) = read_line("1 tbsp ghee or 2 tbsp mustard oil").alternatives
    assert (other.food, other.low, other.unit) == ("mustard oil", 2, "tablespoon")


def test_local_name_pack_and_flags() -> None:
    """Brackets hold local names; packs, purposes and flags stand apart."""
    line = read_line("1 (200 g) packet paneer (chhena), for garnish, optional")
    assert line.pack is not None
    assert (line.pack.low, line.pack.unit, line.unit) == (200, "gram", "packet")
    assert (line.alias, line.purpose, line.optional) == (["chhena"], "for garnish", True)


@pytest.mark.parametrize("words", ["to taste", "as per taste", "as required", "as needed"])
def test_no_amount_is_no_amount(words: str) -> None:
    """What is left to the cook has no number."""
    line = read_line(f"Salt - {words}")
    assert (line.low, line.high, line.food) == (None, None, "salt")
    assert line.to_taste or line.as_required


def test_a_sum_in_two_units_is_one_amount() -> None:
    """2 tbsp + 1 tsp is 2⅓ tablespoons."""
    line = read_line("2 tbsp + 1 tsp ghee")
    assert line.low == pytest.approx(7 / 3)
    assert line.unit == "tablespoon"


@given(st.integers(0, 40), st.sampled_from(["", "1/4", "1/2", "3/4"]), st.sampled_from(["cup", "tsp", "g", "katori"]))
def test_printed_amounts_read_back(whole: int, part: str, unit: str) -> None:
    """Printing then reading an amount gives the same amount."""
    said = " ".join(p for p in (str(whole) if whole or not part else "", part) if p)
    value = whole + (int(part[0]) / int(part[2]) if part else 0)
    for text in (f"{said} {unit} besan", f"besan {said} {unit}"):
        assert read_line(text).low == pytest.approx(value)


@given(st.text(max_size=300))
@settings(max_examples=400)
def test_any_text_gives_a_line(text: str) -> None:
    """No text crashes the reader, and what comes out is plain data."""
    assert as_json(read_line(text))["text"] == text


@pytest.mark.parametrize("seed", ["1 ", "(", "1/2 - ", "a, ", "1 cup ", "or ", "((((", "½", "x 2 "])
def test_long_lines_take_no_longer_than_their_length_allows(seed: str) -> None:
    """Doubling a nasty line at most triples its time (with a floor for noise): no explosion."""

    def once(times: int) -> float:
        start = time.process_time()
        read_line(seed * times)
        return time.process_time() - start

    def seconds(times: int) -> float:
        return min(once(times) for _ in range(3))

    seconds(10)
    assert seconds(200) < 3 * max(seconds(100), 0.02) + 0.05
