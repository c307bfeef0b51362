"""Where no plan fits: the clash is as small as can be, and its way out leads out."""

from dataclasses import replace

import pytest
from tests.planning.kitchens import DAL, GOURD, PORRIDGE, RICE, SUNDAY, PlainFacts, book, dish

from chauka.kitchen import Course, DayRule, Meal, Offer, RuleKind, Vessel, VesselStock
from chauka.planning import plan
from chauka.planning.build import build
from chauka.planning.carry import carried_over
from chauka.planning.elastic import Elastic, Kind
from chauka.planning.menu import Ground
from chauka.planning.problem import Term
from chauka.planning.solve import solve

FACTS = PlainFacts()
SLOW = dish("slow-stew", Course.VEGETABLE, {"V1": 300}, minutes=200)
NUT_DAL = dish("nut-dal", Course.PULSE, {"N1": 100})
FLAT = dish("flat", Course.GRAIN, {"G1": 300}, vessel=Vessel.GRIDDLE)
LONG_A = dish("a", Course.PULSE, {"P1": 100}, minutes=35)
LONG_B = dish("b", Course.VEGETABLE, {"V1": 100}, minutes=36)
NO_ONION = DayRule(RuleKind.NO_ONION_GARLIC, weekday=6)
FEW_FOODS = tuple(Offer(f, "500 g", 500, 3000, "stall") for f in ("G1", "G2", "V1"))


def elastic(the_book):
    """The rules of the first day, with what its best plan leaves empty."""
    built = build(the_book, SUNDAY, 1, FACTS)
    result = solve(built.problem, seconds=3)
    wide = build(the_book, SUNDAY, 1, FACTS, without=frozenset(Ground))
    slots = built.problem.slots
    missed = [(s, p) for s, p in result.solution.empty if slots[s].places[p].term is Term.MISSED]
    return Elastic(wide, carried_over(result.solution.choice, built, wide)), missed


CASES = {
    "budget": (book(weekly_budget=70_00), {Kind.BUDGET}),
    "slow": (book((RICE, SLOW, PORRIDGE)), {Kind.WORK}),
    "vessel": (book((FLAT, DAL, GOURD, PORRIDGE)), {Kind.VESSEL}),
    "food": (book((RICE, DAL, GOURD, PORRIDGE), offers=FEW_FOODS), {Kind.FOOD}),
    "allergy": (book((RICE, NUT_DAL, GOURD, PORRIDGE)), {Kind.ALLERGY}),
    "day": (book((RICE, DAL, GOURD, PORRIDGE), rules=(NO_ONION,)), {Kind.DAY}),
    "once": (book((RICE, DAL, GOURD, PORRIDGE)), {Kind.ONCE}),
}


@pytest.mark.parametrize("name", CASES)
def test_clash_is_found_and_cannot_be_smaller(name):
    """The expected rule is in a clash; each clash forbids by itself, and letting go any one of its rules is enough."""
    rules_of, missed = elastic(CASES[name][0])
    found = set()
    for slot, place in missed:
        clash = rules_of.clash(slot, place)
        rest = [rule for rule in rules_of.rules(slot, place) if rule not in clash]
        if clash:
            assert rules_of.can_fill(slot, place, rest) is False
        for rule in clash:
            assert rules_of.can_fill(slot, place, [*rest, rule]) is True
        found.add(frozenset(rule.kind for rule in clash))
    assert frozenset(CASES[name][1]) in found


def test_an_allergy_is_never_a_way_out():
    """The way out of an allergy is another dish, not the nuts."""
    made = plan(CASES["allergy"][0], SUNDAY, 1, seconds=2, facts=FACTS)
    clash = next(c for c in made.clashes if any("allergic" in rule for rule in c.rules))
    assert clash.way_out.startswith("write down a dish for pulse")


def test_the_money_asked_for_is_enough():
    """With the money that the way out names more is served."""
    tight = book(weekly_budget=70_00)
    made = plan(tight, SUNDAY, 1, seconds=2, facts=FACTS)
    clash = next(c for c in made.clashes if c.cost)
    assert f"INR {clash.cost / 100:,.0f} more" in clash.way_out
    more = book(weekly_budget=7 * (10_00 + clash.cost))
    again = plan(more, SUNDAY, 1, seconds=2, facts=FACTS)
    assert len(again.servings) > len(made.servings)


def test_the_minutes_asked_for_are_enough():
    """With the minutes of the way out the stew is served."""
    made = plan(book((RICE, SLOW, PORRIDGE)), SUNDAY, 1, seconds=2, facts=FACTS)
    clash = next(c for c in made.clashes if "Sunday lunch" in c.rules[0])
    more = int(clash.way_out.split(" more hands-on")[0].split()[-1])
    house = book().house
    times = tuple(
        replace(m, hands_on_min=m.hands_on_min + more) if m.meal is Meal.LUNCH else m for m in house.meal_times
    )
    again = plan(book((RICE, SLOW, PORRIDGE), meal_times=times), SUNDAY, 1, seconds=2, facts=FACTS)
    assert SLOW.id in {s.dish for s in again.at(SUNDAY, Meal.LUNCH)}


def test_two_dishes_that_fit_alone_and_not_together():
    """Each takes more than half of the hour: minutes clash, or with one pot the vessels do."""
    two = (RICE, LONG_A, LONG_B, PORRIDGE)
    rules_of, missed = elastic(book(two, vessels=(VesselStock(Vessel.POT, 3),)))
    clashes = [rules_of.clash(*key) for key in missed]
    assert all(len(clash) >= 1 for clash in clashes)


def test_a_whole_plan_has_no_clash():
    """Nothing is explained where nothing is missing."""
    plenty = tuple(dish(f"pulse-{k}", Course.PULSE, {"P1": 200}) for k in range(3))
    greens = tuple(dish(f"veg-{k}", Course.VEGETABLE, {"V1": 200}) for k in range(3))
    made = plan(book((RICE, *plenty, *greens, PORRIDGE)), SUNDAY, 1, seconds=2, facts=FACTS)
    assert all("breakfast" in c.rules[0] for c in made.clashes)
