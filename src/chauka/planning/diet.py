"""The cheapest diet: amounts of foods that reach every floor at the least cost, without dishes or days.

The oldest question of this field, and a check of the nutrition and cost arithmetic: G. J. Stigler,
"The Cost of Subsistence", Journal of Farm Economics 27(2), 1945, 303–314.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from chauka.planning.highs import Lp


@dataclass(frozen=True, slots=True)
class PricedFood:
    """One food: `price` per unit of it and `content` of each nutrient in that unit."""

    name: str
    price: float
    content: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class Diet:
    """The cheapest diet: cost per day, units of each food in it, and what one more unit of each floor would cost."""

    cost: float
    amounts: Mapping[str, float]
    floor_prices: Mapping[str, float]


def cheapest_diet(
    foods: Sequence[PricedFood], floors: Mapping[str, float], ceilings: Mapping[str, float] | None = None
) -> Diet | None:
    """Minimise Σ price·x with Σ content·x ≥ floor (≤ ceiling) for each nutrient; None where no diet reaches them."""
    lp = Lp()
    columns = [lp.column() for _ in foods]
    for column, food in zip(columns, foods, strict=True):
        lp.cost[column] = food.price
    for tag in {**floors, **(ceilings or {})}:
        row = {c: food.content.get(tag, 0.0) for c, food in zip(columns, foods, strict=True)}
        lp.row(tag, floors.get(tag, -math.inf), row, (ceilings or {}).get(tag, math.inf))
    outcome = lp.solve()
    if outcome.values is None:
        return None
    amounts = {f.name: x for f, x in zip(foods, outcome.values, strict=True) if x > 1e-9}
    return Diet(outcome.value, amounts, dict(zip(lp.rules, outcome.duals, strict=True)))
