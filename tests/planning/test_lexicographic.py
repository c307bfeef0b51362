"""One wish after the other: the order decides, tolerances hold, each wish is told."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from tests.planning.checker import faults
from tests.planning.kitchens import SUNDAY, PlainFacts, book, lot
from tests.planning.made_houses import problems
from tests.planning.small import offer, problem, stock
from tests.planning.test_laws import quick

from chauka.errors import InputError
from chauka.kitchen import Weights
from chauka.planning import plan
from chauka.planning.lexicographic import LEAST_SLACK, least, read_order, solve_in_order, stressed
from chauka.planning.model import Model
from chauka.planning.problem import Cap, Term
from chauka.planning.solve import solve


def two_ways():
    """Dish 0 uses a lot worth 1000 up and is disliked by 5000; dish 1 is liked and has its food bought for 10."""
    return problem(1, [stock(0, grams=100), offer(1, grams=100, price=10)], [{0: 100}, {1: 100}], likings=[5000, 0])


def test_the_first_wish_decides():
    """Waste first: the lot is eaten; liking first: it is thrown away. Weighed together liking wins."""
    for order, waste in (((Term.MISSED, Term.WASTE), 0), ((Term.MISSED, Term.LIKING), 2000)):
        made = solve_in_order(two_ways(), order, 0.0, seconds=3)
        assert made.result.solution.terms[Term.WASTE] == pytest.approx(waste)
        assert faults(two_ways(), made.result.solution) == []
    assert solve(two_ways(), seconds=2).solution.terms[Term.WASTE] == pytest.approx(2000)


def test_each_wish_is_told_with_its_bound():
    """The stages come in their order, none below its bound."""
    made = solve_in_order(two_ways(), (Term.MISSED, Term.WASTE, Term.MONEY), 0.0, seconds=3)
    assert [s.term for s in made.stages] == ["missed", "waste", "money"]
    assert all(s.value >= s.bound - 1e-6 for s in made.stages)


@settings(quick, max_examples=8)
@given(problems())
def test_later_wishes_keep_what_was_reached(prob):
    """In the end no wish is worse than it was in its turn by more than the tolerance, and the plan is valid."""
    order = (Term.MISSED, Term.WASTE, Term.MONEY)
    made = solve_in_order(prob, order, 0.1, seconds=3)
    assert faults(prob, made.result.solution) == []
    for stage in made.stages:
        slack = max(LEAST_SLACK, 0.1 * abs(stage.value))
        assert made.result.solution.terms[Term(stage.term)] <= stage.value + slack + 1
        assert stage.value >= stage.bound - 1


@quick
@given(problems())
def test_stress_scales_one_term_and_no_other(prob):
    """A choice costs fifty times as much in the term that is stressed, and the same in all others."""
    solution = solve(prob, seconds=5, gap=0).solution
    for term in Term:
        more = Model(stressed(prob, term)).read(solution.columns)
        for other in Term:
            times = 50 if other is term else 1
            assert more.terms[other] == pytest.approx(times * solution.terms[other], abs=1e-3, rel=1e-6)


@settings(quick, max_examples=10)
@given(problems())
def test_first_wish_is_as_good_as_alone(prob):
    """What the first wish reaches is proven: nothing that leaves as few positions empty wastes less."""
    missed = solve_in_order(prob, (Term.MISSED,), 0.0, seconds=4).result.solution.terms[Term.MISSED]
    best = solve(stressed(prob, Term.MISSED, 1000), seconds=5, gap=0).solution.terms[Term.MISSED]
    assert missed <= best + LEAST_SLACK


def test_a_cap_is_kept_by_the_relaxation():
    """With waste capped at nought the least money is that of the dish that uses the lot."""
    prob = replace(two_ways(), caps=(Cap(Term.WASTE, 0.0),))
    assert least(two_ways(), Term.MONEY) == pytest.approx(0)
    assert least(prob, Term.LIKING) == pytest.approx(5000)


def test_order_of_a_house():
    """Names of terms become the order, empty positions before all; another word is refused in words."""
    assert read_order(()) == ()
    assert read_order(("waste", "money", "waste")) == (Term.MISSED, Term.WASTE, Term.MONEY)
    with pytest.raises(InputError, match="'thrift' is nothing that a plan minds"):
        read_order(("thrift",))


def test_a_house_with_an_order():
    """The plan tells the stages and the status; without an order it tells none."""
    lots = (lot("greens", "L1", 300),)
    ordered = book(lots=lots, weights=Weights(order=("waste", "money")))
    made = plan(ordered, SUNDAY, 1, seconds=4, facts=PlainFacts())
    assert [s.term for s in made.proof.order] == ["missed", "waste", "money"]
    assert made.proof.status == "one wish after the other"
    assert plan(book(lots=lots), SUNDAY, 1, seconds=1, facts=PlainFacts()).proof.order == ()
