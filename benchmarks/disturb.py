"""Disturbing a plan of an invented house: what is done stays done, what was bought is in the house, the rest is free.

Everything is said in the planning problem's own terms, so that plan and problem keep their indices:
what may not be any more is a limit of nought, what has been is a locked wish.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from chauka.planning.model import Choice
from chauka.planning.problem import Limit, Problem, Source, Wish

CHANGE = 1_500
"""What a serving that differs from the plan before costs [coin], as `House.weights.change` has it."""


def from_now_on(problem: Problem, plan: Choice, now: int) -> Problem:
    """The problem at slot `now` after following a plan until then; the rest of the plan is a soft wish."""
    was = {e for e in plan.eatings if problem.cookings[problem.eatings[e].cooking].slot < now}
    gone = tuple(
        k
        for k, e in enumerate(problem.eatings)
        if k not in was and (e.slot < now or 0 <= problem.cookings[e.cooking].slot < now)
    )
    return replace(
        problem,
        limits=(*problem.limits, Limit("over", 0, eatings=gone)),
        wishes=tuple(_wish(problem, e, None if e in was else CHANGE) for e in sorted(plan.eatings)),
        sources=tuple(_arrived(s, plan.packs.get(k, 0)) if s.first < now else s for k, s in enumerate(problem.sources)),
        budget=None if problem.budget is None else problem.budget - spent(problem, plan, lambda s: s.first < now),
    )


def _wish(problem: Problem, e: int, weight: int | None) -> Wish:
    eating = problem.eatings[e]
    return Wish(eating.slot, (problem.cookings[eating.cooking].recipe,), weight)


def _arrived(source: Source, packs: int) -> Source:
    """Packs that were bought are a lot; what was not bought cannot be any more."""
    if source.stock:
        return source
    return bought(source, packs) if packs else replace(source, most=0)


def bought(source: Source, packs: int) -> Source:
    """So many packs as a lot that is there."""
    return replace(
        source,
        pack_mg=source.pack_mg * packs,
        price=0,
        worth=source.worth * packs,
        carry=source.carry * packs,
        most=1,
        stock=True,
    )


def spent(problem: Problem, plan: Choice, when: Callable[[Source], bool]) -> int:
    """What a plan pays for the sources that `when` names [coin]."""
    return sum(problem.sources[s].price * n for s, n in plan.packs.items() if when(problem.sources[s]))


def missing(problem: Problem, items: set[int], first: int, until: int) -> Problem:
    """Nothing of these items can be bought from slot `first` up to `until`."""

    def hit(source: Source) -> bool:
        return not source.stock and first <= source.first < until and bool(items & set(source.items))

    return replace(problem, sources=tuple(replace(s, most=0) if hit(s) else s for s in problem.sources))


def dishes_changed(problem: Problem, before: Choice, after: Choice) -> tuple[int, int]:
    """Servings of the plan before that are not in the plan after, and how many there were."""

    def table(choice: Choice) -> set[tuple[int, str]]:
        eaten = (problem.eatings[e] for e in choice.eatings)
        return {(e.slot, problem.recipes[problem.cookings[e.cooking].recipe].name) for e in eaten}

    old = table(before)
    return len(old - table(after)), len(old)
