"""How fast produce ages at a temperature, and how much of its life a history has used up.

The curve is the worked example of USDA Agriculture Handbook 66 (M. Saltveit, Respiratory
Metabolism, 2002 draft): Q10 3.0 from 0 to 10 °C, 2.5 to 20 °C, 2.0 to 30 °C, 1.5 above.

The lives of produce themselves, seen at two temperatures or more (table `produce_lives`), agree with it up
to 20 °C and hardly fall any further above; `living_rate` is fitted to them.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from chauka.errors import Complaints

_DECADES = ((0.0, 1.0, 3.0), (10.0, 3.0, 2.5), (20.0, 7.5, 2.0), (30.0, 15.0, 1.5))
"""From a temperature [°C]: the relative rate there and the Q10 above it."""

_LIVES = ((0.0, 1.0, 3.0), (10.0, 3.0, 2.5), (20.0, 7.5, 1.1))
"""The same for lives: 48 pairs of lives of 22 items that bear the cold, each item left out in turn, ask for
Q10 2.5 to 3.0 between 10 and 20 °C and 1.0 above (least absolute error of the logarithm)."""

_CHILLED = ((0.0, 1.0, 1.8), (20.0, 3.24, 1.1))
"""The same for what cold harms, the upper part taken over from the curve above."""


@dataclass(frozen=True, slots=True)
class Stay:
    """So many hours at one temperature [°C]."""

    hours: float
    temp_c: float

    def __post_init__(self) -> None:
        bad = Complaints("stay")
        bad.check(self.hours >= 0, "hours", f"{self.hours:g} h is below zero")
        bad.check(-40 <= self.temp_c <= 60, "temp_c", f"{self.temp_c:g} °C is no place to keep food; check the unit")
        bad.raise_if_any()


def relative_rate(temp_c: float) -> float:
    """How many times as fast produce ages at `temp_c` [°C] as at 0 °C.

    Below 0 °C the lowest Q10 is carried on, above 40 °C the highest.
    """
    return _on(_DECADES, temp_c)


def living_rate(temp_c: float) -> float:
    """The same on the curve that lives of produce show: as the handbook to 20 °C, Q10 1.1 above."""
    return _on(_LIVES, temp_c)


def _on(curve: tuple[tuple[float, float, float], ...], temp_c: float) -> float:
    start, rate, q10 = next(row for row in reversed(curve) if temp_c >= row[0] or row is curve[0])
    return rate * float(q10 ** ((temp_c - start) / 10))


def steady_rate(temp_c: float) -> float:
    """The same for produce that cold harms: Q10 1.8 to 20 °C, 1.1 above.

    On the handbook's curve such fruit errs far to the short side in the warmth: the published lives of
    four kinds at 6 to 13 °C and at 25 to 29 °C amount to a Q10 of 1.4 to 1.9.
    """
    return _on(_CHILLED, temp_c)


def days_at_0c(history: Iterable[Stay]) -> float:
    """The age that a history amounts to [day at 0 °C]; stays add up, however they are split."""
    return sum(stay.hours / 24 * relative_rate(stay.temp_c) for stay in history)


def fraction_consumed(life_at_0c_days: float, history: Iterable[Stay]) -> float:
    """The share of a life that a history has used up; above 1 it is over."""
    return days_at_0c(history) / life_at_0c_days


def days_left(life_at_0c_days: float, history: Iterable[Stay], temp_c: float) -> float:
    """What is left of a life at `temp_c` after a history [day]; never below 0."""
    return max(0.0, life_at_0c_days - days_at_0c(history)) / relative_rate(temp_c)
