"""From a book to a table plan, on a house that can be planned by hand."""

from dataclasses import replace
from datetime import timedelta

import pytest
from tests.planning.kitchens import (
    ANNA,
    BEN,
    DAL,
    GOURD,
    GREENS,
    NUT_RELISH,
    PANCAKE,
    PLAIN_DAL,
    PORRIDGE,
    RICE,
    SUNDAY,
    PlainFacts,
    book,
    dish,
    lot,
)  # fmt: skip
from tests.planning.plan_checker import plan_faults

from chauka.errors import InputError
from chauka.kitchen import Course, DayRule, Form, Line, Lot, Meal, Offer, Place, RuleKind, Vessel, Weights
from chauka.planning import plan, proof_sentence, sittings_fed, uses, why_dish, why_purchase
from chauka.planning.build import build
from chauka.units import Estimate

FACTS = PlainFacts()


def planned(the_book, days=2, **more):
    """Plan, let the checker judge, and give the plan back."""
    made = plan(the_book, SUNDAY, days, seconds=3, facts=FACTS, **more)
    assert plan_faults(made, the_book.whole(), FACTS) == []
    return made


@pytest.fixture(scope="module")
def two_days():
    return planned(book(lots=(lot("greens", "L1", 400), lot("rice", "G1", 2000, form=Form.DRY, days=5),
                              lot("oats", "G2", 2000, form=Form.DRY, days=5))))  # fmt: skip


def test_each_sitting_is_laid(two_days):
    """Breakfast one dish, lunch a main and a grain, dinner pulse, vegetable and grain."""
    courses = {s.key: sorted(x.course for x in two_days.at(s.day, s.meal)) for s in two_days.sittings}
    assert courses["2027-03-15 dinner"] == [Course.GRAIN, Course.PULSE, Course.VEGETABLE]
    assert len(courses["2027-03-15 breakfast"]) == 1
    assert Course.GRAIN in courses["2027-03-15 lunch"]


def test_waste_and_proof_are_stated(two_days):
    """The proof lists every term, and says in a sentence how good the plan is."""
    assert {"waste", "money", "shortfall", "liking", "minutes", "missed"} <= set(two_days.proof.terms)
    assert two_days.proof.bound <= two_days.proof.value
    assert proof_sentence(two_days, "INR") == "no plan is better"


def test_allergy_keeps_a_dish_off_the_table(two_days):
    """Ben must not have peanuts, so nobody is served the nut relish."""
    assert all(s.dish != NUT_RELISH.id for s in two_days.servings)
    away = DayRule(RuleKind.AWAY, weekday=6, people=frozenset({"ben"}))
    with_relish = replace(ANNA, liking={NUT_RELISH.id: 5})
    relish_lot = lot("nuts", "N1", 500, form=Form.DRY)
    made = planned(
        book(
            people=(with_relish, BEN), rules=(away,), lots=(relish_lot,), weights=Weights(minute=10, excess_percent=0)
        ),
        days=1,
    )
    assert NUT_RELISH.id in {s.dish for s in made.servings}


def test_a_part_is_bought_for_and_kept_from_those_allergic_to_it():
    """The only vegetable is finished with nut relish: the relish is shopped for, and never reaches Ben."""
    part = Line("relish", "N1", "nut relish", "40 g", Estimate(40), Form.COOKED, made=NUT_RELISH.id)
    nutty = replace(GREENS, lines=(*GREENS.lines, part))
    dishes = (RICE, PLAIN_DAL, nutty, PORRIDGE, NUT_RELISH)
    assert all(s.dish != nutty.id for s in planned(book(dishes), days=1).servings)
    made = planned(book(dishes, people=(ANNA,), weights=Weights(minute=10, excess_percent=0)), days=1)
    batch = next(b.id for b in made.batches if b.dish == nutty.id)
    assert {d.food for d in made.draws if d.batch == batch} == {"L1", "N1"}


