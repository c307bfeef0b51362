"""Nutrition labels as data: what must be declared, rounded as the rule says, with the share of the reference.

FDA: rounding of 21 CFR 101.9 (Food Labeling Guide, Appendix H, 2009). FSSAI: Labelling and Display
Regulations 2020, whose text could not be read: no rounding steps of its own are known, so figures keep
three significant digits at most. References a day of both are from memory and are marked so. For the
home cook: not a declaration that a packer could rely on.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from chauka.composition.amount import Amount
from chauka.composition.dish import DishNutrients
from chauka.composition.matrix import FREE_SUGARS


class Rule(StrEnum):
    """Whose rule a label follows."""

    FDA = "FDA"
    FSSAI = "FSSAI"


@dataclass(frozen=True, slots=True)
class LabelRow:
    """One line of a label: per 100 g and per portion as they are printed, and the portion's share of the reference.

    `percent` is None where there is no reference or the amount is not known; `from_memory` marks
    references that nobody checked.
    """

    name: str
    unit: str
    per_100g: str
    per_portion: str
    percent: int | None
    from_memory: bool


def label(nutrients: DishNutrients, rule: Rule) -> tuple[LabelRow, ...]:
    """The rows of a dish's label, in the rule's order."""
    return tuple(_row(entry, nutrients, rule) for entry in _ROWS[rule])


Rounding = Callable[[float], str]


@dataclass(frozen=True, slots=True)
class _Entry:
    """What a row declares: the sum of some tags, how the FDA rounds it, and the reference a day."""

    name: str
    unit: str
    tags: tuple[str, ...]
    rounding: Rounding
    daily: float | None = None


def _row(entry: _Entry, nutrients: DishNutrients, rule: Rule) -> LabelRow:
    portion = Amount.total(nutrients.per_portion[tag] for tag in entry.tags)
    hundred = Amount.total(nutrients.per_100g.get(tag, Amount(0.0)) for tag in entry.tags)
    unknown = portion.at_least and not portion.mean
    percent = None if entry.daily is None or unknown else 100 * portion.mean / entry.daily
    micro = rule is Rule.FDA and entry.name in _MICRO
    return LabelRow(
        entry.name,
        entry.unit,
        _said(hundred, entry.rounding),
        _said(portion, entry.rounding),
        None if percent is None else fda_daily_value(percent) if micro else math.floor(percent + 0.5),
        entry.daily is not None,
    )


def _said(amount: Amount, rounding: Rounding) -> str:
    """The printed figure; "at least" where some of it is unknown, "not known" where all of it is."""
    if amount.at_least and not amount.mean:
        return "not known"
    text = rounding(amount.mean)
    return f"at least {text}" if amount.at_least and not text.startswith("less") else text


def to_step(value: float, step: float) -> str:
    """To the nearest multiple of a step, half upwards."""
    whole = math.floor(value / step + 0.5 + 1e-9)
    return f"{whole * step:.{0 if step >= 1 else 1}f}"


def fda_energy(kcal: float) -> str:
    """Below 5 nothing; to 50 in fives; above in tens [kcal]."""
    return "0" if kcal < 5 else to_step(kcal, 5 if kcal <= 50 else 10)


def fda_fat(grams: float) -> str:
    """Below 0.5 nothing; below 5 in halves; above in ones [g]."""
    return "0" if grams < 0.5 else to_step(grams, 0.5 if grams < 5 else 1)


def fda_cholesterol(milligrams: float) -> str:
    """Below 2 nothing; to 5 "less than 5"; above in fives [mg]."""
    if milligrams < 2:
        return "0"
    return "less than 5" if milligrams <= 5 else to_step(milligrams, 5)


def fda_sodium(milligrams: float) -> str:
    """Sodium and potassium: below 5 nothing; to 140 in fives; above in tens [mg]."""
    return "0" if milligrams < 5 else to_step(milligrams, 5 if milligrams <= 140 else 10)


def fda_carbohydrate(grams: float) -> str:
    """Carbohydrate, fibre, sugars, protein: below 0.5 nothing; below 1 "less than 1"; above in ones [g]."""
    if grams < 0.5:
        return "0"
    return "less than 1" if grams < 1 else to_step(grams, 1)


def fda_daily_value(percent: float) -> int:
    """Vitamins and minerals: below 2 % 2 from 1 % on, else 0; to 10 in twos; to 50 in fives; above in tens.

    The steps above 10 % are from memory.
    """
    if percent < 2:
        return 2 if percent >= 1 else 0
    return int(to_step(percent, 2 if percent <= 10 else 5 if percent <= 50 else 10))


def significant(value: float) -> str:
    """Three significant digits, no digit below a tenth."""
    if value < 0.05:
        return "0"
    places = max(0, min(1, 2 - math.floor(math.log10(value))))
    return f"{value:.{places}f}"


def _tenths(value: float) -> str:
    return to_step(value, 0.1)


def _tens(value: float) -> str:
    return to_step(value, 10)


_MICRO = frozenset({"Vitamin D", "Calcium", "Iron", "Potassium"})

_ROWS: dict[Rule, tuple[_Entry, ...]] = {
    # References a day and the last four rows' steps: rule of 2016, from memory.
    Rule.FDA: (
        _Entry("Calories", "kcal", ("ENERC_KCAL",), fda_energy),
        _Entry("Total fat", "g", ("FAT",), fda_fat, 78),
        _Entry("Saturated fat", "g", ("FASAT",), fda_fat, 20),
        _Entry("Cholesterol", "mg", ("CHOLE",), fda_cholesterol, 300),
        _Entry("Sodium", "mg", ("NA",), fda_sodium, 2300),
        _Entry("Total carbohydrate", "g", ("CHOAVLDF", "FIBTG"), fda_carbohydrate, 275),
        _Entry("Dietary fibre", "g", ("FIBTG",), fda_carbohydrate, 28),
        _Entry("Total sugars", "g", ("FSUGAR",), fda_carbohydrate),
        _Entry("Added sugars", "g", (FREE_SUGARS,), fda_carbohydrate, 50),
        _Entry("Protein", "g", ("PROCNT",), fda_carbohydrate),
        _Entry("Vitamin D", "µg", ("VITD",), _tenths, 20),
        _Entry("Calcium", "mg", ("CA",), _tens, 1300),
        _Entry("Iron", "mg", ("FE",), _tenths, 18),
        _Entry("Potassium", "mg", ("K",), _tens, 4700),
    ),
    # The list and the references a day: from memory. Trans fat is left out: no table here carries it.
    Rule.FSSAI: (
        _Entry("Energy", "kcal", ("ENERC_KCAL",), significant, 2000),
        _Entry("Energy", "kJ", ("ENERC",), significant),
        _Entry("Protein", "g", ("PROCNT",), significant),
        _Entry("Carbohydrate", "g", ("CHOAVLDF",), significant),
        _Entry("Total sugars", "g", ("FSUGAR",), significant),
        _Entry("Added sugars", "g", (FREE_SUGARS,), significant, 50),
        _Entry("Total fat", "g", ("FAT",), significant, 67),
        _Entry("Saturated fat", "g", ("FASAT",), significant, 22),
        _Entry("Cholesterol", "mg", ("CHOLE",), significant),
        _Entry("Sodium", "mg", ("NA",), significant, 2000),
    ),
}
