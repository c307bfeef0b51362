"""What a little more of a food costs while a plan stands: out of what is left over, or in packs from the market."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from chauka.kitchen import Book, Form, LeftOver, Offer, TablePlan
from chauka.planning.amounts import FREE_FOODS, as_bought_g, bought_form
from chauka.planning.facts import Facts
from chauka.planning.sittings import MARKET_TIME, market_days

KEEPS_DAYS = 30
"""What keeps a month is charged by what is taken of it; of anything fresher the whole pack is paid."""


@dataclass(frozen=True, slots=True)
class Bill:
    """What some grams cost [smallest coin]; `offer` and `packs` are what is bought for them, on `day`."""

    cost: int
    offer: Offer | None = None
    packs: int = 0
    day: date | None = None


FREE = Bill(0)


class Larder:
    """The food that a plan does not use, and the market of its days."""

    def __init__(self, plan: TablePlan, book: Book, facts: Facts, *, since: datetime | None = None) -> None:
        self.plan, self.book, self.facts, self.since = plan, book, facts, since
        self.lots = {lot.id: lot for lot in book.lots}
        self.bought = {p.id: p for p in plan.purchases}
        self.forms = {
            food: frozenset(line.form for dish in book.dishes for line in dish.lines if line.food == food)
            for food in {line.food for dish in book.dishes for line in dish.lines}
        }

    def bill(self, food: str, form: Form, grams: float, at: datetime) -> Bill | None:
        """What so many edible grams in that form cost at a moment; None where they cannot be had fresh."""
        if food in FREE_FOODS:
            return FREE
        wanted, cost = as_bought_g(grams, form, self.facts.traits(food)), 0.0
        for left in self._left(food, at):
            take = min(wanted, left.grams)
            wanted -= take
            cost += 0 if left.binned else left.cost * take / left.grams
        if wanted <= 0.5:
            return Bill(round(cost))
        bills = list(self._packs(food, wanted, at))
        if not bills:
            return None
        cheapest = min(bills, key=lambda bill: bill.cost)
        return Bill(round(cost) + cheapest.cost, cheapest.offer, cheapest.packs, cheapest.day)

    def _left(self, food: str, at: datetime) -> Iterator[LeftOver]:
        """What is left over of a food and good at that moment, what would be binned first."""
        for left in sorted(self.plan.left_over, key=lambda one: (not one.binned, one.source)):
            if left.food == food and left.grams > 0:
                there, until = self._good(left.source)
                if there <= at <= until:
                    yield left

    def _good(self, source: str) -> tuple[datetime, datetime]:
        """From when to when a lot or purchase is there and good."""
        if source in self.bought:
            purchase = self.bought[source]
            arrives = datetime.combine(purchase.day, MARKET_TIME)
            return arrives, arrives + timedelta(days=self._bought(purchase.food)[1])
        lot = self.lots[source]
        return lot.since, self.facts.lot_use_by(lot)

    def _bought(self, food: str) -> tuple[Form, float]:
        """The form in which a food is bought, and how long it keeps then [day]."""
        form = bought_form(self.forms.get(food, frozenset()), self.facts.edible_fraction(food))
        return form, self.facts.bought_life_days(food, form)

    def _packs(self, food: str, grams: float, at: datetime) -> Iterator[Bill]:
        form, life = self._bought(food)
        edible = self.facts.edible_fraction(food) if form is Form.WHOLE else 1.0
        for offer in self.book.offers:
            if offer.food != food:
                continue
            for day in market_days(self.book.house, self.plan.start, self.plan.days, offer.weekdays):
                arrives = datetime.combine(day, MARKET_TIME)
                to_come = self.since is None or arrives >= self.since
                if to_come and arrives <= at <= arrives + timedelta(days=life):
                    share = grams / (offer.grams * edible)
                    packs = math.ceil(share - 1e-9)
                    cost = offer.price * (share if life >= KEEPS_DAYS else packs)
                    yield Bill(round(cost), offer, packs, day)
