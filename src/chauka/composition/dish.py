"""Nutrients of a dish: edible grams × table value × retention, over the cooked weight, with their spread.

The mixed method of FAO/INFOODS: yield at the level of the dish, retention at the level of the line.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

import numpy as np
import numpy.typing as npt

from chauka import tables
from chauka.composition.amount import Amount
from chauka.composition.flow import WATER_FOODS, Passage, passages
from chauka.composition.frying import UPTAKE, as_eaten
from chauka.composition.learned import Factors
from chauka.composition.matrix import Array, Composition, Mask, composition
from chauka.composition.retention import VITAMINS_NOT_COVERED, Retention, alcohol_left, retention, vectors
from chauka.composition.weight import CookedWeight, Weighed, WeightBasis, cooked_weight, water_share
from chauka.kitchen import Dish, Line
from chauka.units import Estimate

_MATTERS = 0.02  # what is unknown counts as mattering if it may add 2 % to what is known; policy


@dataclass(frozen=True, slots=True)
class DishNutrients:
    """What a dish holds: in all, per 100 g as eaten, and per adult portion, by nutrient tag.

    `raw_g` is what goes in and is eaten, `cooked_g` what comes out; `weight_basis` and, in words, `how` say how that
    was found; `notes` say what is not covered.
    """

    dish: str
    portions: float
    raw_g: Estimate
    cooked_g: Estimate
    weight_basis: WeightBasis
    how: str
    total: Mapping[str, Amount]
    per_100g: Mapping[str, Amount]
    per_portion: Mapping[str, Amount]
    notes: tuple[str, ...]

    @property
    def portion_g(self) -> Estimate:
        """Weight of one adult portion [g]."""
        return self.cooked_g / self.portions


@dataclass(frozen=True, slots=True)
class Mix:
    """The arrays behind a dish, lines by nutrients: what each line gives, and its variance by cause."""

    lines: tuple[Line, ...]
    retentions: tuple[Retention, ...]
    factor: Array
    given: Array
    var_grams: Array
    var_table: Array
    var_retention: Array
    unknown: Mask
    at_most: Array

    @property
    def variance(self) -> Array:
        """Variance of what each line gives."""
        return self.var_grams + self.var_table + self.var_retention


def dish_nutrients(
    dish: Dish, *, factors: Factors = Factors.LEARNED, weighed_before: Sequence[Weighed] = ()
) -> DishNutrients:
    """Nutrients of a dish as its lines and steps stand.

    `factors` chooses between learned and published factors; `weighed_before` are cooked weights of
    earlier batches, as the ledger has them.

    Raises `DataError` for a food that no table has. A nutrient that a line's food may hold and no
    table gives makes the amount "at least", unless it could not add 2 % to the rest.
    """
    written, dish = dish, as_eaten(dish)
    heated = passages(dish)
    weight = cooked_weight(dish, heated, factors=factors, weighed_before=weighed_before)
    table, mixed = composition(), mix(dish, heated, factors)
    total = _totals(table, mixed) | {"WATER": _water(dish, table, mixed, weight)}
    cooked, sd = weight.cooked_g.mean / 100, weight.cooked_g.sd / 100
    return DishNutrients(
        dish=dish.id,
        portions=dish.portions,
        raw_g=weight.raw_g,
        cooked_g=weight.cooked_g,
        weight_basis=weight.basis,
        how=weight.how,
        total=MappingProxyType(total),
        per_100g=MappingProxyType({t: a.over(cooked, sd) for t, a in total.items()} if cooked else {}),
        per_portion=MappingProxyType({t: a * (1 / dish.portions) for t, a in total.items()}),
        notes=_notes(mixed, heated, written),
    )


def mix(dish: Dish, heated: Mapping[str, Passage] | None = None, factors: Factors = Factors.LEARNED) -> Mix:
    """Work out what each line gives of each nutrient, and how sure that is."""
    ways = passages(dish) if heated is None else heated
    table = composition()
    rows = table.rows([line.food for line in dish.lines])
    kept = tuple(retention(ways[line.id], factors) for line in dish.lines)
    factor = np.array([vectors(r, table.tags)[0] for r in kept])
    factor_sd = np.array([vectors(r, table.tags)[1] for r in kept])
    eaten = np.array([[line.eaten_share / 100] for line in dish.lines])
    grams = np.array([[line.grams.mean] for line in dish.lines]) * eaten
    grams_sd = np.array([[line.grams.sd] for line in dish.lines]) * eaten
    mean, sd, known = table.mean[rows], table.sd[rows], table.known[rows]
    unweighed = np.array([[is_unweighed(line)] for line in dish.lines])
    return Mix(
        lines=dish.lines,
        retentions=kept,
        factor=factor,
        given=cooked_amount(grams, mean, factor),
        var_grams=(grams_sd * mean * factor) ** 2,
        var_table=(grams * sd * factor) ** 2,
        var_retention=(grams * mean * factor_sd) ** 2,
        unknown=((grams > 0) & ~known) | (unweighed & (~known | (mean > 0))),
        at_most=at_most(grams, table, rows, unweighed),
    )


def is_unweighed(line: Line) -> bool:
    """Whether nobody knows how much goes in: salt to taste, with no amount."""
    return line.to_taste and line.grams.mean == 0 and line.eaten_share > 0


def at_most(grams: Array, table: Composition, rows: npt.NDArray[np.intp], unweighed: Mask) -> Array:
    """What the unknown of each line may add at most; no bound where nobody knows how much goes in."""
    with np.errstate(invalid="ignore"):
        bound = np.where(grams > 0, grams * table.most[rows], 0.0)
    return np.where(unweighed & (~table.known[rows] | (table.mean[rows] > 0)), np.inf, bound)


def matters(unknown: Array, known: Array) -> Mask:
    """Whether what is unknown might add enough to be told."""
    found: Mask = unknown > _MATTERS * known
    return found


def cooked_amount(grams: Array, per_gram: Array, factor: Array) -> Array:
    """Grams × content × retention: the one formula everything here rests on."""
    return grams * per_gram * factor


def _totals(table: Composition, mixed: Mix) -> dict[str, Amount]:
    known, variance = mixed.given.sum(axis=0), mixed.variance.sum(axis=0)
    unknown = mixed.at_most.sum(axis=0)
    told = matters(unknown, known)
    small = np.where(told, 0.0, unknown)
    sd = np.sqrt(variance + (small / 2) ** 2)
    codes = [line.food for line in mixed.lines]
    totals = {}
    for t, tag in enumerate(table.tags):
        here = mixed.unknown[:, t]
        missing = tuple(dict.fromkeys(codes[i] for i in np.flatnonzero(here))) if here.any() else ()
        totals[tag] = Amount(float(known[t]), float(sd[t]), bool(told[t]) and bool(missing), missing)
    return totals


def _water(dish: Dish, table: Composition, mixed: Mix, weight: CookedWeight) -> Amount:
    """Water of the finished dish: what is not dry matter; weight that is lost in cooking is water."""
    dry = sum(line.grams.mean * line.eaten_share * (1 - water_share(line.food)) for line in dish.lines)
    at = table.tags.index("WATER")
    sd = float(np.sqrt(mixed.var_table[:, at].sum() + weight.cooked_g.sd**2))
    return Amount(max(0.0, weight.cooked_g.mean - dry), sd)


def _notes(mixed: Mix, heated: Mapping[str, Passage], written: Dish) -> tuple[str, ...]:
    notes = []
    kept = sorted(t for t in _NOT_COVERED if any(r.codes and not r.learns(t) for r in mixed.retentions))
    if kept:
        rest = ", ".join(tables.NUTRIENTS[t].name for t in kept)
        notes.append(f"No published loss in cooking for {rest}: counted as kept.")
    pairs = [(x, r) for x, r in zip(mixed.lines, mixed.retentions, strict=True) if x.food not in WATER_FOODS]
    bare = [line.said for line, r in pairs if r.how == "no published retention"]
    if bare:
        notes.append(f"No published loss in cooking for {', '.join(dict.fromkeys(bare))}: counted as kept.")
    for line, as_written in zip(mixed.lines, written.lines, strict=True):
        minutes = sum(step.minutes.mid for step in heated[line.id].heated_by)
        if minutes and "alcohol" in tables.traits(line.food):
            left = alcohol_left(minutes)
            notes.append(f"{left:.0%} of the alcohol of {line.said} is left (USDA Release 6); its energy is not cut.")
        if line.eaten_share < as_written.eaten_share:
            eaten = line.grams.mean * line.eaten_share
            notes.append(f"{eaten:.0f} g of {line.said} are taken as eaten: {UPTAKE.mean:.0%} of what is fried in it.")
    return tuple(notes)


_NOT_COVERED = VITAMINS_NOT_COVERED | {"MN", "SE"}
