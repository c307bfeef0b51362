"""A problem with nothing in it but one choice: small enough to be worked out at once, however large the book."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace

from chauka.planning.model import Choice, Model, Solution
from chauka.planning.problem import Problem


def worked_out(problem: Problem, choice: Choice) -> Solution | None:
    """A choice with its best flows, without the columns of the whole model; None where it breaks a rule."""
    small, inside = narrow(problem, choice)
    solution = Model(small).complete(inside)
    return replace(solution, choice=choice, columns=()) if solution else None


def narrow(problem: Problem, choice: Choice) -> tuple[Problem, Choice]:
    """The problem with only these cookings and eatings, and the choice in its numbers."""
    cookings = {c: k for k, c in enumerate(sorted(choice.cookings))}
    eatings = {e: k for k, e in enumerate(sorted(choice.eatings))}
    small = replace(
        problem,
        cookings=tuple(problem.cookings[c] for c in cookings),
        eatings=tuple(replace(problem.eatings[e], cooking=cookings[problem.eatings[e].cooking]) for e in eatings),
        limits=tuple(
            replace(limit, cookings=_kept(limit.cookings, cookings), eatings=_kept(limit.eatings, eatings))
            for limit in problem.limits
            if not (eatings.keys().isdisjoint(limit.eatings) and cookings.keys().isdisjoint(limit.cookings))
        ),
        among=tuple(
            replace(among, groups=tuple(_kept(group, cookings) for group in among.groups)) for among in problem.among
        ),
        loads=tuple(
            replace(load, uses=tuple((cookings[c], amount) for c, amount in load.uses if c in cookings))
            for load in problem.loads
        ),
    )
    return small, Choice(frozenset(cookings.values()), frozenset(eatings.values()), choice.packs)


def _kept(indices: Iterable[int], new: Mapping[int, int]) -> tuple[int, ...]:
    return tuple(new[k] for k in indices if k in new)
