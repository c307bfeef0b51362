"""What the house minds: one small function per term, each a price on some columns."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable
from dataclasses import dataclass, field

from chauka.planning.highs import Lp
from chauka.planning.problem import Problem, Term
from chauka.planning.variables import Variables

MG_PER_G = 1000


@dataclass(slots=True)
class Price:
    """One term: a price per unit of each column, and a constant [coin]."""

    per: defaultdict[int, float] = field(default_factory=lambda: defaultdict(float))
    constant: float = 0.0

    def of(self, values: tuple[float, ...]) -> float:
        """What the term comes to for an answer."""
        return self.constant + sum(price * values[column] for column, price in self.per.items())


def prices(problem: Problem, v: Variables) -> dict[Term, Price]:
    """All terms; the objective is their sum."""
    out = {term: Price() for term in Term}
    for function in _FUNCTIONS:
        function(out, problem, v)
    return out


def set_objective(lp: Lp, terms: dict[Term, Price]) -> None:
    """Charge the columns."""
    for price in terms.values():
        lp.offset += price.constant
        for column, per_unit in price.per.items():
            lp.cost[column] += per_unit


def add_caps(lp: Lp, problem: Problem, terms: dict[Term, Price]) -> None:
    """Σ price · column + constant ≤ cap, for each term that may not grow further."""
    for cap in problem.caps:
        lp.row(f"cap on {cap.term}", -math.inf, terms[cap.term].per, cap.at_most - terms[cap.term].constant)


def money(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """What is spent, less what is still good at the end, plus what was taken from the cupboard's long-lived stock."""
    term = out[Term.MONEY]
    for s, source in enumerate(problem.sources):
        packs = v.packs[s]
        if packs is not None:
            term.per[packs] += source.price
        if problem.outlives(source):
            term.per[v.left[s]] -= source.carry * MG_PER_G / source.pack_mg
            term.constant += source.carry if source.stock else 0


def waste(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """What is left in a source whose life ends within the horizon, at its worth times the house's weight."""
    term = out[Term.WASTE]
    for s, source in enumerate(problem.sources):
        if not problem.outlives(source):
            term.per[v.left[s]] += problem.waste_percent / 100 * source.worth * MG_PER_G / source.pack_mg
    for c, column in v.ready_left.items():
        cooking = problem.cookings[c]
        term.per[column] += problem.waste_percent / 100 * cooking.worth / (cooking.ready or 1)


def adequacy(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """Per cents short of a floor and above a ceiling."""
    for t, target in enumerate(problem.targets):
        out[Term.SHORTFALL if target.floor else Term.EXCESS].per[v.off_target[t]] += target.weight


def repetition(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """Soft limits overstepped and variety not reached."""
    for k, column in v.over.items():
        out[Term.REPETITION].per[column] += problem.limits[k].weight or 0
    for a, column in enumerate(v.lacking):
        out[Term.REPETITION].per[column] += problem.among[a].weight


def liking(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """Points of liking given away."""
    for k, e in enumerate(problem.eatings):
        out[Term.LIKING].per[v.eat[k]] += e.liking


def work(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """Hands-on minutes, whenever they fall."""
    term = out[Term.MINUTES]
    for c, cooking in enumerate(problem.cookings):
        term.per[v.cook[c]] += problem.minute_cost * (cooking.minutes + cooking.before_minutes)
    for k, e in enumerate(problem.eatings):
        term.per[v.eat[k]] += problem.minute_cost * (e.minutes + e.cook_minutes)


def empty_positions(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """Positions that stay empty, each under its own term."""
    for (s, p), column in v.empty.items():
        place = problem.slots[s].places[p]
        out[place.term].per[column] += place.empty


def change(out: dict[Term, Price], problem: Problem, v: Variables) -> None:
    """Wishes not met."""
    for w, column in v.unmet.items():
        out[Term.CHANGE].per[column] += problem.wishes[w].weight or 0


_FUNCTIONS: tuple[Callable[[dict[Term, Price], Problem, Variables], None], ...] = (
    money, waste, adequacy, repetition, liking, work, empty_positions, change,
)  # fmt: skip
