"""The search on problems that can be solved by hand."""

import sys
import threading
from dataclasses import replace

import pytest
from benchmarks.houses import house
from tests.planning.checker import faults
from tests.planning.small import MISS, eaten, offer, problem, slots, stock

from chauka.planning.problem import Among, Cooking, Eating, Limit, Load, Place, Recipe, Target, Term, Wish
from chauka.planning.solve import solve


def solved(prob, **more):
    """Solve, let the checker judge, and give the result back."""
    result = solve(prob, seconds=5, gap=0, **more)
    assert faults(prob, result.solution) == []
    assert result.status == "optimal"
    assert result.bound == pytest.approx(result.solution.value, abs=1)
    return result


def test_lot_that_goes_off_is_eaten_first():
    """Of two dishes liked the same, the one that saves a lot from the bin comes while the lot lives."""
    prob = problem(2, [stock(0, last=0, grams=100), stock(1, last=9, grams=100)], [{0: 100}, {1: 100}])
    assert eaten(solved(prob), prob) == {0: "dish 0", 1: "dish 1"}


def test_waste_is_priced_by_its_share():
    """Half of a lot worth 1000 goes off: waste is 500 times the house's weight of 2."""
    prob = problem(1, [stock(0, last=0, grams=200)], [{0: 100}])
    assert solved(prob).solution.terms[Term.WASTE] == pytest.approx(1000)


def test_whole_packs_are_bought():
    """A dish needing 600 g takes two packs of 500 g, and the rest is wasted."""
    prob = problem(1, [offer(0, last=0)], [{0: 600}])
    solution = solved(prob).solution
    assert solution.choice.packs == {0: 2}
    assert solution.terms[Term.MONEY] == 2000
    assert solution.left_mg[0] == pytest.approx(400_000)


def test_what_outlives_the_plan_is_worth_something():
    """The same rest, still good and worth 800 a pack, is carried on instead."""
    prob = problem(1, [offer(0, carry=800)], [{0: 600}])
    solution = solved(prob).solution
    assert solution.terms[Term.WASTE] == 0
    assert solution.terms[Term.MONEY] == pytest.approx(2000 - 0.8 * 800)


def test_two_dishes_share_a_pack():
    """Two dishes of 250 g are chosen together because they share a pack, against a liking of 400 each."""
    sources = [offer(0), offer(1), offer(2)]
    prob = problem(2, sources, [{0: 250}, {0: 250}, {1: 250}, {2: 250}], likings=[400, 400, 0, 0])
    once = tuple(Limit(f"dish {r} once", 1, cookings=(2 * r, 2 * r + 1)) for r in range(4))
    assert set(eaten(solved(replace(prob, limits=once)), prob).values()) == {"dish 0", "dish 1"}


def test_nothing_in_the_house_is_a_miss():
    """Where no dish can be made the position stays empty at its price."""
    solution = solved(problem(1, [stock(0, grams=50)], [{0: 100}])).solution
    assert solution.empty == ((0, 0),)
    assert solution.terms[Term.MISSED] == MISS


def test_budget_is_hard():
    """With money for one pack only one of two days gets its dish."""
    solution = solved(problem(2, [offer(0, grams=100, last=9)], [{0: 100}], budget=1500)).solution
    assert len(solution.empty) == 1


def test_lot_is_not_used_before_it_is_bought():
    """A pack bought on day 1 feeds day 1, not day 0."""
    solution = solved(problem(2, [offer(0, first=1)], [{0: 100}])).solution
    assert solution.empty == ((0, 0),)


def test_minutes_of_a_sitting_hold():
    """A dish of 10 minutes does not go where 9 are there."""
    assert solved(problem(slots(1, minutes=9), [stock(0)], [{0: 100}])).solution.empty == ((0, 0),)


def test_one_burner_cooks_one_of_two():
    """Two positions, each dish 40 minutes on a burner that has 60."""
    table = slots(1, places=("dish", "more"))
    prob = problem(table, [stock(0, grams=500)], [{0: 100}, {0: 100}])
    prob = replace(prob, eatings=(prob.eatings[0], replace(prob.eatings[1], places=(1,))))
    assert solved(prob).solution.empty == ()
    busy = replace(prob, loads=(Load("burner", 0, 60, ((0, 40), (1, 40))),))
    assert len(solved(busy).solution.empty) == 1


def test_soft_limit_yields_to_a_miss():
    """The same dish twice costs its weight, which is less than an empty position."""
    prob = problem(2, [stock(0, last=9)], [{0: 100}])
    soft = Limit("once", 1, cookings=(0, 1), weight=3000)
    assert solved(replace(prob, limits=(soft,))).solution.terms[Term.REPETITION] == 3000


def test_variety_is_reached_where_it_can():
    """At least two of two groups: both dishes come although one is liked better."""
    prob = problem(2, [stock(0, last=9)], [{0: 100}, {0: 100}], likings=[0, 500])
    variety = Among("greens", 2, ((0, 1), (2, 3)), 3000)
    assert set(eaten(solved(replace(prob, among=(variety,))), prob).values()) == {"dish 0", "dish 1"}


def test_leftover_saves_minutes():
    """A pot cooked once and eaten twice takes its food twice and its work once."""
    prob = problem(2, [stock(0, last=0, grams=400)], [{0: 200}], minute_cost=100)
    twice = replace(
        prob,
        recipes=(Recipe("dish 0", (), most_servings=2),),
        eatings=(*prob.eatings, Eating(0, 1, (0,), liking=250, minutes=4)),
    )
    result = solved(twice)
    assert result.solution.choice.cookings == {0}
    assert result.solution.empty == ()
    assert result.solution.left_mg[0] == pytest.approx(0, abs=1)


