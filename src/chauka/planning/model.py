"""The whole model: columns, rules and objective put together, and answers read back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from types import MappingProxyType

from chauka.planning.constraints import add_constraints
from chauka.planning.highs import Lp
from chauka.planning.objective import Price, add_caps, prices, set_objective
from chauka.planning.problem import Problem, Term
from chauka.planning.variables import Variables, add_variables


@dataclass(frozen=True, slots=True)
class Choice:
    """The whole-number decisions: cookings and eatings that happen, packs bought of each source."""

    cookings: frozenset[int]
    eatings: frozenset[int]
    packs: Mapping[int, int]


@dataclass(frozen=True, slots=True)
class Solution:
    """An answer to a problem.

    `left_mg` is what stays in each source, `empty` the (slot, position) pairs not filled, `shares`
    the intake ÷ amount of each target, `terms` the parts of `value` [coin].
    """

    choice: Choice
    left_mg: tuple[float, ...]
    empty: tuple[tuple[int, int], ...]
    shares: tuple[float, ...]
    terms: Mapping[Term, float]
    value: float
    columns: tuple[float, ...]


class Model:
    """One problem as a linear programme with whole numbers."""

    def __init__(self, problem: Problem) -> None:
        self.problem, self.lp = problem, Lp()
        self.v: Variables = add_variables(self.lp, problem)
        add_constraints(self.lp, problem, self.v)
        self.prices: dict[Term, Price] = prices(problem, self.v)
        set_objective(self.lp, self.prices)
        add_caps(self.lp, problem, self.prices)

    @cached_property
    def whole_columns(self) -> tuple[int, ...]:
        """Columns that must be whole numbers."""
        return tuple(k for k, whole in enumerate(self.lp.whole) if whole)

    def complete(self, choice: Choice) -> Solution | None:
        """Give a choice its best flows; None where the choice breaks a rule."""
        lower, upper = list(self.lp.lower), list(self.lp.upper)
        wanted = self._whole_values(choice)
        for column in self.whole_columns:
            value = wanted.get(column, 0.0)
            if not lower[column] <= value <= upper[column]:
                return None
            lower[column] = upper[column] = value
        outcome = self.lp.solve(relax=True, bounds=(lower, upper))
        return self.read(outcome.values) if outcome.values else None

    def read(self, values: tuple[float, ...]) -> Solution:
        """Turn column values into a solution."""
        v, problem = self.v, self.problem
        choice = Choice(
            cookings=frozenset(c for c, column in enumerate(v.cook) if values[column] > 0.5),
            eatings=frozenset(e for e, column in enumerate(v.eat) if values[column] > 0.5),
            packs={s: round(values[n]) for s, n in enumerate(v.packs) if n is not None and values[n] > 0.5},
        )
        terms = {term: price.of(values) for term, price in self.prices.items()}
        return Solution(
            choice=choice,
            left_mg=tuple(1000 * values[column] for column in v.left),
            empty=tuple(key for key, column in v.empty.items() if values[column] > 0.5),
            shares=tuple(self._share(t, values) for t in range(len(problem.targets))),
            terms=MappingProxyType(terms),
            value=sum(terms.values()),
            columns=values,
        )

    def without_spare_packs(self, solution: Solution) -> Solution:
        """The same plan without packs that nobody opens; they cost nothing where what is left is worth its price."""
        packs, left = dict(solution.choice.packs), list(solution.left_mg)
        for s, source in enumerate(self.problem.sources):
            spare = min(packs.get(s, 0), int((left[s] + 1) // source.pack_mg))
            if spare and self.problem.outlives(source) and source.carry >= source.price:
                packs[s] -= spare
                left[s] -= spare * source.pack_mg
        choice = replace(solution.choice, packs={s: n for s, n in packs.items() if n})
        return replace(solution, choice=choice, left_mg=tuple(left))

    def _share(self, index: int, values: tuple[float, ...]) -> float:
        target = self.problem.targets[index]
        total = sum(
            values[column]
            for (nutrient, eaters), column in self.v.total.items()
            if nutrient == target.nutrient and target.eater in eaters
        )
        return total * 10 * target.portion / target.amount

    def _whole_values(self, choice: Choice) -> dict[int, float]:
        v = self.v
        out = {v.cook[c]: 1.0 for c in choice.cookings} | {v.eat[e]: 1.0 for e in choice.eatings}
        for s, count in choice.packs.items():
            column = v.packs[s]
            if column is not None:
                out[column] = float(count)
        return out
