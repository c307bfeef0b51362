"""One bunch into boxes for the sittings that it feeds."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.keeping.houses import HOUSE

from chauka import demo
from chauka.errors import InputError
from chauka.keeping import Need, lot_use_by, split_bunch, split_lot
from chauka.kitchen import Batch, Draw, Form, Lot, Meal, Place, Proof, TablePlan

HOME = datetime(2027, 3, 14, 11)  # noqa: DTZ001  (wall time)
BUNCH = Lot("spinach", 900, Form.WHOLE, Place.FRIDGE, HOME, food="C033", age_days=1)
CARROTS = Lot("carrots", 500, Form.WHOLE, Place.FRIDGE, HOME, food="F002")


def need(days: float, grams: float = 200, form: Form = Form.CHOPPED, name: str = "dish") -> Need:
    return Need(HOME + timedelta(days=days), grams, form, name)


def test_tomorrow_may_be_worked_ahead_and_later_stays_whole() -> None:
    """Leaves for tonight are chopped, those for the third day stay in the bunch, and the rest is a box of its own."""
    tonight, later, rest = split_bunch(BUNCH, [need(2.4, 150, name="soup"), need(0.3, name="dal")], HOUSE, edible_g=600)
    assert (tonight.name, tonight.form, tonight.wash_at) == ("dal", Form.CHOPPED, HOME)
    assert (later.name, later.form) == ("soup", Form.WHOLE)
    assert later.safe
    assert (rest.name, rest.grams) == ("left over", pytest.approx(250))


def test_a_box_that_is_only_picked_is_washed_before_cooking() -> None:
    """What is picked on market day waits dry; its label says to wash it, for what, and until when."""
    (box, _) = split_bunch(BUNCH, [need(1.9, form=Form.PICKED, name="raita")], HOUSE, edible_g=600, said="spinach")
    assert box.form is Form.PICKED
    assert box.wash_at == box.at
    assert "spinach · 200 g · picked · wash before cooking" in box.label
    assert "raita, Tue 16 Mar" in box.label
    assert "use by" in box.label


def test_a_need_beyond_every_life_says_so() -> None:
    """Spinach for the day after next week is not safe in any form."""
    (box, _) = split_bunch(BUNCH, [need(9)], HOUSE, edible_g=600)
    assert not box.safe
    assert box.form is Form.WHOLE


@given(st.lists(st.tuples(st.floats(0.1, 12), st.floats(5, 60), st.sampled_from([Form.GRATED, Form.CUT, Form.PICKED]))))
def test_boxes_hold_what_was_asked_for_and_what_is_left(asked: list[tuple[float, float, Form]]) -> None:
    """No gram is lost, and every safe box reaches its sitting in the form that it is kept in."""
    needs = [need(*one) for one in asked[:8]]
    boxes = split_bunch(CARROTS, needs, HOUSE, edible_g=500)
    assert sum(box.grams for box in boxes) == pytest.approx(500)
    for box in boxes:
        assert box.use_by.at == lot_use_by(Lot("x", 1, box.form, Place.FRIDGE, HOME, food="F002"), HOUSE).at
        assert not box.safe or box.at is None or box.use_by.at >= box.at


def test_more_than_the_bunch_is_refused() -> None:
    """Nobody cuts 700 g out of 600."""
    with pytest.raises(InputError, match="700 g are asked for, and the lot yields 600 g"):
        split_bunch(BUNCH, [need(1, 700)], HOUSE, edible_g=600)


def test_the_demo_house_has_such_leaves() -> None:
    """The shelf of the demo can be split without a plan: one box, the whole lot."""
    book = demo.book()
    lot = next(lot for lot in book.lots if lot.food is not None and lot.form is Form.WHOLE)
    (box,) = split_bunch(lot, [], book.house, edible_g=lot.grams)
    assert box.grams == lot.grams


def test_a_table_plan_splits_a_lot_by_its_own_cookings() -> None:
    """Two draws from one lot become two boxes for their dishes and days; other lots' draws stay out."""
    book = demo.book()
    lot = next(lot for lot in book.lots if lot.food == "C033")
    dishes = [made for made in book.dishes if "C033" in made.foods][:2]
    days = [lot.since.date() + timedelta(days=n) for n in (1, 2)]
    batches = tuple(
        Batch(f"b{n}", made.id, day, Meal.DINNER, 4) for n, (made, day) in enumerate(zip(dishes, days, strict=True))
    )
    draws = (
        Draw(lot.id, "b1", "C033", 90),
        Draw(lot.id, "b0", "C033", 60),
        Draw("other", "b0", "C033", 500),
    )
    plan = TablePlan(lot.since.date(), 7, (), batches, (), (), draws, (), (), Proof(0, 0, 0, "made up"))
    boxes = split_lot(lot, plan, book, edible_g=200, said="spinach")
    assert [(box.name, box.grams) for box in boxes] == [
        (dishes[0].name, 60), (dishes[1].name, 90), ("left over", pytest.approx(50)),
    ]  # fmt: skip
    assert boxes[0].at is not None
    assert boxes[0].at.date() == days[0]
    assert "use by" in boxes[1].label
