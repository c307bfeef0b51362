"""Sides that might stand on a shelf, and what a house learns."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.keeping.houses import HOUSE, dish, line

from chauka.errors import InputError
from chauka.keeping import Seen, Stay, food_life, house_factor, preserve_advice
from chauka.keeping.preserve import Stand, water_activity_of
from chauka.kitchen import Course, Form, Place
from chauka.units import Estimate

SUGAR = "I502"
LEMON, GINGER, JAGGERY, WATER, SALT, SPINACH, CARROT, FLOUR = (
    "E033",
    "G014",
    "I001",
    "K505",
    "G528",
    "C033",
    "F002",
    "A019",
)
RELISH = dish(
    line(LEMON, 120, Form.LIQUID), line(GINGER, 100, Form.CHOPPED), line(JAGGERY, 120), line(WATER, 120, Form.LIQUID),
    line(SALT, 3), course=Course.SIDE,
)  # fmt: skip
BRINE = dish(line(WATER, 80, Form.LIQUID), line(SALT, 20), course=Course.SIDE)


def test_brine_is_a_salt_solution() -> None:
    """Twenty per cent salt, nothing boiled away: 0.84 by Pitzer, within what the model leaves open."""
    aw = water_activity_of(BRINE, Estimate(100))
    assert aw is not None
    assert aw.low <= 0.839 + 0.006 <= aw.high


def test_a_relish_belongs_in_the_refrigerator() -> None:
    """Boiled down to 280 g it is still far wetter than 0.85."""
    said = preserve_advice(RELISH, yield_g=Estimate(280, 5))
    assert said.stand is Stand.FRIDGE
    assert said.aw is not None
    assert said.aw.low > 0.85
    assert "belongs in the refrigerator" in said.text


def test_a_measured_ph_takes_it_to_the_shelf_and_warns_of_mould() -> None:
    """Below 4.2 no pathogen grows; mould does."""
    said = preserve_advice(RELISH, measured_ph=3.4)
    assert said.stand is Stand.SHELF
    assert "mouldy jar goes whole" in said.text
    assert preserve_advice(RELISH, measured_ph=4.2, yield_g=Estimate(280)).stand is Stand.FRIDGE


def test_without_a_yield_nothing_is_claimed() -> None:
    """Unknown water is unknown, and unknown goes cold."""
    said = preserve_advice(RELISH)
    assert (said.stand, said.aw) == (Stand.UNKNOWN, None)
    assert said.text.startswith("Weigh what it yields")


@given(st.floats(230, 460), st.floats(230, 460))
def test_boiling_down_only_dries(one: float, other: float) -> None:
    """The less it yields, the lower its water activity."""
    less, more = sorted((one, other))
    dry, wet = (water_activity_of(RELISH, Estimate(grams)) for grams in (less, more))
    assert dry is not None
    assert wet is not None
    assert dry.high <= wet.high + 1e-12


def test_nothing_seen_changes_nothing() -> None:
    """The factor begins at 1."""
    assert house_factor([]).factor == 1


def test_one_wilted_bunch_moves_half_way() -> None:
    """Off on day 3 of 6: the factor goes to the root of a half, not to a half."""
    found = house_factor([Seen(6, 3)])
    assert found.factor == pytest.approx(0.5**0.5)
    assert found.lots == 1


def test_still_fine_only_lengthens() -> None:
    """Fine on day 2 of 6 says nothing; fine on day 9 says it keeps longer here."""
    assert house_factor([Seen(6, 2, still_fine=True)]).factor == 1
    assert house_factor([Seen(6, 9, still_fine=True)]).factor > 1


@given(st.lists(st.builds(Seen, st.floats(1, 30), st.floats(0, 90), st.booleans()), max_size=20))
def test_a_house_stays_within_reason(seen: list[Seen]) -> None:
    """However odd the log, the factor keeps its bounds and more lots never widen the spread."""
    found = house_factor(seen)
    assert 0.5 <= found.factor <= 1.6
    assert found.ln_sd <= house_factor([]).ln_sd


def test_no_experience_lengthens_a_rule() -> None:
    """Picked spinach stays at two days in the luckiest house, and wilts sooner in an unlucky one."""
    lucky = food_life(SPINACH, Form.PICKED, Place.FRIDGE, HOUSE, age_days=0, house_factor=1.6)
    unlucky = food_life(SPINACH, Form.WHOLE, Place.FRIDGE, HOUSE, age_days=0, house_factor=0.5)
    assert lucky.plan_days == 2
    assert unlucky.plan_days == pytest.approx(
        food_life(SPINACH, Form.WHOLE, Place.FRIDGE, HOUSE, age_days=0).plan_days / 2
    )
    assert unlucky.reason.endswith("in this house × 0.50")


@given(st.floats(0, 30), st.floats(0, 35), st.floats(0, 1), st.sampled_from([SPINACH, CARROT, FLOUR]))
def test_a_split_history_changes_nothing(hours: float, temp_c: float, share: float, food: str) -> None:
    """One stay or two at the same temperature: the same life is left."""
    split = [Stay(hours * share, temp_c), Stay(hours * (1 - share), temp_c)]
    one, two = (
        food_life(food, Form.WHOLE, Place.FRIDGE, HOUSE, history=stays).plan_days
        for stays in ([Stay(hours, temp_c)], split)
    )
    assert one == pytest.approx(two, abs=1e-9)


def test_a_hot_way_home_costs_life() -> None:
    """Bought at 31 °C and carried an hour: a leaf loses a fortieth of its life, a carrot next to nothing."""
    way = [Stay(1, 31)]
    for food, most, least in ((SPINACH, 0.98, 0.95), (CARROT, 1.0, 0.99)):
        fresh = food_life(food, Form.WHOLE, Place.FRIDGE, HOUSE, age_days=0).plan_days
        assert least < food_life(food, Form.WHOLE, Place.FRIDGE, HOUSE, history=way).plan_days / fresh < most


def test_a_prediction_of_nothing_is_refused() -> None:
    """A life of zero days teaches nothing."""
    with pytest.raises(InputError, match="must be above zero"):
        Seen(0, 3)


def test_a_wet_side_is_told_what_would_make_it_dry_enough() -> None:
    """So much sugar as the advice names brings the careful end to 0.85, and a third less does not."""
    lemons, sugar = line(LEMON, 300, Form.LIQUID), line(SUGAR, 300)
    side = dish(lemons, sugar, course=Course.SIDE)
    advice = preserve_advice(side, yield_g=Estimate(500, 0))
    assert advice.stand is Stand.FRIDGE
    more = float(re.findall(r"(\d+) g more sugar", advice.text)[0])

    def end(extra: float) -> float:
        sweeter = dish(lemons, line(SUGAR, 300 + extra), course=Course.SIDE)
        aw = preserve_advice(sweeter, yield_g=Estimate(500 + extra, 0)).aw
        assert aw is not None
        return aw.high

    assert end(more + 1) <= 0.85 < end(more * 2 / 3)
