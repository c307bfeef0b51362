"""Grams → the household measure a cook would take, with the grams beside it."""

from __future__ import annotations

from fractions import Fraction

from chauka.quantities.amount import Amount
from chauka.quantities.units import COUNTS, Measures, Unit, volume_ml
from chauka.quantities.weights import Weight, Weights, density, household_weights, piece
from chauka.units import Estimate

_QUARTERS = tuple(Fraction(n, 4) for n in range(1, 4))
_THIRDS = (Fraction(1, 3), Fraction(2, 3))
_STEPS = {
    Unit.CUP: (*_QUARTERS, *_THIRDS),
    Unit.TABLESPOON: (Fraction(1, 2),),
    Unit.TEASPOON: (Fraction(1, 8), *_QUARTERS),
}
_LEAST = {Unit.CUP: Fraction(1, 4), Unit.TABLESPOON: Fraction(1), Unit.TEASPOON: Fraction(1, 8)}
_COUNTED_FORMS = frozenset({"whole", "picked", "washed", "peeled", "cut"})
_MOST_COUNTED = 12  # nobody counts more
_CLOSE = 0.12  # a household measure that is further off than this is not offered


def show(
    grams: float | Estimate, food_code: str, form: str, measures: Measures, *, weights: Weights | None = None
) -> str:
    """As in "½ cup (46 g)": the household measure within 12 % of the weight, else grams alone."""
    mass_g = grams.mean if isinstance(grams, Estimate) else grams
    rows = (household_weights() if weights is None else weights).get(food_code, ())
    household = household_amount(mass_g, form, measures, rows)
    return f"{household} ({grams_text(mass_g)})" if household else grams_text(mass_g)


def grams_text(mass_g: float) -> str:
    """Grams to a kitchen scale's fineness, kilograms from 1 kg."""
    if round(mass_g) >= 1000:
        return f"{mass_g / 1000:.2f}".rstrip("0").rstrip(".") + " kg"
    return f"{mass_g:.0f} g" if mass_g >= 10 else f"{mass_g:.1f}".removesuffix(".0") + " g"


def household_amount(mass_g: float, form: str, measures: Measures, rows: tuple[Weight, ...]) -> Amount | None:
    """The nearest count of pieces or bunches, or the nearest cups, tablespoons or teaspoons, in kitchen fractions.

    Whole food is counted first, food that pours or heaps is measured first.
    """
    if mass_g <= 0:
        return None
    ways = (_counted, _measured) if form in _COUNTED_FORMS else (_measured, _counted)
    for way in ways:
        if amount := way(mass_g, form, measures, rows):
            return amount
    return None


def _counted(mass_g: float, form: str, _measures: Measures, rows: tuple[Weight, ...]) -> Amount | None:
    for unit in sorted({w.measure.unit for w in rows if w.measure.unit in COUNTS and not w.ml}, key=list(Unit).index):
        found = piece(rows, unit, None, form)
        if found and mass_g <= _MOST_COUNTED * found[0].mean:
            amount = _near(mass_g, found[0].mean, unit, (Fraction(1, 2),), Fraction(1, 2))
            if amount:
                return amount
    return None


def _measured(mass_g: float, form: str, measures: Measures, rows: tuple[Weight, ...]) -> Amount | None:
    dense = density(rows, form)
    if dense is None:
        return None
    for unit, parts in _STEPS.items():
        one_g = volume_ml(unit, measures).mean * dense[0].mean
        if amount := _near(mass_g, one_g, unit, parts, _LEAST[unit]):
            return amount
    return None


def _near(mass_g: float, one_g: float, unit: Unit, parts: tuple[Fraction, ...], least: Fraction) -> Amount | None:
    """The kitchen fraction of `unit` nearest to the mass, if it is near enough."""
    whole = Fraction(int(mass_g / one_g))
    parted = (Fraction(0), Fraction(1), *parts)
    choices = [whole + p for p in parted if whole + p >= least]
    best = min(choices or [least], key=lambda n: abs(float(n) * one_g - mass_g))
    if abs(float(best) * one_g - mass_g) > _CLOSE * mass_g:
        return None
    return Amount(best, best, unit)
