"""The house, its door and its ledger."""

from __future__ import annotations

from ninja import Schema

from chauka.services.house import HouseView
from chauka.services.past import Done
from chauka.web.api.answers.clock import Moment


class Health(Schema):
    """The version; whether the book answers, or why not; whether who plans is idle, alive, silent or not known."""

    chauka: str
    book: str
    worker: str


class Person(Schema):
    """Somebody who eats here."""

    id: str
    name: str


class House(Schema):
    """The house and how much its book holds."""

    name: str
    people: list[Person]
    cooks: int
    burners: int
    fridge_c: float
    room_c: float
    altitude_m: float
    region: str
    currency: str
    weekly_budget: int | None
    market_weekdays: list[int]
    dishes: int
    lots: int

    @classmethod
    def of(cls, seen: HouseView) -> House:
        """From the service's view."""
        house = seen.house
        return cls(
            name=house.name,
            people=[Person(id=p.id, name=p.name) for p in house.people],
            cooks=house.cooks,
            burners=house.burners,
            fridge_c=house.fridge_c,
            room_c=house.room_c,
            altitude_m=house.altitude_m,
            region=house.region,
            currency=house.currency,
            weekly_budget=house.weekly_budget,
            market_weekdays=list(house.market_weekdays),
            dishes=seen.dishes,
            lots=seen.lots,
        )


class Action(Schema):
    """One action of the ledger."""

    number: int
    at: Moment
    task: str
    note: str
    taken_back: bool

    @classmethod
    def of(cls, done: Done) -> Action:
        """From the service's view."""
        return cls(number=done.number, at=done.at, task=done.task, note=done.note, taken_back=done.taken_back)


class Past(Schema):
    """Actions, the newest first; ask on with `before=older`, null at the end."""

    actions: list[Action]
    older: int | None


class Undone(Schema):
    """The action that was taken back, or done again."""

    number: int
    task: str
    note: str


class Token(Schema):
    """Send it as `Authorization: Bearer …`; it ends after 30 days of absence."""

    token: str
