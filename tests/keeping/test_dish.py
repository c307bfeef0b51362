"""How long finished dishes keep."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.keeping.houses import EXPECTING, HOUSE, dish, line

from chauka.keeping import dish_life, lot_use_by
from chauka.kitchen import Course, Form, Lot, Place, Served, Technique
from chauka.units import Estimate

SPINACH, RICE, LEMON, GINGER, JAGGERY, WATER, MILK, CURD, RAGI, GHEE, OIL = (
    "C033", "A015", "E033", "G014", "I001", "K505", "L002", "L520", "A010", "T506", "T012",
)  # fmt: skip
NOON = datetime(2027, 3, 14, 12)  # noqa: DTZ001  (wall time)

GREENS = dish(line(SPINACH, form=Form.CHOPPED))
RELISH = dish(
    line(LEMON, form=Form.LIQUID), line(GINGER, form=Form.CHOPPED), line(JAGGERY), line(WATER, form=Form.LIQUID),
    course=Course.SIDE, served=Served.COOL, batch=True,
)  # fmt: skip
LADDU = dish(
    line(RAGI), line(GHEE, form=Form.LIQUID), line(JAGGERY), does=(Technique.ROAST,), kept=(Place.CUPBOARD, 9, 9)
)


@pytest.mark.parametrize(
    ("life", "days", "rule"),
    [
        (dish_life(GREENS, Place.FRIDGE, HOUSE), 3, "agency limit: leftovers"),
        (dish_life(GREENS, Place.FRIDGE, EXPECTING), 2, "agency limit: people at risk"),
        (dish_life(replace(GREENS, served=Served.COOL), Place.FRIDGE, HOUSE), 2, "agency limit: eaten cold"),
        (dish_life(dish(line(RICE), line(WATER)), Place.FRIDGE, EXPECTING), 1, "agency limit: cooked rice"),
        (dish_life(RELISH, Place.FRIDGE, EXPECTING), 7, "agency limit: 7 days"),
        (dish_life(LADDU, Place.CUPBOARD, HOUSE), 7, "agency limit: 7 days"),
        (dish_life(GREENS, Place.COUNTER, HOUSE), 2 / 24, "agency limit: out of the refrigerator"),
        (dish_life(GREENS, Place.FRIDGE, replace(HOUSE, fridge_c=4)), 3, "agency limit: leftovers"),
        (dish_life(GREENS, Place.FRIDGE, replace(HOUSE, fridge_c=7)), 1.6757, "growth of Bacillus cereus"),
    ],
)
def test_the_limit_that_binds_is_named(life: object, days: float, rule: str) -> None:
    """Nine days stated, and each limit cuts them to its own."""
    assert (life.plan_days, life.rule) == (pytest.approx(days, abs=1e-3), rule)  # type: ignore[attr-defined]


def test_the_author_may_be_stricter() -> None:
    """One to two days stated: one is planned, and the reason is the author's."""
    life = dish_life(dish(line(SPINACH), kept=(Place.FRIDGE, 1, 2)), Place.FRIDGE, HOUSE)
    assert (life.plan_days, life.high_days, life.rule) == (1, 2, "as stated")
    assert life.reason == "Its author keeps it 1 to 2 days in the fridge"


def test_a_dish_without_a_word_is_not_known() -> None:
    """Two days, cold, and reported as unknown."""
    life = dish_life(dish(line(SPINACH), kept=None), Place.FRIDGE, HOUSE)
    assert (life.plan_days, life.known) == (2, False)
    assert "within 2 hours" in life.reason


def test_a_sour_side_without_a_word_keeps_about_a_week() -> None:
    """Five to seven days for a boiled side of sour fruit."""
    life = dish_life(replace(RELISH, kept=None), Place.FRIDGE, HOUSE)
    assert (life.plan_days, life.high_days) == (5, 7)


@pytest.mark.parametrize("spoils", [line(MILK, form=Form.LIQUID), line(SPINACH, form=Form.CHOPPED), line("B010")])
def test_milk_leaves_or_pulses_end_the_exemption(spoils: object) -> None:
    """A sour side with food in it that spoils by other rules is cooked food like any other."""
    mixed = replace(RELISH, lines=(*RELISH.lines, spoils))  # type: ignore[arg-type]
    assert dish_life(mixed, Place.FRIDGE, HOUSE).plan_days == 2


def test_a_dash_of_lemon_is_not_a_sour_side() -> None:
    """Sour fruit must be a good part of it."""
    faint = replace(RELISH, lines=(replace(RELISH.lines[0], grams=Estimate(20)), *RELISH.lines[1:]))
    assert dish_life(faint, Place.FRIDGE, HOUSE).plan_days == 2


def test_something_wet_takes_a_sweet_off_the_shelf() -> None:
    """Milk in the laddu, and the cupboard keeps it two hours."""
    wet = replace(LADDU, lines=(*LADDU.lines, line(MILK, form=Form.LIQUID)))
    assert dish_life(wet, Place.CUPBOARD, HOUSE).plan_days == pytest.approx(2 / 24)


def test_set_curd_is_not_a_leftover() -> None:
    """Milk set with curd may pass three days where its author says so, but not four in a warm refrigerator."""
    curd = dish(line(MILK, form=Form.LIQUID), line(CURD, form=Form.SET), does=(Technique.BOIL, Technique.SET))
    assert dish_life(curd, Place.FRIDGE, HOUSE).plan_days == 7
    assert dish_life(curd, Place.FRIDGE, replace(HOUSE, fridge_c=6)).plan_days == 4


def test_freezing_helps_only_what_freezes() -> None:
    """Three months where the author freezes it, else as in the refrigerator."""
    assert dish_life(dish(line(SPINACH), freezes=True), Place.FREEZER, HOUSE).plan_days == 90
    assert dish_life(GREENS, Place.FREEZER, HOUSE).plan_days == 3


@given(
    st.floats(0.1, 30), st.sampled_from([SPINACH, RICE, LEMON, MILK, RAGI]), st.sampled_from(list(Course)),
    st.sampled_from([Place.FRIDGE, Place.COUNTER, Place.CUPBOARD]), st.floats(2, 9),
)  # fmt: skip
def test_nothing_stated_lengthens_a_limit(
    days: float, food: str, course: Course, place: Place, fridge_c: float
) -> None:
    """However long an author keeps it, no dish passes seven days; none that is wet passes two hours out."""
    made = dish(line(food, form=Form.CHOPPED), line(WATER), course=course, kept=(place, days, days))
    life = dish_life(made, place, replace(HOUSE, fridge_c=fridge_c))
    assert life.plan_days <= min(days, 7 if place is Place.FRIDGE else 2 / 24)


def test_a_lot_of_a_dish_keeps_the_date_of_its_cooking() -> None:
    """Moved a day later, it has a day less."""
    lot = Lot("g", 300, Form.COOKED, Place.FRIDGE, NOON, dish="d", age_days=1)
    assert lot_use_by(lot, HOUSE, GREENS).at == NOON + timedelta(days=2)
    nameless = lot_use_by(lot, HOUSE)
    assert not nameless.known
    assert nameless.at == NOON + timedelta(days=1)
