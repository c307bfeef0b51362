"""Money and waste week by week: what was paid at the market, and what went into the bin."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from django.db.models import Sum
from django.db.models.functions import TruncDate

from chauka.kitchen import Deed
from chauka.services import foods
from chauka.store import books, models
from chauka.store.models import Household

WEEKS = 12
"""How far back the figure goes; longer than a season is read nowhere."""

MOST_FOODS = 6


@dataclass(frozen=True, slots=True)
class Week:
    """One week from its Monday: paid and binned [smallest coin], grams binned. What was taken back is taken off."""

    monday: date
    paid: int
    binned_cost: int
    binned_g: float


@dataclass(frozen=True, slots=True)
class Weeks:
    """The last weeks, the oldest first, and what was binned most over them."""

    weeks: tuple[Week, ...]
    binned_most: tuple[tuple[str, float], ...]
    currency: str
    budget: int | None

    @property
    def any(self) -> bool:
        """Whether anything was bought or binned at all."""
        return any(week.paid or week.binned_g for week in self.weeks)


def view(household: Household, now: datetime) -> Weeks:
    """The weeks up to now; summed in the database, however long the ledger is."""
    book = books.load_book(household)
    this = now.date() - timedelta(days=now.weekday())
    mondays = [this - timedelta(weeks=back) for back in reversed(range(WEEKS))]
    sums = {(monday, deed): (0, 0.0) for monday in mondays for deed in (Deed.BOUGHT, Deed.BINNED)}
    rows = models.LedgerRow.objects.of(household).filter(
        at__gte=datetime.combine(mondays[0], datetime.min.time()), deed__in=[Deed.BOUGHT.value, Deed.BINNED.value]
    )
    by_day = rows.annotate(day=TruncDate("at")).values("day", "deed").order_by()
    for row in by_day.annotate(coins=Sum("cost"), weight=Sum("grams")):
        key = (row["day"] - timedelta(days=row["day"].weekday()), Deed(row["deed"]))
        coins, grams = sums.get(key, (0, 0.0))
        sums[key] = (coins + (row["coins"] or 0), grams + (row["weight"] or 0.0))
    binned = rows.filter(deed=Deed.BINNED.value).exclude(food=None).values("food").order_by()
    most = sorted(((r["food"], r["weight"]) for r in binned.annotate(weight=Sum("grams"))), key=lambda r: -r[1])
    return Weeks(
        tuple(Week(m, sums[m, Deed.BOUGHT][0], *sums[m, Deed.BINNED]) for m in mondays),
        tuple((foods.short(food), grams) for food, grams in most[:MOST_FOODS] if grams >= 1),
        book.house.currency,
        book.house.weekly_budget,
    )
