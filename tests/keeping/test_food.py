"""How long foods keep, and which rule says so."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.keeping.houses import EXPECTING, HOUSE

from chauka import tables
from chauka.keeping import food_life, lot_use_by
from chauka.keeping.foods import kept_foods
from chauka.keeping.policy import conditions_for
from chauka.keeping.produce import group_reference, item_reference
from chauka.kitchen import Form, Lot, Place

SPINACH, TOMATO, CARROT, BATHUA, ONION, PANEER, MOONG, RICE = (
    "C033",
    "D075",
    "F002",
    "C008",
    "G017",
    "L003",
    "B010",
    "A015",
)
NOON = datetime(2027, 3, 14, 12)  # noqa: DTZ001  (wall time)

foods = st.sampled_from(sorted(kept_foods()))
forms = st.sampled_from(list(Form))
places = st.sampled_from(list(Place))
_FINER = (Form.WHOLE, Form.CUT, Form.CHOPPED)


def test_every_food_of_the_keeping_table_is_a_food() -> None:
    """Codes of the keeping table stand in a composition table, its items and groups in the storage table."""
    assert set(kept_foods()) <= set(tables.foods())
    for code, kept in kept_foods().items():
        if kept.kind == "produce":
            assert item_reference(kept.item) or group_reference(kept.group), code
            assert not kept.item or item_reference(kept.item), code
            assert not kept.like or item_reference(kept.like), code
        else:
            assert conditions_for(kept.kind, "dry", 25), code


@given(foods, forms, places, st.booleans(), st.floats(0, 60))
def test_every_food_has_an_answer_with_a_reason(food: str, form: Form, place: Place, covered: bool, age: float) -> None:
    """Nothing is left without a life, a sentence, a rule and a source, and the plan keeps to the careful side."""
    life = food_life(food, form, place, HOUSE, covered, age)
    assert 0 <= life.plan_days <= life.low_days + 1e-9
    assert life.low_days <= life.mid_days <= life.high_days
    assert life.reason
    assert life.rule
    assert life.source


@given(foods, forms, places, st.floats(0, 10), st.floats(0, 10))
def test_older_never_keeps_longer(food: str, form: Form, place: Place, one: float, other: float) -> None:
    """Age only takes away."""
    young, old = sorted((one, other))
    keeps = [food_life(food, form, place, HOUSE, age_days=age).plan_days for age in (young, old)]
    assert keeps[0] >= keeps[1]


@given(foods, forms, st.floats(5, 15), st.floats(5, 15))
def test_a_warmer_refrigerator_never_keeps_longer(food: str, form: Form, one: float, other: float) -> None:
    """Unless cold harms the food: then the rule of its minimum holds instead."""
    cold, warm = sorted((one, other))
    kept = kept_foods()[food]
    reference = item_reference(kept.item or kept.like) or group_reference(kept.group)
    if reference and reference.chills_below_c is not None:
        return
    lives = [
        food_life(food, form, Place.FRIDGE, replace(HOUSE, fridge_c=t), age_days=0).plan_days for t in (cold, warm)
    ]
    assert lives[0] >= lives[1] - 1e-9


@given(foods, st.floats(18, 42), st.floats(18, 42))
def test_a_warmer_room_never_keeps_longer(food: str, one: float, other: float) -> None:
    """On the counter warmth only shortens."""
    cool, hot = sorted((one, other))
    lives = [food_life(food, Form.WHOLE, Place.COUNTER, replace(HOUSE, room_c=t)).plan_days for t in (cool, hot)]
    assert lives[0] >= lives[1] - 1e-9


@given(foods, places, st.floats(0, 3))
def test_cutting_never_lengthens_fresh_produce(food: str, place: Place, age: float) -> None:
    """Whole, cut, chopped: each keeps no longer than the one before."""
    if kept_foods()[food].kind != "produce" or place is Place.FREEZER:
        return
    lives = [food_life(food, form, place, HOUSE, age_days=age).plan_days for form in _FINER]
    assert lives == sorted(lives, reverse=True)


@given(foods, forms, places)
def test_leaving_it_open_never_lengthens(food: str, form: Form, place: Place) -> None:
    """A cover keeps water in."""
    covered, bare = (food_life(food, form, place, HOUSE, c).plan_days for c in (True, False))
    assert bare <= covered


@given(st.sampled_from([c for c, k in kept_foods().items() if k.kind in ("grain", "pulse", "produce")]))
def test_people_at_risk_never_get_longer(food: str) -> None:
    """A pregnant woman in the house only tightens."""
    assert (
        food_life(food, Form.BOILED, Place.FRIDGE, EXPECTING).plan_days
        <= food_life(food, Form.BOILED, Place.FRIDGE, HOUSE).plan_days
    )


def test_a_borrowed_life_says_so() -> None:
    """Lamb's quarters has no published life, spinach lends its own, planned with half of the careful end."""
    life = food_life(BATHUA, Form.WHOLE, Place.FRIDGE, HOUSE, age_days=0)
    own = food_life(SPINACH, Form.WHOLE, Place.FRIDGE, HOUSE, age_days=0)
    assert life.rule == "group life"
    assert "counts as spinach" in life.reason
    assert life.plan_days < own.plan_days
    assert life.high_days / life.mid_days == pytest.approx(2.5)
    assert own.high_days / own.mid_days == pytest.approx(1.6)


