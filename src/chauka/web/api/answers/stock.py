"""The shelf and the market."""

from __future__ import annotations

from datetime import date
from typing import Any

from ninja import Schema

from chauka.kitchen import Deed, Form, Place
from chauka.services.shelf import Freshness, ShelfLot
from chauka.services.ticks import DayToBuy, Item, Lists
from chauka.web.api.answers.clock import Moment


class Lot(Schema):
    """Something on the shelf: until when (`use_by`), how it stands, and why."""

    id: str
    name: str
    food: str | None
    dish: str | None
    grams: float
    form: Form
    place: Place
    since: Moment
    use_by: Moment
    last_day: date
    days_left: float
    freshness: Freshness
    known: bool
    reason: str
    source: str
    cautions: list[str]

    @classmethod
    def of(cls, seen: ShelfLot) -> Lot:
        """From the service's view."""
        lot, use_by = seen.lot, seen.use_by
        return cls(
            id=lot.id,
            name=seen.name,
            food=lot.food,
            dish=lot.dish,
            grams=lot.grams,
            form=lot.form,
            place=lot.place,
            since=lot.since,
            use_by=use_by.at,
            last_day=seen.last_day,
            days_left=seen.days_left,
            freshness=seen.freshness,
            known=use_by.known,
            reason=use_by.reason,
            source=use_by.source,
            cautions=list(seen.cautions),
        )


class Shelf(Schema):
    """Everything in the house, what must be used first at the top."""

    at: Moment
    lots: list[Lot]


class Added(Schema):
    """The ids of new lots."""

    lots: list[str]


class Logged(Schema):
    """What was written down, and what is left of the lot [g]."""

    lot: str
    name: str
    deed: Deed
    grams: float
    left_g: float


class Purchase(Schema):
    """What was really bought."""

    lot: str
    name: str
    grams: float
    paid: int


class ToBuy(Schema):
    """One food on one day's list. `key` names it in the address of its tick: plan, day and food."""

    food: str
    name: str
    packs: str
    grams: float
    cost: int
    feeds: list[str]
    bought: Purchase | None

    @classmethod
    def of(cls, item: Item) -> ToBuy:
        """From the service's item."""
        said: Any = item.bought
        bought = said and Purchase(lot=said["lot"], name=said["name"], grams=said["grams"], paid=said["paid"])
        return cls(
            food=item.food,
            name=item.name,
            packs=item.packs,
            grams=item.grams,
            cost=item.cost,
            feeds=list(item.feeds),
            bought=bought or None,
        )


class DayList(Schema):
    """One day's list; `market` is false where only the daily stalls are there."""

    day: date
    market: bool
    items: list[ToBuy]

    @classmethod
    def of(cls, day: DayToBuy) -> DayList:
        """From the service's day."""
        return cls(day=day.day, market=day.market, items=[ToBuy.of(item) for item in day.items])


class MarketLists(Schema):
    """The market lists of the plan in force."""

    plan: int
    currency: str
    budget: int | None
    cost: int
    days: list[DayList]

    @classmethod
    def of(cls, seen: Lists) -> MarketLists:
        """From the service's view."""
        return cls(
            plan=seen.plan,
            currency=seen.currency,
            budget=seen.budget,
            cost=seen.cost,
            days=[DayList.of(day) for day in seen.days],
        )


class Ticked(Schema):
    """Whether this request ticked it off; false where it was already."""

    new: bool
