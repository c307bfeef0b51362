"""What to do when the market lacks something: by hand on the small house."""

from dataclasses import replace

import pytest
from tests.planning.kitchens import ANNA, PLAIN_DAL, PORRIDGE, RICE, SUNDAY, PlainFacts, book, dish

from chauka.kitchen import Course, Offer, Substitute, Weights
from chauka.planning import Chance, plan
from chauka.planning.markets import ASSUMED, assumed, markets

FACTS = PlainFacts()
GREENS = dish("greens", Course.VEGETABLE, {"L1": 400, "M1": 8})
GOURD = dish("gourd", Course.VEGETABLE, {"V1": 400})
LIKES = replace(ANNA, liking={GREENS.id: 5, GOURD.id: 2, "marrow": 1})


def listed(*dishes, chances=None):
    """A day's plan of one eater who likes greens, with its recourse list."""
    on_sale = tuple(Offer(f, "500 g", 500, 3000, "stall") for f in ("G1", "G2", "P2", "L1", "L2", "M1", "V1", "V3"))
    the_book = book(
        (RICE, PLAIN_DAL, PORRIDGE, *dishes), offers=on_sale, people=(LIKES,), weights=Weights(dislike_point=3000)
    )
    made = plan(the_book, SUNDAY, 1, seconds=6, facts=FACTS, chances=chances if chances is not None else {})
    assert GREENS.id in {s.dish for s in made.servings}
    return made, {one.food: one for one in made.recourse}


@pytest.fixture(scope="module")
def swapped():
    """Greens may be cooked with another leaf, twice the grams; nothing else is in the book for them."""
    first = replace(GREENS.lines[0], substitutes=(Substitute("L2", 2.0),))
    return listed(replace(GREENS, lines=(first, *GREENS.lines[1:])))


def test_a_substitute_is_bought_at_its_ratio(swapped):
    """Without leaves the other leaf is bought, and the dish still works."""
    made, recourse = swapped
    one = recourse["L1"]
    assert one.works == (GREENS.id,)
    assert (one.swaps, one.lost) == ((), ())
    eaten = sum(b.portions for b in made.batches if b.dish == GREENS.id)
    packs = -(-eaten * 100 * 2 // (500 * 0.8))
    assert [(s.food, s.packs) for s in one.stand_ins] == [("L2", packs)]
    before = sum(p.cost for p in made.purchases if p.food == "L1")
    assert one.cost == packs * 3000 - before


def test_a_seasoning_is_left_out(swapped):
    """Two grams a head of a seasoning stop no dish."""
    one = swapped[1]["M1"]
    assert (one.works, one.stand_ins, one.lost) == ((GREENS.id,), (), ())


def test_another_dish_takes_the_place():
    """Without a substitute a vegetable dish that is not planned comes instead, with what has to be bought for it."""
    marrow = dish("marrow", Course.VEGETABLE, {"V3": 400})
    made, recourse = listed(GREENS, GOURD, marrow)
    one = recourse["L1"]
    idle = {GOURD.id: "V1", marrow.id: "V3"}.items() - {(s.dish, f) for s in made.servings for f in ("V1", "V3")}
    assert {s.instead for s in one.swaps} <= {d for d, _ in idle}
    assert {s.food for s in one.stand_ins} <= {food for _, food in idle}
    assert one.swaps
    assert GREENS.id not in one.lost


def test_where_nothing_is_found_it_is_said():
    """The only vegetable dish of the book is lost without its food."""
    _, recourse = listed(GREENS)
    assert GREENS.id in recourse["L1"].lost


def test_what_is_hardly_ever_missing_is_not_listed():
    """A chance below one in twenty makes no list; the house's own chance and its reason are shown."""
    seen = Chance(0.4, 0.0, why="missing on 4 of 10 market days")
    _, recourse = listed(GREENS, chances={"L1": seen, "M1": Chance(0.01, 0.0)})
    assert set(recourse) == {"L1"}
    assert (recourse["L1"].chance, recourse["L1"].why) == (0.4, "missing on 4 of 10 market days")


def test_risk_lies_between_plan_and_bad_case(swapped):
    """Expected and bad-case figures are those of the scenarios; without any risk asked for there is none."""
    made, _ = swapped
    assert made.risk.scenarios > 0
    assert made.risk.bad_waste_g >= 0
    assert made.risk.bad_cost >= min(made.risk.expected_cost, made.risk.planned_cost)
    assert plan(book((RICE, PORRIDGE)), SUNDAY, 1, seconds=1, facts=FACTS).risk is None


def test_markets_are_drawn_by_their_chances():
    """The same seed draws the same markets, at about the chances."""
    chances = {"a": Chance(0.2, 0.3), "b": Chance(0.0, 0.0)}
    drawn = list(markets(("a", "b"), chances, 2000, seed=3))
    assert drawn == list(markets(("a", "b"), chances, 2000, seed=3))
    assert sum("a" in m.missing for m in drawn) / 2000 == pytest.approx(0.2, abs=0.03)
    assert sum("a" in m.dear for m in drawn) / 2000 == pytest.approx(0.3, abs=0.03)
    assert not any("b" in m.missing or "b" in m.dear for m in drawn)


def test_assumed_chances_say_so():
    """Cupboard goods hardly ever lack; what is out of season more often than what is not."""
    long, fresh, out = assumed(200, 0.0), assumed(3, 0.0), assumed(3, 1.0)
    assert long.missing < fresh.missing < out.missing
    assert fresh.why == ASSUMED
