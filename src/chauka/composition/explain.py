"""Where a nutrient of a dish comes from: line by line, with the table row, the retention row and the doubt."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from chauka import tables
from chauka.composition.amount import Amount
from chauka.composition.dish import DishNutrients, mix
from chauka.composition.frying import as_eaten
from chauka.composition.learned import Factors
from chauka.composition.matrix import FREE_SUGARS, composition, free_sugars
from chauka.composition.retention import description
from chauka.errors import DataError
from chauka.kitchen import Dish
from chauka.tables import Value
from chauka.units import Estimate


@dataclass(frozen=True, slots=True)
class WhyRow:
    """One line's part in one nutrient of the whole dish.

    `value` is the table's, per 100 g; `retention` names the published rows whose factors give
    `factor`, and `basis` says whether it was learned or published; `given` is the line's
    contribution; the three doubts are its standard deviation by cause; `doubt_share` is its part of
    the dish's variance.
    """

    line: str
    food: str
    name: str
    table: str
    grams: Estimate
    value: Value
    retention: str
    codes: tuple[int, ...]
    factor: float
    given: Amount
    doubt_grams: float
    doubt_table: float
    doubt_retention: float
    doubt_share: float
    basis: str = ""


def why(dish: Dish, tag: str, factors: Factors = Factors.LEARNED) -> tuple[WhyRow, ...]:
    """The lines of a dish by what they give of a nutrient, the largest first.

    Raises `DataError` for a tag that no table carries.
    """
    mixed = mix(as_eaten(dish), factors=factors)
    at = composition().tags.index(tag) if tag in composition().tags else _unknown(tag)
    whole = float(mixed.variance[:, at].sum())
    rows = []
    for i, (line, kept) in enumerate(zip(mixed.lines, mixed.retentions, strict=True)):
        food = tables.food(line.food)
        unknown = bool(mixed.unknown[i, at])
        variance = float(mixed.variance[i, at])
        rows.append(
            WhyRow(
                line=line.id,
                food=food.code,
                name=food.name,
                table=food.source,
                grams=line.grams * line.eaten_share,
                value=free_sugars(food) if tag == FREE_SUGARS else food.value(tag),
                retention="; ".join(description(c) for c in kept.codes) or kept.how,
                codes=kept.codes,
                factor=float(mixed.factor[i, at]),
                given=Amount(float(mixed.given[i, at]), variance**0.5, unknown, (food.code,) if unknown else ()),
                doubt_grams=float(np.sqrt(mixed.var_grams[i, at])),
                doubt_table=float(np.sqrt(mixed.var_table[i, at])),
                doubt_retention=float(np.sqrt(mixed.var_retention[i, at])),
                doubt_share=variance / whole if whole else 0.0,
                basis=kept.basis(tag),
            )
        )
    return tuple(sorted(rows, key=lambda r: (-r.given.mean, not r.given.at_least)))


@dataclass(frozen=True, slots=True)
class Doubt:
    """What an amount per 100 g is unsure of: shares of its variance by cause, adding up to 1; all 0 where it is sure.

    `unknown` is what foods without a figure may hold, too little to be told.
    """

    grams: float
    table: float
    retention: float
    unknown: float
    cooked_weight: float


def doubt(dish: Dish, found: DishNutrients, tag: str, factors: Factors = Factors.LEARNED) -> Doubt:
    """Where the spread of a nutrient per 100 g comes from; `found` is what was worked out for the dish.

    Raises `DataError` for a tag that no table carries. Water is not a sum over lines: its spread is not parted well.
    """
    at = composition().tags.index(tag) if tag in composition().tags else _unknown(tag)
    mixed = mix(as_eaten(dish), factors=factors)
    total = found.total[tag]
    by_cause = [float(part[:, at].sum()) for part in (mixed.var_grams, mixed.var_table, mixed.var_retention)]
    by_cause.append(max(0.0, total.sd**2 - sum(by_cause)))
    by_cause.append((total.mean * found.cooked_g.cv) ** 2 if found.cooked_g.mean else 0.0)
    whole = sum(by_cause)
    return Doubt(*(part / whole if whole else 0.0 for part in by_cause))


def _unknown(tag: str) -> int:
    raise DataError(f"{tag!r} is not worked out for dishes; those that are: {', '.join(composition().tags)}")
