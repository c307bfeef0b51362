"""How money, weights and days are said."""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.services import words


@pytest.mark.parametrize(
    ("coins", "said"),
    [
        (0, "Rs 0"),
        (5, "Rs 0.05"),
        (99_900, "Rs 999"),
        (100_000, "Rs 1,000"),
        (12_345_650, "Rs 1,23,456.50"),
        (1_234_567_800, "Rs 1,23,45,678"),
        (-12_345_600, "−Rs 1,23,456"),
    ],
)
def test_money_is_grouped_as_in_india(coins: int, said: str) -> None:
    assert words.money(coins) == said


def test_a_sum_without_bound_is_unknown() -> None:
    assert words.money(float("inf")) == "an unknown sum"


def test_other_money_is_grouped_by_thousands_and_named_by_its_code() -> None:
    assert words.money(123_456_789_00, "EUR") == "EUR 123,456,789"


@given(st.integers(0, 10**15))
def test_grouping_keeps_every_digit(number: int) -> None:
    assert words.grouped(number).replace(",", "") == str(number)


@given(st.integers(10**3, 10**15))
def test_indian_groups_are_of_two_but_for_the_last(number: int) -> None:
    head, *middle, tail = words.grouped(number).split(",")
    assert 1 <= len(head) <= 2
    assert all(len(group) == 2 for group in middle)
    assert len(tail) == 3


@pytest.mark.parametrize(
    ("grams", "said"),
    [
        (0.3, "0.3 g"),
        (2.0, "2 g"),
        (9.96, "10 g"),
        (250.4, "250 g"),
        (999.6, "1 kg"),
        (1250, "1.25 kg"),
        (2000, "2 kg"),
    ],
)
def test_weights_are_said_as_a_scale_shows_them(grams: float, said: str) -> None:
    assert words.weight(grams) == said


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (-0.1, "past"),
        (0.4, "today"),
        (1.0, "1 day"),
        (3.9, "3 days"),
        (20, "2 weeks"),
        (100, "3 months"),
        (1000, "2 years"),
    ],
)
def test_what_is_left_is_said_in_the_unit_a_cook_thinks_in(days: float, said: str) -> None:
    assert words.days_left(days) == said


def test_a_day_has_its_weekday() -> None:
    assert words.day(date(2027, 3, 14)) == "Sun 14 Mar"


@pytest.mark.parametrize(
    ("mean", "sd", "at_least", "said"),
    [
        (12.34, 1.12, False, "12.3 ± 1.1 mg"),
        (1234.4, 56.0, False, "1,234 ± 56 mg"),
        (0.1234, 0.02, True, "at least 0.12 ± 0.02 mg"),
        (250.0, 0.0, False, "250 mg"),
    ],
)
def test_an_amount_shows_the_digits_that_its_spread_warrants(mean: float, sd: float, at_least: bool, said: str) -> None:
    assert words.amount(mean, sd, "mg", at_least=at_least) == said
