"""How money, weights, days and amounts are said, on the command line and on the pages alike.

The pages ask for them in the language of the phone, the command line in English.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from datetime import date, datetime

from django.utils.translation import gettext, gettext_noop, ngettext

from chauka.units import Estimate

SIGNS = {"INR": gettext_noop("Rs")}
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
        return gettext("an unknown sum")
    if whole_units:
        coins = COINS_PER_UNIT * round(coins / COINS_PER_UNIT)
    whole, hundredths = divmod(abs(round(coins)), COINS_PER_UNIT)
    text = grouped(whole, lakhs=currency in _IN_LAKHS)
    if hundredths:
        text += f".{hundredths:02d}"
    return f"{'−' if round(coins) < 0 else ''}{sign(currency)} {text}"


def sign(currency: str) -> str:
    """The sign of a currency in the language spoken: Rs, रु; its code where it has none."""
    return gettext(SIGNS[currency]) if currency in SIGNS else currency


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
    return f"{gettext(DAYS[on.weekday()])} {on.day} {gettext(MONTHS[on.month - 1])}"


def moment(at: datetime) -> str:
    """As in Sun 14 Mar 18:30."""
    return f"{day(at.date())} {at:%H:%M}"


def days_left(days: float) -> str:
    """How long is left, in the unit a cook thinks in."""
    if days < 0:
        return gettext("past")
    if days < 1:
        return gettext("today")
    size, said = next((size, said) for most, size, said in _SPANS if days < most)
    return said(int(days / size))


_SPANS: tuple[tuple[float, float, Callable[[int], str]], ...] = (
    (13.5, 1, lambda n: ngettext("%(n)d day", "%(n)d days", n) % {"n": n}),
    (60, 7, lambda n: ngettext("%(n)d week", "%(n)d weeks", n) % {"n": n}),
    (700, 30.44, lambda n: ngettext("%(n)d month", "%(n)d months", n) % {"n": n}),
    (math.inf, 365.25, lambda n: ngettext("%(n)d year", "%(n)d years", n) % {"n": n}),
)
"""Days below which a span is said in a unit, the days of that unit, and how it is said."""


def amount(mean: float, sd: float, unit: str, *, at_least: bool = False) -> str:
    """A quantity with its spread, both to the digits that the spread warrants: `at least 12.4 ± 1.1 mg`."""
    least = gettext("at least ") if at_least else ""
    if not mean and not sd:
        return f"{least}0 {unit}".strip()
    places = _places(sd or abs(mean) / 100)
    spread = f" ± {sd:,.{places}f}" if sd else ""
    return f"{least}{mean:,.{places}f}{spread} {unit}".strip()


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
