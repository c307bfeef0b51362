"""Planning anew in the middle of a day: what was stays, what is begun may go on, what was had lately rests."""

from dataclasses import replace
from datetime import datetime, time, timedelta

import pytest
from tests.planning.kitchens import ANNA, DAL, GOURD, PLAIN_DAL, PORRIDGE, RICE, SUNDAY, PlainFacts, book, dish, lot
from tests.planning.plan_checker import plan_faults

from chauka.composition import Weighed, dish_nutrients
from chauka.kitchen import Course, Form, Meal
from chauka.planning import plan
from chauka.planning.facts import HouseFacts

FACTS = PlainFacts()
AFTERNOON = datetime.combine(SUNDAY, time(15))


@pytest.fixture(scope="module")
def morning():
    return plan(book(), SUNDAY, 2, seconds=3, facts=FACTS)


def test_what_is_over_stays_as_it_was(morning):
    """In the afternoon breakfast and lunch are as they were, nothing is bought for them, dinner is planned."""
    made = plan(book(), SUNDAY, 2, seconds=3, facts=FACTS, previous=morning, since=AFTERNOON)
    for meal in (Meal.BREAKFAST, Meal.LUNCH):
        assert [s.dish for s in made.at(SUNDAY, meal)] == [s.dish for s in morning.at(SUNDAY, meal)]
    over = {b.id for b in made.batches if (b.day, b.meal) in {(SUNDAY, Meal.BREAKFAST), (SUNDAY, Meal.LUNCH)}}
    assert over
    assert not over & {d.batch for d in made.draws}
    assert made.at(SUNDAY, Meal.DINNER)
    assert len({b.id for b in made.batches}) == len(made.batches)


def test_without_an_earlier_plan_the_day_begins_now():
    """Nothing is laid for what is over; the checker finds the rest valid (it counts whole days' intake)."""
    made = plan(book(), SUNDAY, 1, seconds=3, facts=FACTS, since=AFTERNOON)
    assert {s.meal for s in made.sittings} == {Meal.DINNER}
    assert [fault for fault in plan_faults(made, book(), FACTS) if "stated" not in fault] == []


def test_what_was_set_to_soak_is_still_cooked():
    """Beans that soak since last night cannot be begun this afternoon, but the plan followed has them begun."""
    slow = dish("slow-beans", Course.PULSE, {"P3": 200}, ahead_hours=20)
    the_book = book((RICE, slow, GOURD, PORRIDGE), people=(replace(ANNA, liking={slow.id: 5}),))
    first = plan(the_book, SUNDAY, 2, seconds=3, facts=FACTS)
    monday = SUNDAY + timedelta(days=1)
    assert slow.id in {s.dish for s in first.servings if s.day == monday}
    the_lots = (lot("beans", "P3", 500, form=Form.DRY), lot("rice", "G1", 900, form=Form.DRY))
    again = replace(the_book, lots=the_lots)
    kept = plan(again, monday, 1, seconds=3, facts=FACTS, previous=first, since=datetime.combine(monday, time(7)))
    fresh = plan(again, monday, 1, seconds=3, facts=FACTS, since=datetime.combine(monday, time(7)))
    assert slow.id in {s.dish for s in kept.servings}
    assert slow.id not in {s.dish for s in fresh.servings}


def test_what_was_cooked_lately_rests():
    """A dal cooked on Friday is not cooked on Sunday; rice may come daily."""
    the_book = book((RICE, DAL, PLAIN_DAL, GOURD, PORRIDGE), people=(replace(ANNA, liking={DAL.id: 5}),))
    friday = SUNDAY - timedelta(days=2)
    made = plan(the_book, SUNDAY, 1, seconds=3, facts=FACTS, cooked={DAL.id: friday, RICE.id: friday})
    assert DAL.id not in {s.dish for s in made.servings}
    assert RICE.id in {s.dish for s in made.servings}


def test_what_the_house_has_learnt_moves_the_lives():
    """Spinach that keeps half as long in this house may be planned half as long, bought or on the shelf."""
    the_book = book()
    spinach = replace(lot("spinach", "C033", 300), age_days=0.0)
    plain = HouseFacts(the_book.house, {}, SUNDAY)
    taught = HouseFacts(the_book.house, {}, SUNDAY, {"C033": 0.5})
    assert taught.lot_use_by(spinach) < plain.lot_use_by(spinach)
    assert taught.bought_life_days("C033", Form.WHOLE) < plain.bought_life_days("C033", Form.WHOLE)
    assert taught.bought_life_days("F010", Form.WHOLE) == plain.bought_life_days("F010", Form.WHOLE)


def test_a_portion_weighs_what_the_house_has_weighed():
    """Dal that came off the stove at 900 g for four; one never weighed is reckoned from its recipe."""
    dal = dish("dal", Course.PULSE, {"B013": 200})
    plain, taught = (HouseFacts(book().house, {}, SUNDAY, None, w) for w in ({}, {"dal": (Weighed(4, 900),)}))
    assert taught.portion_g(dal) == pytest.approx(225)
    assert plain.portion_g(dal) == pytest.approx(dish_nutrients(dal).portion_g.mean)
