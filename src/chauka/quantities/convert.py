"""An amount in words → grams with their spread, and the reason."""

from __future__ import annotations

import math
from dataclasses import dataclass

from chauka import tables
from chauka.errors import DataError, InputError
from chauka.quantities.amount import Amount, read_amount
from chauka.quantities.units import MASSES, VOLUMES, Measures, Unit, volume_ml
from chauka.quantities.weights import Weight, Weights, density, household_weights, piece, usable_units
from chauka.units import Estimate

_SCALE_SD_G, _SCALE_CV = 0.5, 0.01  # a kitchen scale that shows whole grams; common practice, no source
_HOUSE_PIECE_CV = 0.10  # this house's medium against the table's, the same for every piece; no source
_PINCH_DENSITY = Estimate(0.7, 0.25)  # powders and salts run from 0.4 to 1.2 g/ml
_FISTFUL_ML = Estimate(60.0, 20.0)  # of grain or pulse; common practice, no source


@dataclass(frozen=True, slots=True)
class Weighed:
    """Grams, and how they were found."""

    grams: Estimate
    how: str


def grams(amount: str, food_code: str, form: str, measures: Measures, *, weights: Weights | None = None) -> Estimate:
    """The edible grams that `amount` of a food in a form is, mean ± sd.

    `amount` is as a cook writes it ("1½ cups", "3–4 medium", "a pinch"); `form` a word of the form
    list; `measures` the house's cup and spoons; `weights` replaces the packaged table. Raises
    `InputError` where the words cannot be read or the unit cannot become grams for this food, with
    the units that can.
    """
    return weigh(amount, food_code, form, measures, weights=weights).grams


def purchased_grams(amount: str, food_code: str, measures: Measures, *, weights: Weights | None = None) -> Estimate:
    """The grams as purchased, with what will be thrown away, that `amount` of a whole food is.

    What is weighed is taken as it is; what is counted or measured is the table's edible weight over
    the edible share of the food, or that weight itself where nobody says what is thrown away.
    """
    parts = []
    for part in read_amount(amount):
        edible = grams(str(part), food_code, "whole", measures, weights=weights)
        share = None if part.unit in MASSES else tables.edible_fraction(food_code)
        parts.append(edible if share is None else Estimate(edible.mean / share.mean, _over(edible, share)))
    return Estimate.total(parts)


def _over(edible: Estimate, share: Estimate) -> float:
    return edible.mean / share.mean * math.hypot(edible.cv if edible.mean else 0.0, share.cv)


def weigh(amount: str, food_code: str, form: str, measures: Measures, *, weights: Weights | None = None) -> Weighed:
    """As `grams`, with the row and the source that were used."""
    rows = (household_weights() if weights is None else weights).get(food_code, ())
    parts = [_weigh_one(part, food_code, form, measures, rows) for part in read_amount(amount)]
    return Weighed(Estimate.total([p.grams for p in parts]), "; ".join(dict.fromkeys(p.how for p in parts)))


def _weigh_one(part: Amount, food_code: str, form: str, measures: Measures, rows: tuple[Weight, ...]) -> Weighed:
    if part.unit in MASSES:
        return _on_the_scale(part)
    found = _one(part, form, measures, rows)
    if found is None:
        raise InputError({"amount": (_cannot(part, food_code, rows),)})
    one, how, counted = found
    if counted:
        return Weighed(_counted(part, one), how)
    return Weighed(_ranged(part, one), how)


def _on_the_scale(part: Amount) -> Weighed:
    per_unit = 1000.0 if part.unit is Unit.KILOGRAM else 1.0
    mean, half = part.mid * per_unit, float(part.high - part.low) / 2 * per_unit
    sd = math.sqrt((_SCALE_SD_G**2 + (_SCALE_CV * mean) ** 2 if mean else 0.0) + half**2 / 3)
    return Weighed(Estimate(mean, sd), "weighed")


def _one(part: Amount, form: str, measures: Measures, rows: tuple[Weight, ...]) -> tuple[Estimate, str, bool] | None:
    """The weight of one unit, how it was found, and whether it is a piece that is counted."""
    if found := piece(rows, part.unit, part.size, form):
        return (*found, part.unit is not Unit.PINCH)
    dense = density(rows, form)
    if part.unit is Unit.PINCH:
        per_ml, source = dense or (_PINCH_DENSITY, "a pinch of any powder, common practice, no source")
        return volume_ml(Unit.PINCH, measures) * per_ml, source, False
    if dense and part.unit in VOLUMES:
        return volume_ml(part.unit, measures) * dense[0], dense[1], False
    if dense and part.unit is Unit.FISTFUL and form == "dry":
        return _FISTFUL_ML * dense[0], f"a fistful of 40–80 ml, no source; {dense[1]}", False
    return None


def _ranged(part: Amount, one: Estimate) -> Estimate:
    """So many of a measure that errs the same way each time; a range counts as evenly likely."""
    half = float(part.high - part.low) / 2
    return one * Estimate(part.mid, half / math.sqrt(3))


def _counted(part: Amount, one: Estimate) -> Estimate:
    """So many pieces: their own spread evens out, the house's idea of a medium one does not."""
    n, half = part.mid, float(part.high - part.low) / 2
    own = one.sd * (math.sqrt(n) if n > 1 else n)
    mean = n * one.mean
    return Estimate(mean, math.sqrt(own**2 + (_HOUSE_PIECE_CV * mean) ** 2 + (half * one.mean) ** 2 / 3))


def _cannot(part: Amount, food_code: str, rows: tuple[Weight, ...]) -> str:
    try:
        name = tables.food(food_code).name
    except DataError:
        name = "this food"
    units = ", ".join(usable_units(rows))
    return f"{part} of {name} ({food_code}) cannot become grams: no table gives its weight; write it in {units}"
