"""How money, weights, days and amounts are said, on the command line and on the pages alike."""

from __future__ import annotations

import math
from datetime import date, datetime

from chauka.units import Estimate

SIGNS = {"INR": "Rs"}
"""Signs of currencies; any other is named by its code."""

COINS_PER_UNIT = 100
_IN_LAKHS = frozenset({"INR", "PKR", "NPR", "BDT", "LKR"})
DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def money(coins: float, currency: str = "INR", *, whole_units: bool = False) -> str:
    """Smallest coins as money, digits grouped as in India (Rs 1,23,456.50); hundredths only where there are any.

    `whole_units` rounds to the whole unit, for sums that are estimates. What no search has bounded
    is an unknown sum.
    """
    if not math.isfinite(coins):
        return "an unknown sum"
    if whole_units:
        coins = COINS_PER_UNIT * round(coins / COINS_PER_UNIT)
    whole, hundredths = divmod(abs(round(coins)), COINS_PER_UNIT)
    text = grouped(whole, lakhs=currency in _IN_LAKHS)
    if hundredths:
        text += f".{hundredths:02d}"
    return f"{'−' if round(coins) < 0 else ''}{SIGNS.get(currency, currency)} {text}"


def grouped(number: int, *, lakhs: bool = True) -> str:
    """Digits with commas: the last three, then by two (Indian) or by three."""
    text = f"{number:d}"
    if not lakhs or len(text) <= 3:
        return f"{number:,d}"
    head, tail = text[:-3], text[-3:]
    pairs = [head[max(0, end - 2) : end] for end in range(len(head), 0, -2)]
    return ",".join([*reversed(pairs), tail])


def weight(grams: float) -> str:
    """A weight as a scale shows it: 2.5 g, 250 g, 1.25 kg."""
    if abs(grams) >= 999.5:
        return f"{grams / 1000:.2f}".rstrip("0").rstrip(".") + " kg"
    if abs(grams) >= 9.95:
        return f"{grams:.0f} g"
    return f"{grams:.1f}".removesuffix(".0") + " g"


def portions(number: float) -> str:
    """Adult portions, to a tenth: 5, 9.6."""
    return f"{number:.1f}".removesuffix(".0")


def day(on: date) -> str:
    """As in Sun 14 Mar."""
    return f"{DAYS[on.weekday()]} {on.day} {MONTHS[on.month - 1]}"


def moment(at: datetime) -> str:
    """As in Sun 14 Mar 18:30."""
    return f"{day(at.date())} {at:%H:%M}"


def days_left(days: float) -> str:
    """How long is left, in the unit a cook thinks in."""
    if days < 0:
        return "past"
    if days < 1:
        return "today"
    for size, name, most in ((1, "day", 13.5), (7, "week", 60), (30.44, "month", 700), (365.25, "year", float("inf"))):
        if days < most:
            count = int(days / size)
            return f"{count} {name}{'s' if count != 1 else ''}"
    raise AssertionError


def amount(mean: float, sd: float, unit: str, *, at_least: bool = False) -> str:
    """A quantity with its spread, both to the digits that the spread warrants: `at least 12.4 ± 1.1 mg`."""
    if not mean and not sd:
        return f"{'at least ' if at_least else ''}0 {unit}".strip()
    places = _places(sd or abs(mean) / 100)
    spread = f" ± {sd:,.{places}f}" if sd else ""
    return f"{'at least ' if at_least else ''}{mean:,.{places}f}{spread} {unit}".strip()


def estimate(of: Estimate, unit: str) -> str:
    """The same for an `Estimate`."""
    return amount(of.mean, of.sd, unit)


def _places(spread: float) -> int:
    """Decimals at which one significant digit of the spread (two, where it begins with 1) is seen."""
    for places in range(4):
        if spread * 10**places >= 2:
            return places
    return 3


def count(number: int, thing: str, things: str | None = None) -> str:
    """`1 dish`, `3 dishes`."""
    return f"{number} {thing if number == 1 else things or thing + 's'}"