def test_soaking_needs_a_night():
    """Beans that soak twenty hours cannot be had on the first day, however liked, and can on the second."""
    slow = dish("slow-beans", Course.PULSE, {"P3": 200}, minutes=12, ahead_hours=20)
    likes = replace(ANNA, liking={slow.id: 5})
    made = planned(book((RICE, slow, GOURD, PORRIDGE), people=(likes,)))
    assert {s.day for s in made.servings if s.dish == slow.id} == {SUNDAY + timedelta(days=1)}


def test_no_onion_day():
    """On a day without onion the other dal comes."""
    rule = DayRule(RuleKind.NO_ONION_GARLIC, weekday=6)
    loves_onion = replace(ANNA, liking={DAL.id: 5, PLAIN_DAL.id: 2})
    made = planned(book((RICE, DAL, PLAIN_DAL, GOURD, PORRIDGE), people=(loves_onion,), rules=(rule,)), days=1)
    assert DAL.id not in {s.dish for s in made.servings}
    assert PLAIN_DAL.id in {s.dish for s in made.servings}


def test_fast_day():
    """On a fast day neither grain nor pulse is served, and nobody misses them."""
    rule = DayRule(RuleKind.FAST, weekday=6, meal=Meal.DINNER)
    made = planned(book(rules=(rule,), lots=(lot("gourd", "V1", 900),)), days=1)
    assert [s.course for s in made.at(SUNDAY, Meal.DINNER)] == [Course.VEGETABLE]


def test_guests_take_portions():
    """Two guests add two portions."""
    rule = DayRule(RuleKind.GUESTS, weekday=6, meal=Meal.LUNCH, guests=2)
    made = planned(book(rules=(rule,)), days=1)
    alone = planned(book(), days=1)
    for more, fewer in ((made, alone),):
        rice = [next(s.portions for s in x.at(SUNDAY, Meal.LUNCH) if s.dish == RICE.id) for x in (more, fewer)]
        assert rice[0] % 3.5 == pytest.approx(0)
        assert rice[1] % 1.5 == pytest.approx(0)


def test_purchase_names_what_it_feeds():
    """A purchase says for which sittings it is bought, a batch where its food comes from."""
    the_book = book()
    made = planned(the_book)
    purchase = next(p for p in made.purchases if p.food == "V1")
    assert any("gourd" in text for text in sittings_fed(made, purchase.id))
    assert "Gourd" in why_purchase(made, the_book, purchase.id)
    batch = next(b for b in made.batches if b.dish == GOURD.id)
    assert {u.food for u in uses(made, batch.id)} == {"V1"}
    assert isinstance(why_dish(made, the_book, batch.id), tuple)


def test_dish_says_what_it_uses_up():
    """A dish that empties a lot says so."""
    the_book = book(lots=(lot("greens", "L1", 188),))
    made = planned(the_book, days=1)
    batch = next(b for b in made.batches if b.dish == GREENS.id)
    assert any("uses up greens" in why for why in why_dish(made, the_book, batch.id))


def test_finished_dish_on_the_shelf_is_served():
    """A box of dal from yesterday comes to the table from its lot."""
    ready = Lot("box", 2000, Form.COOKED, Place.FRIDGE, lot("x", "G1", 1).since, dish=DAL.id, cost=5000)
    made = planned(book(lots=(ready,)), days=1)
    assert "box" in {s.lot for s in made.servings}


@pytest.mark.parametrize(("portion_g", "enough"), [(60.0, True), (250.0, False)])
def test_a_box_holds_as_many_portions_as_its_finished_weight_gives(portion_g, enough):
    """125 g of dal feed one and a half eaters if a portion weighs 60 g, not if it weighs 250 g."""

    class Weighed(PlainFacts):
        def portion_g(self, _dish):
            return portion_g

    ready = Lot("box", 125, Form.COOKED, Place.FRIDGE, lot("x", "G1", 1).since, dish=DAL.id, cost=5000)
    built = build(book(lots=(ready,)), SUNDAY, 1, Weighed())
    assert (ready in built.menu.lots.values()) is enough


