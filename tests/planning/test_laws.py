"""What holds for every house: answers are valid, and slack never hurts."""

from dataclasses import replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from tests.planning import brute
from tests.planning.checker import faults
from tests.planning.made_houses import problems

from chauka.planning.greedy import Manner, greedy
from chauka.planning.model import Model
from chauka.planning.problem import Problem
from chauka.planning.solve import solve

quick = settings(max_examples=20, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)


def best(problem: Problem):
    """The proven best solution."""
    result = solve(problem, seconds=10, gap=0)
    assert result.status == "optimal"
    return result


@settings(quick, max_examples=150)
@given(problems())
def test_every_answer_is_valid(problem):
    """The independent checker finds nothing wrong, and the bound is never above the value."""
    result = best(problem)
    assert faults(problem, result.solution) == []
    assert result.bound <= result.solution.value + 1


@quick
@given(problems(), st.sampled_from(list(Manner)))
def test_first_plans_are_valid(problem, manner):
    """Whatever the manner, the quick plan breaks no hard rule and is no better than the proven best."""
    solution = Model(problem).complete(greedy(problem, manner))
    assert solution is not None
    assert faults(problem, solution) == []
    assert solution.value >= best(problem).solution.value - 1


@settings(quick, max_examples=15)
@given(problems(max_slots=2, max_recipes=2))
def test_brute_force_agrees(problem):
    """On tiny houses, trying every choice of cookings, eatings and packs finds nothing better."""
    assume(brute.size(problem) <= 1500)
    values = [solution.value for solution in brute.solutions(problem)]
    assert min(values) == pytest.approx(best(problem).solution.value, abs=1)


@quick
@given(problems(), st.integers(0, 3000))
def test_tighter_budget_never_improves(problem, cut):
    """Less money, no better plan."""
    assume(problem.budget is not None)
    tighter = replace(problem, budget=max(0, (problem.budget or 0) - cut))
    assert best(tighter).solution.value >= best(problem).solution.value - 1


@quick
@given(problems(), st.data())
def test_longer_life_never_hurts(problem, data):
    """What keeps longer never makes the plan worse, as long as its value at the end does not fall."""
    k = data.draw(st.integers(0, len(problem.sources) - 1))
    source = problem.sources[k]
    assume(not problem.outlives(source))
    longer = replace(source, last=min(len(problem.slots) - 1, source.last + 1))
    sources = (*problem.sources[:k], longer, *problem.sources[k + 1 :])
    assert best(replace(problem, sources=sources)).solution.value <= best(problem).solution.value + 1


@quick
@given(problems(), st.sampled_from(["limits", "loads", "among", "wishes", "budget"]))
def test_relaxing_a_rule_never_hurts(problem, rule):
    """Without one kind of rule the plan is no worse."""
    relaxed = replace(problem, **{rule: None if rule == "budget" else ()})
    assert best(relaxed).solution.value <= best(problem).solution.value + 1
