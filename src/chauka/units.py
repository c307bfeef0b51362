"""Numbers that carry their spread, and the sizes of physical units.

Inside chauka amounts are grams, time is minutes, temperature is °C and money is an integer of the
currency's smallest unit. An `Estimate` is a mean with a standard deviation; a `Span` is a lowest
and a highest value.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

GRAMS_PER_UNIT = {"g": 1.0, "kg": 1000.0, "mg": 0.001, "oz": 28.349523125, "lb": 453.59237}
"""Mass units [g]. Ounce and pound: international avoirdupois, NIST Handbook 44 App. C (from memory)."""

ML_PER_UNIT = {"ml": 1.0, "l": 1000.0, "fl oz": 29.5735295625}
"""Volume units [ml]. Household cups and spoons are a House setting and stand in `quantities`."""

KJ_PER_KCAL = 4.184
"""Thermochemical calorie [kJ/kcal], as FAO Food and Nutrition Paper 77 uses (from memory)."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A mean and its standard deviation, both in the unit that the context names."""

    mean: float
    sd: float = 0.0

    def __post_init__(self) -> None:
        if not math.isfinite(self.mean) or not math.isfinite(self.sd) or self.sd < 0:
            raise ValueError(f"an estimate needs a finite mean and a spread of 0 or more, not {self.mean} ± {self.sd}")

    def __add__(self, other: Estimate) -> Estimate:
        """Sum of two independent estimates."""
        return Estimate(self.mean + other.mean, math.hypot(self.sd, other.sd))

    def __mul__(self, other: float | Estimate) -> Estimate:
        """Product with a known number, or with an independent estimate (first order plus sd·sd)."""
        if isinstance(other, Estimate):
            var = (self.mean * other.sd) ** 2 + (other.mean * self.sd) ** 2 + (self.sd * other.sd) ** 2
            return Estimate(self.mean * other.mean, math.sqrt(var))
        return Estimate(self.mean * other, abs(other) * self.sd)

    __rmul__ = __mul__

    def __truediv__(self, other: float) -> Estimate:
        return Estimate(self.mean / other, self.sd / abs(other))

    @property
    def cv(self) -> float:
        """Relative spread sd ÷ |mean|; 0 where both are 0, infinite where only the mean is."""
        if self.mean:
            return self.sd / abs(self.mean)
        return math.inf if self.sd else 0.0

    @classmethod
    def total(cls, parts: list[Estimate]) -> Estimate:
        """Sum of independent estimates."""
        return cls(math.fsum(p.mean for p in parts), math.sqrt(math.fsum(p.sd**2 for p in parts)))


@dataclass(frozen=True, slots=True)
class Span:
    """A lowest and a highest value; one number is a span of no width."""

    low: float
    high: float

    def __post_init__(self) -> None:
        if not (math.isfinite(self.low) and math.isfinite(self.high) and self.low <= self.high):
            raise ValueError(f"a span runs from low to high, not from {self.low} to {self.high}")

    @property
    def mid(self) -> float:
        """The middle."""
        return (self.low + self.high) / 2

    def __mul__(self, factor: float) -> Span:
        return Span(self.low * factor, self.high * factor)
