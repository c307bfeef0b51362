"""Heat to the middle of a piece, and the hill."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.keeping.houses import HOUSE, dish, line

from chauka.errors import InputError
from chauka.keeping import altitude_advice, dish_life, judge_cooling, minutes_to_heat
from chauka.keeping.caps import REHEAT
from chauka.keeping.conduction import Shape
from chauka.kitchen import Form, Place, Served

DAL = (line("B013"), line("K505", 300, Form.LIQUID))


@given(st.floats(5, 100), st.floats(5, 100))
def test_a_thicker_piece_takes_longer(one: float, other: float) -> None:
    """And a ball is through before a slice of the same thickness."""
    thin, thick = sorted((one, other))
    assert minutes_to_heat(thin) <= minutes_to_heat(thick)
    assert minutes_to_heat(thin) < minutes_to_heat(thin, Shape.SLAB)


def test_a_potato_takes_a_fifth_longer_on_the_hill() -> None:
    """Five centimetres: some 18 minutes to 85 °C in the middle at sea level, 22 at 1,900 m."""
    assert minutes_to_heat(50) == pytest.approx(18, abs=1)
    assert minutes_to_heat(50, altitude_m=1900) == pytest.approx(22, abs=1)


def test_what_cannot_be_reached_is_refused() -> None:
    """No middle gets hotter than the water."""
    with pytest.raises(InputError, match="does not lie between"):
        minutes_to_heat(50, altitude_m=1900, to_c=95)


def test_the_hill_town_boils_half_as_long_again() -> None:
    """1,900 m: 93.6 °C, 20 minutes become 31."""
    said = altitude_advice(replace(HOUSE, altitude_m=1900))
    assert said.boils_c == pytest.approx(93.6, abs=0.1)
    assert "20 minutes at sea level takes 31" in said.text
    assert altitude_advice(HOUSE).boil_times == pytest.approx(1)


def test_leftovers_are_reheated_once_and_cold_food_is_not() -> None:
    """The advice goes with what is eaten hot."""
    assert REHEAT in dish_life(dish(*DAL), Place.FRIDGE, HOUSE).cautions
    assert REHEAT not in dish_life(dish(*DAL, served=Served.COOL), Place.FRIDGE, HOUSE).cautions


@given(st.floats(3, 9), st.floats(0.8, 1.0), st.floats(1, 10))
def test_a_measured_ph_or_aw_never_lengthens_a_limit(ph: float, aw: float, fridge_c: float) -> None:
    """It may lift the growth of bacteria, never the agency's days."""
    house = replace(HOUSE, fridge_c=fridge_c)
    cold = dish(*DAL, served=Served.COOL)
    for made, most in ((dish(*DAL), 3.0), (cold, 2.0)):
        assert dish_life(made, Place.FRIDGE, house, measured_ph=ph, aw=aw).plan_days <= most


def test_acid_lifts_the_growth_that_a_warm_refrigerator_adds() -> None:
    """At 9 °C bacteria bound it; at a measured pH of 4 the three days do."""
    house, dal = replace(HOUSE, fridge_c=9), dish(*DAL)
    assert dish_life(dal, Place.FRIDGE, house).rule.startswith("growth of")
    assert dish_life(dal, Place.FRIDGE, house, measured_ph=4.0).rule == "agency limit: leftovers"


def test_a_dish_that_cooled_too_slowly_is_not_kept() -> None:
    """Nothing else matters then."""
    slow = judge_cooling([(0, 57), (6, 25)])
    life = dish_life(dish(*DAL), Place.FRIDGE, HOUSE, cooled=slow)
    assert (life.plan_days, life.rule) == (0.0, "agency limit: cooled too slowly")
