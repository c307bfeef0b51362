"""One wish after the other: what comes first in the house's order is made as good as it can be, then the next.

Each wish is minimised with those before it held at what they reached and a tolerance; the rest of the
objective counts little meanwhile, and fully at the end. Positions that stay empty come first always:
who eats nothing wastes nothing.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from chauka.errors import InputError
from chauka.kitchen import Stage, Weights
from chauka.planning.model import Model, Solution
from chauka.planning.problem import Cap, Place, Problem, Source, Term
from chauka.planning.solve import Cancel, Early, Progress, Result, solve

FOCUS = 50
"""How many times as much as usual the wish counts that has its turn."""

FIRST_SHARE = 0.4
"""Share of the time for the weighted plan from which the wishes begin, and which gives the bound."""

LEAST_SLACK = 100.0
"""What was reached may always be given up by so much [coin]: a plan's parts come in packs."""


@dataclass(frozen=True, slots=True)
class InOrder:
    """The result, and what each wish reached in its turn."""

    result: Result
    stages: tuple[Stage, ...]


def read_order(names: Iterable[str]) -> tuple[Term, ...]:
    """The wishes of a house in their order, empty positions before all; an `InputError` names what is unknown."""
    known = {term.value: term for term in Term}
    order = list[Term]()
    for name in names:
        if name not in known:
            raise InputError({"order": (f"{name!r} is nothing that a plan minds; name some of {', '.join(known)}",)})
        if known[name] not in order:
            order.append(known[name])
    return (Term.MISSED, *(term for term in order if term is not Term.MISSED)) if order else ()


def solve_for(
    problem: Problem,
    weights: Weights,
    *,
    seconds: float,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    early: Early | None = None,
) -> InOrder:
    """Solve as the house wants it: everything weighed together, or one wish after the other."""
    order = read_order(weights.order)
    if not order:
        return InOrder(solve(problem, seconds=seconds, progress=progress, cancel=cancel, early=early), ())
    return solve_in_order(
        problem, order, weights.order_tolerance, seconds=seconds, progress=progress, cancel=cancel, early=early
    )


def solve_in_order(
    problem: Problem,
    order: Sequence[Term],
    tolerance: float,
    *,
    seconds: float,
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    early: Early | None = None,
) -> InOrder:
    """Search for about `seconds` [s]; later wishes may worsen earlier ones by the share `tolerance`."""
    began = time.monotonic()
    first = solve(problem, seconds=FIRST_SHARE * seconds, progress=progress, cancel=cancel, early=early)
    model, best, caps, stages = Model(problem), first.solution, list[Cap](), list[Stage]()
    share = (1 - FIRST_SHARE) * seconds / (len(order) + 1)
    for term in order:
        held = replace(problem, caps=tuple(caps))
        best = _kept(model, solve(stressed(held, term), seconds=share, cancel=cancel, start=best.choice).solution)
        reached = best.terms[term]
        caps.append(Cap(term, reached + max(LEAST_SLACK, tolerance * abs(reached))))
        stages.append(Stage(term.value, reached, least(held, term)))
    last = solve(replace(problem, caps=tuple(caps)), seconds=share, cancel=cancel, start=best.choice)
    best = model.without_spare_packs(_kept(model, last.solution))
    status = "cancelled" if last.status == "cancelled" else "one wish after the other"
    result = replace(last, solution=best, bound=first.bound, seconds=time.monotonic() - began, status=status)
    return InOrder(replace(result, first_seconds=first.first_seconds), tuple(stages))


def _kept(model: Model, solution: Solution) -> Solution:
    """The same answer, priced as the house prices it: caps add rows, not columns."""
    return model.read(solution.columns)


def least(problem: Problem, term: Term) -> float:
    """What no plan that keeps the caps can be below in one term: the linear relaxation."""
    model = Model(problem)
    model.lp.cost = [model.prices[term].per.get(k, 0.0) for k in range(len(model.lp.cost))]
    model.lp.offset = model.prices[term].constant
    outcome = model.lp.solve(relax=True)
    return outcome.value if outcome.values else 0.0


def stressed(problem: Problem, term: Term, times: int = FOCUS) -> Problem:
    """The problem with one term counting so many times as much."""
    return _STRESS[term](problem, term, times)


def _waste(problem: Problem, _: Term, times: int) -> Problem:
    return replace(problem, waste_percent=problem.waste_percent * times)


def _money(problem: Problem, _: Term, times: int) -> Problem:
    budget = None if problem.budget is None else problem.budget * times
    return replace(problem, sources=tuple(_dearer(s, times) for s in problem.sources), budget=budget)


def _adequacy(problem: Problem, term: Term, times: int) -> Problem:
    floor = term is Term.SHORTFALL
    targets = tuple(replace(t, weight=t.weight * times) if t.floor is floor else t for t in problem.targets)
    return replace(problem, targets=targets)


def _repetition(problem: Problem, _: Term, times: int) -> Problem:
    limits = tuple(x if x.weight is None else replace(x, weight=x.weight * times) for x in problem.limits)
    return replace(problem, limits=limits, among=tuple(replace(x, weight=x.weight * times) for x in problem.among))


def _minutes(problem: Problem, _: Term, times: int) -> Problem:
    return replace(problem, minute_cost=problem.minute_cost * times)


def _change(problem: Problem, _: Term, times: int) -> Problem:
    wishes = tuple(w if w.weight is None else replace(w, weight=w.weight * times) for w in problem.wishes)
    return replace(problem, wishes=wishes)


def _missed(problem: Problem, term: Term, times: int) -> Problem:
    slots = tuple(replace(s, places=tuple(_emptier(p, term, times) for p in s.places)) for s in problem.slots)
    return replace(problem, slots=slots)


def _liking(problem: Problem, term: Term, times: int) -> Problem:
    eatings = tuple(replace(e, liking=e.liking * times) for e in problem.eatings)
    return replace(_missed(problem, term, times), eatings=eatings)


def _dearer(source: Source, times: int) -> Source:
    return replace(source, price=source.price * times, carry=source.carry * times)


def _emptier(place: Place, term: Term, times: int) -> Place:
    return replace(place, empty=place.empty * times) if place.term is term else place


_STRESS: Mapping[Term, Callable[[Problem, Term, int], Problem]] = {
    Term.WASTE: _waste,
    Term.MONEY: _money,
    Term.SHORTFALL: _adequacy,
    Term.EXCESS: _adequacy,
    Term.REPETITION: _repetition,
    Term.LIKING: _liking,
    Term.MINUTES: _minutes,
    Term.MISSED: _missed,
    Term.CHANGE: _change,
}
