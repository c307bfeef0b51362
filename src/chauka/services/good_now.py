"""What is good at the market now: in season, sold here, and what it costs against what was paid before."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from statistics import median

from chauka.kitchen import Book, Offer
from chauka.season import SeasonState
from chauka.services import today
from chauka.store import books, ledger
from chauka.store.models import Household

PRICES_DAYS = 366
"""Prices of the last year are compared; older ones are of other times."""

_GOOD = (SeasonState.BEST, SeasonState.LEAVING)


@dataclass(frozen=True, slots=True)
class GoodNow:
    """One food of the season with its cheapest offer.

    `per_kg` is what a kilogram costs by that offer, `paid_per_kg` the median of what was really paid in
    this house within a year, None where it was never bought [smallest coin]. `bought` says that the list has it.
    """

    food: str
    name: str
    leaving: bool
    offer: Offer
    per_kg: float
    paid_per_kg: float | None
    bought: bool


def view(household: Household, now: datetime, listed: frozenset[str]) -> tuple[GoodNow, ...]:
    """What is at its best or about to leave, what leaves first; `listed` are the foods on the market list."""
    book = books.load_book(household)
    paid: dict[str, list[float]] = {}
    for seen in ledger.prices(household, since=now.date() - timedelta(days=PRICES_DAYS)):
        if seen.grams > 0 and seen.price > 0:
            paid.setdefault(seen.food, []).append(1000 * seen.price / seen.grams)
    return of_book(book, now.month, {food: median(prices) for food, prices in paid.items()}, listed)


def of_book(book: Book, month: int, paid: dict[str, float], listed: frozenset[str]) -> tuple[GoodNow, ...]:
    """The same for a book already loaded and the prices that were paid [smallest coin a kilogram]."""
    good = []
    for item in today.calendar(book, month):
        if item.state not in _GOOD or item.all_year:
            continue
        offer = min((o for o in book.offers if o.food == item.food), key=lambda o: o.price / o.grams)
        good.append(
            GoodNow(
                food=item.food,
                name=item.name,
                leaving=item.state is SeasonState.LEAVING,
                offer=offer,
                per_kg=1000 * offer.price / offer.grams,
                paid_per_kg=paid.get(item.food),
                bought=item.food in listed,
            )
        )
    return tuple(sorted(good, key=lambda one: (not one.leaving, one.name)))
