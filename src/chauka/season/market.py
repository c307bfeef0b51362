"""Market days, and what the stalls have on one of them."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from chauka.errors import Complaints
from chauka.kitchen import House, Offer


def market_days(house: House, start: date, days: int) -> tuple[date, ...]:
    """The market days of a house among `days` days from `start`, in order."""
    bad = Complaints("market days")
    bad.check(days >= 0, "days", f"{days} is below zero")
    bad.raise_if_any()
    horizon = (start + timedelta(ahead) for ahead in range(days))
    return tuple(day for day in horizon if day.weekday() in house.market_weekdays)


def offers_on(offers: Iterable[Offer], day: date) -> tuple[Offer, ...]:
    """What is usually there on a market day; an offer without weekdays is there on every one."""
    return tuple(offer for offer in offers if not offer.weekdays or day.weekday() in offer.weekdays)