def test_made_ahead_side_is_cooked_once():
    """A side made ahead is cooked on one day and eaten on three."""
    prob = problem(3, [stock(0, last=9)], [{0: 50}], minute_cost=100)
    ahead = replace(
        prob,
        recipes=(Recipe("side", (), most_servings=8, ahead=True),),
        eatings=tuple(Eating(c, t, (0,)) for c in range(3) for t in range(c, 3)),
    )
    assert solved(ahead).solution.choice.cookings == {0}


def test_finished_batch_is_eaten_or_wasted():
    """Two portions are ready: two slots eat them, and nothing is wasted."""
    prob = problem(2, [stock(0, last=9)], [{0: 50}], likings=[900])
    ready = replace(
        prob,
        recipes=(*prob.recipes, Recipe("ready", ())),
        cookings=(*prob.cookings, Cooking(1, -1, 0, (), ready=200, worth=400)),
        eatings=(*prob.eatings, Eating(2, 0, (0,)), Eating(2, 1, (0,))),
    )
    assert set(eaten(solved(ready), ready).values()) == {"ready"}


def test_shortfall_is_counted_in_per_cents():
    """Half of the protein is reached: 50 per cent at 60 coins."""
    prob = problem(1, [stock(0, grams=100)], [{0: 100}])
    fed = replace(
        prob,
        recipes=(Recipe("dish 0", (10_000,)),),
        nutrients=("protein",),
        eaters=("somebody",),
        targets=(Target(0, 0, 20_000, 100, True, 60), Target(0, 0, 8_000, 100, False, 40)),
    )
    solution = solved(fed).solution
    assert solution.shares == pytest.approx((0.5, 1.25))
    assert solution.terms[Term.SHORTFALL] == pytest.approx(3000)
    assert solution.terms[Term.EXCESS] == pytest.approx(1000)


def test_locked_and_wished_servings():
    """A locked dish stays though liked less; a wish yields when it costs more than it is worth."""
    prob = problem(1, [stock(0, grams=100)], [{0: 100}, {0: 100}], likings=[0, 800])
    assert eaten(solved(replace(prob, wishes=(Wish(0, (1,), None),))), prob) == {0: "dish 1"}
    assert eaten(solved(replace(prob, wishes=(Wish(0, (1,), 900),))), prob) == {0: "dish 1"}
    assert eaten(solved(replace(prob, wishes=(Wish(0, (1,), 700),))), prob) == {0: "dish 0"}


def test_side_that_nobody_likes_is_left_out():
    """An optional position is filled only where its dish is liked better than none."""
    place = (Place("dish", MISS), Place("side", 500, Term.LIKING))
    table = tuple(replace(s, places=place) for s in slots(1))
    prob = problem(table, [stock(0, grams=1000, last=9)], [{0: 100}, {0: 10}, {0: 10}])
    for liking, filled in ((400, True), (600, False)):
        side = replace(prob, eatings=(prob.eatings[0], replace(prob.eatings[1], places=(1,), liking=liking)))
        assert (solved(side).solution.empty == ()) is filled


def test_same_call_same_answer():
    """Nothing is left to chance."""
    sources = [stock(0, last=1), stock(1, last=3), offer(2)]
    prob = problem(4, sources, [{0: 90}, {1: 120}, {2: 200}, {0: 60, 2: 100}], likings=[3, 5, 8, 1])
    assert solved(prob).solution.choice == solved(prob).solution.choice


def test_cancel_gives_the_plan_so_far():
    """A search cancelled at once still brings a valid plan, and a bound that is no better than it."""
    prob = problem(5, [offer(i) for i in range(4)], [{0: 90, 1: 10}, {1: 120}, {2: 200}, {3: 60, 2: 100}])
    result = solve(prob, cancel=lambda: True)
    assert faults(prob, result.solution) == []
    assert result.bound <= result.solution.value


def test_progress_is_told():
    """Somebody who waits hears of seconds, value and bound."""
    heard = []
    solve(problem(2, [offer(0)], [{0: 90}]), progress=lambda *x: heard.append(x))
    assert heard
    assert all(seconds >= 0 and bound <= value for seconds, value, bound in heard)


def test_no_thread_outlives_the_search():
    """A search that was cancelled early leaves no thread behind."""
    before = set(threading.enumerate())
    prob = house(7, 30, 2, seed=3)
    result = solve(prob, seconds=60, cancel=lambda: True)
    asked = iter(range(100))
    solve(prob, seconds=60, cancel=lambda: next(asked) > 4)
    assert result.status == "cancelled"
    assert set(threading.enumerate()) <= before


def test_the_first_answer_is_shown_while_the_search_goes_on(monkeypatch):
    """The best so far is handed out once, is valid, and no better than the answer at the end."""
    monkeypatch.setattr(sys.modules["chauka.planning.solve"], "EARLY_SECONDS", 0.2)
    prob, shown = house(7, 30, 2, seed=3), []
    result = solve(prob, seconds=3, early=shown.append)
    assert len(shown) == 1
    assert faults(prob, shown[0].solution) == []
    assert shown[0].status == "first answer"
    assert result.solution.value <= shown[0].solution.value
