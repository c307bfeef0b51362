"""What a house learns about its own shelf: a factor on a food's life, drawn towards 1 while little was seen."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from chauka.errors import Complaints

PRIOR_SD = SEEN_SD = 0.45
"""Spread of ln(life seen ÷ life predicted), between houses and between lots: what the published lives show."""

SLOWEST, FASTEST = 0.5, 1.6
"""A house's factor stays within these: beyond them something else is wrong."""


@dataclass(frozen=True, slots=True)
class Seen:
    """A lot that was predicted to keep `predicted_days` in the middle: off, or still fine, on a day."""

    predicted_days: float
    day: float
    still_fine: bool = False

    def __post_init__(self) -> None:
        bad = Complaints("what was seen")
        bad.check(self.predicted_days > 0, "predicted_days", f"{self.predicted_days:g} must be above zero")
        bad.check(self.day >= 0, "day", f"{self.day:g} is below zero")
        bad.raise_if_any()


@dataclass(frozen=True, slots=True)
class HouseFactor:
    """How many times as long a food keeps here as predicted, the spread of its logarithm, and on how many lots."""

    factor: float
    ln_sd: float
    lots: int


UNTAUGHT = HouseFactor(1.0, PRIOR_SD, 0)
"""Before anything was seen, and after a reset."""


def house_factor(seen: Iterable[Seen]) -> HouseFactor:
    """The factor from everything seen of one food, the oldest first.

    A lot that went off pulls towards its day. A lot that was still fine only pulls up, and only when
    its day lies beyond what was believed: it says no more than "at least".
    """
    mean, precision, lots = 0.0, PRIOR_SD**-2, 0
    for one in seen:
        found = math.log(max(one.day, 0.25) / one.predicted_days)
        if one.still_fine and found <= mean:
            continue
        weight = SEEN_SD**-2
        mean = (mean * precision + found * weight) / (precision + weight)
        precision, lots = precision + weight, lots + 1
    return HouseFactor(min(FASTEST, max(SLOWEST, math.exp(mean))), precision**-0.5, lots)
