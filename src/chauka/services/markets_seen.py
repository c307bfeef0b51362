"""How often this house did not find what stood on its list, and what it paid against the price it expected."""

from __future__ import annotations

from collections import defaultdict
from datetime import date, datetime, timedelta

from chauka.kitchen import Deed, Offer
from chauka.planning import Chance
from chauka.store import books, ledger, plans
from chauka.store.models import Household

WEEKS = 26
"""How far back it looks."""

PRIOR_MISSING, PRIOR_MARKETS = 0.1, 5
"""What is assumed before anything was seen counts as so many markets; our own estimate."""

DEAR = 1.25
"""From so many times the usual price on, a food was dear."""


def chances(household: Household, now: datetime) -> dict[str, Chance]:
    """The chance of each food that stood on a list of a plan followed, on days on which something was bought.

    A food that was on the list of such a day and was not bought then or the day after counts as
    missing: the ledger does not tell why nobody bought it.
    """
    since = now - timedelta(weeks=WEEKS)
    bought = defaultdict[date, set[str]](set)
    for row in ledger.rows(household, since):
        if row.deed is Deed.BOUGHT and row.food and row.grams > 0:
            bought[row.at.date()].add(row.food)
    wanted, missed = defaultdict[str, int](int), defaultdict[str, int](int)
    for kept in plans.every(household):
        for purchase in kept.plan.purchases if kept.accepted else ():
            day = purchase.day
            if not (since.date() <= day < now.date()) or day not in bought:
                continue
            wanted[purchase.food] += 1
            missed[purchase.food] += purchase.food not in bought[day] | bought.get(day + timedelta(days=1), set())
    dear = _dear(household, books.load_book(household).offers, since.date())
    return {food: _chance(missed[food], count, dear.get(food, 0.0)) for food, count in wanted.items()}


def _chance(missed: int, markets: int, dear: float) -> Chance:
    share = (missed + PRIOR_MISSING * PRIOR_MARKETS) / (markets + PRIOR_MARKETS)
    why = f"missing on {missed} of {markets} market days of this house, with a guess of one in ten before"
    return Chance(share, min(dear, 1 - share), why=why)


def _dear(household: Household, offers: tuple[Offer, ...], since: date) -> dict[str, float]:
    """The share of prices paid that were well above what the stall usually asks per gram."""
    usual = dict[str, float]()
    for offer in offers:
        usual[offer.food] = min(usual.get(offer.food, float("inf")), offer.price / offer.grams)
    paid = defaultdict[str, list[bool]](list)
    for seen in ledger.prices(household, since=since):
        if seen.grams > 0 and usual.get(seen.food):
            paid[seen.food].append(seen.price / seen.grams > DEAR * usual[seen.food])
    return {food: sum(times) / len(times) for food, times in paid.items()}
