"""Buying small, freezing, thawing, and a pot that cooled too slowly."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.keeping.houses import HOUSE, dish, line

from chauka.errors import InputError
from chauka.keeping import (
    Stay,
    buy_at_most,
    dish_life,
    food_cautions,
    freezing_advice,
    judge_cooling,
    lot_cautions,
    lot_use_by,
    thaw_advice,
)
from chauka.keeping.growth import left_warm_limit
from chauka.kitchen import Form, Lot, Place

BAJRA, SPINACH, RAJMA, TOMATO = "A003", "C033", "B020", "D075"
HOT = replace(HOUSE, room_c=30)
NOON = datetime(2027, 3, 14, 12)  # noqa: DTZ001  (wall time)


def test_flour_that_turns_bitter_is_bought_small() -> None:
    """Ground pearl millet keeps about a month in the refrigerator, a week out of it; whole grain keeps for months."""
    flour = buy_at_most(BAJRA, HOT, Form.GROUND, grams_per_day=100)
    assert flour.place is Place.FRIDGE
    assert flour.text.startswith("Buy at most what you use in 4 weeks, about 3000 g, kept in the refrigerator at 5 °C")
    assert buy_at_most(BAJRA, HOT).place is Place.CUPBOARD
    assert buy_at_most(BAJRA, HOT).days > 3 * flour.days


def test_a_warm_room_never_lets_one_buy_more() -> None:
    """The advice follows the house; dry goods may go from the cupboard into the refrigerator instead."""
    for food in (SPINACH, TOMATO):
        assert buy_at_most(food, HOT).days <= buy_at_most(food, HOUSE).days


def test_leaves_are_blanched_before_the_freezer_and_dal_is_not() -> None:
    """Two minutes for leaves, none for what is cooked already."""
    assert freezing_advice(SPINACH, HOUSE).blanch_min == 2
    assert freezing_advice(SPINACH, HOUSE, Form.BOILED).blanch_min is None
    assert "National Center" in freezing_advice(SPINACH, HOUSE).source


@given(st.floats(1, 20_000), st.floats(1, 20_000))
def test_a_heavier_pack_thaws_no_sooner(one: float, other: float) -> None:
    """And cold water is faster than the refrigerator."""
    light, heavy = thaw_advice(min(one, other)), thaw_advice(max(one, other))
    assert light.fridge_h <= heavy.fridge_h
    assert light.water_h < light.fridge_h


def test_thawing_nothing_is_refused() -> None:
    """A weight below zero names itself."""
    with pytest.raises(InputError, match="-5 g is no household pack"):
        thaw_advice(-5)


def test_freezing_stops_the_clock() -> None:
    """A day in the refrigerator counts, a month in the freezer does not, and what is thawed is planned for a day."""
    made = dish(line("B013"))
    lot = Lot("dal", 400, Form.COOKED, Place.FRIDGE, NOON, dish="d", age_days=31)
    assert (lot_use_by(lot, HOUSE, made).at - NOON).days == 0
    thawed = lot_use_by(lot, HOUSE, made, history=[Stay(24, 5), Stay(30 * 24, -18)])
    assert (thawed.at - NOON).days == 1
    assert thawed.rule == "household rule: thawed"
    aged = lot_use_by(lot, HOUSE, made, history=[Stay(24, 5)])
    assert (aged.at - NOON).total_seconds() / 86_400 == pytest.approx(
        dish_life(made, Place.FRIDGE, HOUSE).plan_days - 1
    )


def test_a_pot_that_cooled_in_time_is_kept() -> None:
    """Boiled, in shallow trays, cold in four hours."""
    verdict = judge_cooling([(0, 95), (0.7, 57), (1.5, 21), (4, 5)], rice=True)
    assert verdict.keep
    assert verdict.to_21_h == pytest.approx(0.8)
    assert verdict.to_5_h == pytest.approx(3.3)


@pytest.mark.parametrize(
    ("path", "why"),
    [
        ([(0.0, 57.0), (5.0, 25.0)], "more than 2 hours from 57 to 21"),
        ([(0.0, 57.0), (1.0, 21.0), (7.0, 10.0)], "more than 6 hours from 57 to 5"),
        ([(0.0, 57.0), (1.9, 40.0), (2.0, 20.0), (4.0, 5.0)], "Clostridium perfringens"),
    ],
)
def test_a_pot_that_cooled_too_slowly_is_eaten_now(path: list[tuple[float, float]], why: str) -> None:
    """Each rule that it broke is named."""
    verdict = judge_cooling(path)
    assert not verdict.keep
    assert why in verdict.text
    assert "do not store it" in verdict.text


def test_a_cooling_that_runs_backwards_is_refused() -> None:
    """Hours must rise."""
    with pytest.raises(InputError, match="the hours must rise"):
        judge_cooling([(2, 57), (1, 21)])


def test_three_organisms_bound_what_is_left_out() -> None:
    """At 20 °C none is faster than the two hours; at 43 °C Clostridium perfringens is faster than the one hour."""
    assert left_warm_limit(20)[0] > 2 / 24
    hot = dish_life(dish(line("B013")), Place.COUNTER, replace(HOUSE, room_c=43))
    assert hot.plan_days < 1 / 24
    assert hot.rule == "growth of Clostridium perfringens"


def test_cautions_go_with_the_food_on_the_shelf() -> None:
    """Kidney beans, cut tomatoes and sprouts carry theirs without a dish."""
    assert "boil them hard" in food_cautions(RAJMA, Form.DRY)[0].text
    assert not food_cautions(TOMATO, Form.WHOLE)
    cut = Lot("t", 100, Form.CHOPPED, Place.FRIDGE, NOON, food=TOMATO)
    assert "5 °C or colder" in lot_cautions(cut)[0].text
    assert lot_cautions(Lot("m", 100, Form.SPROUTED, Place.FRIDGE, NOON, food="B011"))[0].text.startswith(
        "Keep sprouts"
    )
