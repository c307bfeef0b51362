"""Pots that must get cold in time."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.keeping.houses import HOUSE

from chauka.errors import InputError
from chauka.keeping.boiling import boil_longer, boiling_point_c, pressure_cook_longer
from chauka.keeping.conduction import Shape, fourier_at, newton_hours, theta
from chauka.keeping.cooling import cooling_advice, hours_to_cool
from chauka.keeping.water_activity import aw_mixture, aw_salt


def test_three_litres_are_too_slow_in_their_pot() -> None:
    """A pot of three litres at 18 °C takes most of a working day; the advice divides or chills it in time."""
    said = cooling_advice(3, HOUSE)
    assert 6 < said.ways[0].hours < 8
    assert (
        "3 l in their pot need 7 hours at 18 °C, and 2 hours are allowed: divide it into 2 shallow trays" in said.text
    )
    assert next(way for way in said.ways if way.in_time).hours <= 2
    assert said.source.startswith("FDA Food Code 2022 3-501.14")


def test_a_cup_of_dal_may_stand() -> None:
    """A quarter litre in a cool kitchen is in time as it is."""
    assert cooling_advice(0.15, replace(HOUSE, room_c=10)).text.startswith("0.15 l cool in their pot in")


def test_a_hot_kitchen_never_cools_a_pot() -> None:
    """Above 21 °C the counter does not lead there, and the advice turns to water or the refrigerator."""
    said = cooling_advice(3, replace(HOUSE, room_c=30))
    assert math.isinf(said.ways[0].hours)
    assert "never cool enough" in said.text


def test_thick_food_is_slower_and_is_not_stirred() -> None:
    """Rice in a pot cools through its middle."""
    assert hours_to_cool(3, to_air_c=18, thick=True) > hours_to_cool(3, to_air_c=18)
    assert not any("stir" in way.said for way in cooling_advice(3, HOUSE, thick=True).ways)


@settings(max_examples=25, deadline=None)
@given(st.floats(0.2, 8), st.floats(0.2, 8), st.floats(0, 20), st.booleans())
def test_more_never_cools_faster(one: float, other: float, air_c: float, thick: bool) -> None:
    """A larger pot takes longer, trays take less than the pot."""
    small, large = sorted((one, other))
    hours = [hours_to_cool(litres, to_air_c=air_c, thick=thick) for litres in (small, large)]
    assert hours[0] <= hours[1] + 1e-6
    if large > 1:
        assert hours_to_cool(large, to_air_c=air_c, thick=thick, trays=4) < hours[1]


@given(st.sampled_from(list(Shape)), st.floats(0.05, 50), st.floats(0.05, 3), st.floats(0.05, 3))
@settings(max_examples=50, deadline=None)
def test_the_middle_only_cools(shape: Shape, bi: float, one: float, other: float) -> None:
    """θ falls with time and lies between 0 and 1; the surface is never hotter than the middle."""
    early, late = sorted((one, other))
    assert 0 <= theta(shape, bi, late) <= theta(shape, bi, early) + 1e-12 <= 1 + 1e-9
    assert theta(shape, bi, early, 1.0) <= theta(shape, bi, early) + 1e-12


def test_fourier_at_is_the_way_back() -> None:
    """The time found gives the temperature asked for."""
    assert theta(Shape.SLAB, 2.0, fourier_at(Shape.SLAB, 2.0, 0.3)) == pytest.approx(0.3)


def test_a_hill_town_boils_cooler_and_longer() -> None:
    """At 1,900 m water boils near 93.7 °C and pulses take half as long again; a pressure cooker loses less."""
    assert boiling_point_c(1900) == pytest.approx(93.7, abs=0.1)
    assert 1.5 < boil_longer(1900) < 1.6
    assert 1.2 < pressure_cook_longer(1900) < 1.4
    assert boil_longer(0) == 1


@given(st.floats(0, 300), st.floats(0, 300), st.floats(0, 60))
def test_more_solute_never_raises_water_activity(one: float, other: float, salt: float) -> None:
    """Sugar and salt only bind water, and what they leave lies between 0 and 1."""
    less, more = sorted((one, other))
    dry, wet = (aw_mixture({"sucrose": sugar, "salt": salt}, 100) for sugar in (more, less))
    assert 0 < dry <= wet <= 1


def test_bad_figures_are_named() -> None:
    """Each says what was wrong."""
    with pytest.raises(InputError, match="weigh the yield"):
        aw_salt(5, 0)
    with pytest.raises(InputError, match="0 l is no household pot"):
        hours_to_cool(0, to_air_c=18)
    with pytest.raises(InputError, match="nowhere to cook"):
        boiling_point_c(20_000)
    with pytest.raises(InputError, match="towards its surroundings"):
        newton_hours(kg=1, j_per_kg_k=3900, h_w_m2k=10, area_m2=0.1, theta_end=1.2)