def test_budget_that_is_too_tight():
    """The clash names the money, what more would be needed, and the plan keeps to the budget all the same."""
    made = planned(book(weekly_budget=70_00), days=2)
    assert made.cost <= 20_00
    assert any("more" in c.way_out and (c.cost or 0) > 0 for c in made.clashes)
    assert any("spend at most INR 20" in rule for c in made.clashes for rule in c.rules)


def test_day_on_which_nothing_fits():
    """Without minutes for any dish, the clash names the sitting and the rule, and the nearest dish."""
    slow = (RICE, dish("slow-stew", Course.VEGETABLE, {"V1": 300}, minutes=200), PORRIDGE)
    made = planned(book(slow), days=1)
    clash = next(c for c in made.clashes if "Sunday lunch, main" in c.rules[0])
    assert "hands-on minutes" in clash.rules[1]
    assert "Slow-Stew" in clash.way_out


def test_vessel_that_the_house_lacks():
    """A dish for a griddle is left out of a house without one."""
    flat = dish("flat", Course.GRAIN, {"G1": 300}, vessel=Vessel.GRIDDLE)
    made = planned(book((flat, DAL, GOURD, PORRIDGE)), days=1)
    assert "flat" not in {s.dish for s in made.servings}
    assert any("the house has no griddle" in rule for c in made.clashes for rule in c.rules)


def test_food_that_nobody_sells():
    """A dish whose food is neither in the house nor on sale is left out and named."""
    on_sale = tuple(Offer(f, "500 g", 500, 3000, "stall") for f in ("G1", "G2", "V1"))
    made = planned(book((RICE, DAL, GOURD, PORRIDGE), offers=on_sale), days=1)
    assert any("neither in the house nor on sale" in rule for c in made.clashes for rule in c.rules)


def test_everybody_away():
    """A sitting without eaters is not laid."""
    rule = DayRule(RuleKind.AWAY, weekday=6, meal=Meal.LUNCH, people=frozenset({"anna", "ben"}))
    assert (SUNDAY, Meal.LUNCH) not in {(s.day, s.meal) for s in planned(book(rules=(rule,)), days=1).sittings}


def test_locked_serving_stays():
    """A locked serving is kept though another is liked better."""
    likes = replace(ANNA, liking={PORRIDGE.id: 5, PANCAKE.id: 1})
    lots = (lot("oats", "G2", 2000, form=Form.DRY, days=5), lot("moong", "P2", 2000, form=Form.DRY, days=5))
    the_book = book(people=(likes,), lots=lots)
    free = planned(the_book, days=1)
    breakfast = free.at(SUNDAY, Meal.BREAKFAST)[0]
    assert breakfast.dish == PORRIDGE.id
    held = planned(the_book, days=1, locked=(replace(breakfast, dish=PANCAKE.id),))
    assert held.at(SUNDAY, Meal.BREAKFAST)[0].dish == PANCAKE.id


def test_replanning_changes_nothing_without_need(two_days):
    """A plan made again beside itself stays as it is."""
    lots = (lot("greens", "L1", 400), lot("rice", "G1", 2000, form=Form.DRY, days=5),
            lot("oats", "G2", 2000, form=Form.DRY, days=5))  # fmt: skip
    again = planned(book(lots=lots), previous=two_days)
    assert again.proof.terms["change"] == 0


def test_impossible_numbers_of_days():
    """Zero days and a year are refused in words."""
    for days in (0, 365):
        with pytest.raises(InputError, match="days"):
            plan(book(), SUNDAY, days, facts=FACTS)


def test_house_without_meal_times():
    """A house that never eats is told so."""
    with pytest.raises(InputError, match="meal times"):
        plan(book(meal_times=()), SUNDAY, 2, facts=FACTS)
