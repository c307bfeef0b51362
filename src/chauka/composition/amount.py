"""How much of a nutrient: mean, spread, and whether something of it is unknown."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Amount:
    """So much of one nutrient, in the nutrient's unit.

    `missing` names the foods whose content no table gives. `at_least` is true where what they may
    hold matters: then `mean` is the known part and the whole may be more.
    """

    mean: float
    sd: float = 0.0
    at_least: bool = False
    missing: tuple[str, ...] = ()

    def __mul__(self, factor: float) -> Amount:
        return Amount(self.mean * factor, self.sd * abs(factor), self.at_least, self.missing)

    __rmul__ = __mul__

    def __add__(self, other: Amount) -> Amount:
        """Sum of two independent amounts; what is unknown in one is unknown in the sum."""
        return Amount(
            self.mean + other.mean,
            math.hypot(self.sd, other.sd),
            self.at_least or other.at_least,
            tuple(dict.fromkeys((*self.missing, *other.missing))),
        )

    def over(self, mean: float, sd: float) -> Amount:
        """Divided by an independent number."""
        share = self.mean / mean
        spread = math.hypot(self.sd, share * sd) / mean
        return Amount(share, spread, self.at_least, self.missing)

    @classmethod
    def total(cls, parts: Iterable[Amount]) -> Amount:
        """Sum of independent amounts."""
        return sum(parts, cls(0.0))


NOTHING = Amount(0.0)