def test_an_unknown_food_is_perishable_and_not_known() -> None:
    """A code of no table gets the careful default, not an error and not a long life."""
    life = food_life("Z999", Form.WHOLE, Place.FRIDGE, HOUSE)
    assert (life.plan_days, life.known) == (1.0, False)
    assert "no keeping table" in life.reason


def test_cold_harms_a_tomato() -> None:
    """Below its minimum it keeps half as long as at the minimum, and the answer warns."""
    cold = food_life(TOMATO, Form.WHOLE, Place.FRIDGE, HOUSE, age_days=0)
    cool = food_life(TOMATO, Form.WHOLE, Place.FRIDGE, replace(HOUSE, fridge_c=8), age_days=0)
    assert cold.plan_days < cool.plan_days
    assert "may pit" in cold.cautions[0]


def test_cut_produce_is_bound_by_the_household_rule() -> None:
    """A whole carrot keeps for months, a grated one four days."""
    assert food_life(CARROT, Form.WHOLE, Place.FRIDGE, HOUSE).plan_days > 30
    grated = food_life(CARROT, Form.GRATED, Place.FRIDGE, HOUSE)
    assert (grated.plan_days, grated.rule) == (4.0, "household rule: cut produce")


def test_cut_tomato_may_stand_out_four_hours() -> None:
    """Cut tomato is a safety matter."""
    out = food_life(TOMATO, Form.CHOPPED, Place.COUNTER, HOUSE, age_days=0)
    assert out.plan_days * 24 == pytest.approx(4)
    assert out.source.startswith("FDA Food Code 3-501.19")


def test_boiled_pulses_and_rice() -> None:
    """Boiled dal two days, boiled rice one, and neither stands out."""
    assert food_life(MOONG, Form.BOILED, Place.FRIDGE, HOUSE).plan_days == 2
    rice = food_life(RICE, Form.BOILED, Place.FRIDGE, HOUSE)
    assert (rice.plan_days, rice.rule) == (1, "agency limit: cooked rice")
    assert food_life(MOONG, Form.BOILED, Place.COUNTER, HOUSE).plan_days * 24 == pytest.approx(2)
    hot = replace(HOUSE, room_c=34.0)
    assert food_life(MOONG, Form.BOILED, Place.COUNTER, hot).plan_days * 24 == pytest.approx(1)


def test_an_onion_rests_in_its_basket() -> None:
    """A cured bulb keeps for weeks in the room; peeled it does not."""
    assert food_life(ONION, Form.WHOLE, Place.CUPBOARD, HOUSE).plan_days == 45
    assert food_life(ONION, Form.PEELED, Place.CUPBOARD, HOUSE).plan_days <= 0.5


def test_a_lot_counts_from_its_own_moment() -> None:
    """The use-by is the lot's moment plus the days to plan with, less what it was older."""
    lot = Lot("p", 200, Form.SET, Place.FRIDGE, NOON, food=PANEER)
    fresh = lot_use_by(lot, HOUSE)
    assert fresh.at == NOON + timedelta(days=3)
    assert lot_use_by(replace(lot, age_days=1.0), HOUSE).at == NOON + timedelta(days=2)


def test_a_used_up_lot_ends_when_it_came() -> None:
    """Too old on arrival: use at once, never a negative life."""
    lot = Lot("s", 200, Form.WHOLE, Place.FRIDGE, NOON, food=SPINACH, age_days=9)
    use_by = lot_use_by(lot, HOUSE)
    assert use_by.at == NOON
    assert "all of it was used up" in use_by.reason
