"""What people get over some days against what they need."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from statistics import NormalDist
from types import MappingProxyType

from chauka.composition.amount import Amount
from chauka.composition.dish import DishNutrients
from chauka.composition.people import SOURCES, Reference, ReferenceKind, reference
from chauka.kitchen import Person

_RECOMMENDED = frozenset({"RDA", "RNI"})
_USUAL_CV, _REQUIREMENT_CV = 0.10, {"FE": 0.15}


@dataclass(frozen=True, slots=True)
class Adequacy:
    """A person's intake of one nutrient over `days`, as a share of the reference (1 = met, or at the ceiling).

    `share.at_least` holds where some of the intake is unknown.
    """

    reference: Reference
    amount: Amount
    share: Amount
    days: float

    @property
    def short(self) -> bool:
        """Surely below a floor: not met, and nothing unknown that could make it up."""
        return self.reference.kind is ReferenceKind.FLOOR and self.share.mean < 1 and not self.share.at_least

    @property
    def probability(self) -> float | None:
        """The probability that the person's own requirement is met; a lower bound where some of the intake is unknown.

        An RDA or RNI lies two standard deviations above the mean requirement, whose spread is taken
        as 10 % (15 % for iron: a stand-in for its skewed distribution). None for other references:
        an adequate intake or a ceiling says nothing about how requirements spread. Both spreads from memory.
        """
        if self.reference.level not in _RECOMMENDED:
            return None
        cv = _REQUIREMENT_CV.get(self.reference.tag, _USUAL_CV)
        mean = 1 / (1 + 2 * cv)
        return NormalDist(mean, math.hypot(cv * mean, self.share.sd)).cdf(self.share.mean)

    @property
    def over(self) -> bool:
        """Above a ceiling."""
        return self.reference.kind is ReferenceKind.CEILING and self.share.mean > 1


def intake(eaten: Iterable[tuple[DishNutrients, float]]) -> Mapping[str, Amount]:
    """All that so many adult portions of dishes hold, by nutrient tag."""
    totals: dict[str, Amount] = {}
    for dish, portions in eaten:
        for tag, amount in dish.per_portion.items():
            totals[tag] = totals.get(tag, Amount(0.0)) + amount * portions
    return MappingProxyType(totals)


def adequacy(
    person: Person, amounts: Mapping[str, Amount], days: float, *, on: date, sources: Sequence[str] = SOURCES
) -> Mapping[str, Adequacy]:
    """The share of each reference that these amounts, eaten over so many days, make for a person.

    `on` is the day whose age counts. Nutrients without a reference, and references without an
    amount, are left out.
    """
    found = {}
    for tag, ref in reference(person, on, sources).items():
        if tag in amounts and days > 0:
            found[tag] = Adequacy(ref, amounts[tag], amounts[tag] * (1 / (ref.value * days)), days)
    return MappingProxyType(found)
