"""The market list on the phone: items ticked off as bought, taken back, or bought otherwise.

A tick is known by its plan, day and food, so that the same tick sent twice (a phone that caught up
after it had no connection) buys once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from chauka.errors import InputError
from chauka.kitchen import Deed, LedgerRow, Lot, PriceSeen, Purchase
from chauka.services import foods, market, plan_days
from chauka.services.shelf import grams_of, lot_wish
from chauka.store import books, ledger, marks, undo
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class Item:
    """One food to buy on one day: its packs as one line, what it feeds, and whether it was bought."""

    key: str
    food: str
    name: str
    packs: str
    grams: float
    cost: int
    feeds: tuple[str, ...]
    bought: Mapping[str, object] | None

    @property
    def bought_otherwise(self) -> bool:
        """Whether it was bought, but not as listed."""
        if self.bought is None:
            return False
        as_listed = (self.grams, self.cost, self.name)
        return (self.bought["grams"], self.bought["paid"], self.bought["name"]) != as_listed

    @property
    def weighed(self) -> bool:
        """Whether the pack's own words leave the weight open."""
        return not any(word in ("g", "kg", "litre", "litres") for word in self.packs.split())


@dataclass(frozen=True, slots=True)
class StallOfDay:
    """What to buy at one kind of stall."""

    name: str
    items: tuple[Item, ...]


@dataclass(frozen=True, slots=True)
class DayToBuy:
    """One day's list."""

    day: date
    market: bool
    stalls: tuple[StallOfDay, ...]

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything on the list."""
        return tuple(item for stall in self.stalls for item in stall.items)

    @property
    def cost(self) -> int:
        """What the list costs [smallest coin]."""
        return sum(item.cost for item in self.items)

    @property
    def left(self) -> int:
        """How many items are still to buy."""
        return sum(item.bought is None for item in self.items)


@dataclass(frozen=True, slots=True)
class Lists:
    """All lists of a plan with their ticks."""

    plan: int
    days: tuple[DayToBuy, ...]
    currency: str
    budget: int | None
    cost: int

    @property
    def spent(self) -> int:
        """What was really paid for the items ticked so far [smallest coin]."""
        bought = [item.bought for day in self.days for item in day.items if item.bought is not None]
        return sum(int(str(one["paid"])) for one in bought)


def lists(household: Household, now: datetime) -> Lists:
    """The lists of the plan in force, from today on, with what was ticked off."""
    kept = plan_days.the_current(household, now)
    seen = market.of_plan(books.load_book(household), kept.plan, since=now.date())
    ticked = marks.under(household, marks.TICK, f"{kept.number}/")
    days = tuple(
        DayToBuy(
            day.day,
            day.market,
            tuple(StallOfDay(s.name, tuple(_items(s.items, ticked))) for s in day.stalls),
        )
        for day in seen.days
    )
    return Lists(kept.number, days, seen.currency, seen.budget, seen.cost)


def _items(of_stall: Iterable[market.ToBuy], ticked: Mapping[str, object]) -> Iterable[Item]:
    for food, group in groupby(sorted(of_stall, key=lambda i: (i.name, i.purchase.food)), lambda i: i.purchase.food):
        several = sorted(group, key=lambda i: -i.purchase.grams / i.purchase.packs)
        key = f"{several[0].purchase.day.isoformat()}/{food}"
        bought = ticked.get(key)
        yield Item(
            key=key,
            food=food,
            name=foods.short(food),
            packs=_joined([_packs(i.purchase) for i in several]),
            grams=sum(i.purchase.grams for i in several),
            cost=sum(i.purchase.cost for i in several),
            feeds=tuple(dict.fromkeys(dish for i in several for dish in i.feeds)),
            bought=bought if isinstance(bought, dict) else None,
        )


def _packs(purchase: Purchase) -> str:
    """`2 × bunch of spinach`; a single pack as the stall says it."""
    if purchase.packs == 1:
        return purchase.pack
    counted = not purchase.pack.startswith(("1 kg", "1 g", "1 litre"))
    return f"{purchase.packs} × {purchase.pack.removeprefix('1 ') if counted else purchase.pack}"


def _joined(packs: list[str]) -> str:
    """`3 × 400 g and 200 g of curd`: what is bought is named once."""
    thing = packs[-1].partition(" of ")[2]
    return " and ".join([*(p.removesuffix(f" of {thing}") if thing else p for p in packs[:-1]), packs[-1]])


def buy(
    household: Household,
    plan: int,
    key: str,
    now: datetime,
    *,
    amount: str = "",
    paid: int | None = None,
    instead: str = "",
) -> bool:
    """Tick one item off: bought as listed, or so much, for so much, or another food instead.

    Returns False where it was ticked already (nothing is bought twice). Raises `InputError` where
    the list has no such item, or the amount, food or sum cannot be.
    """
    mark = f"{plan}/{key}"
    if marks.read(household, marks.TICK, mark) is not None:
        return False
    book = books.load_book(household)
    packs = _on_list(household, plan, key)
    food = foods.resolve(instead, book) if instead.strip() else packs[0].food
    form = market.bought_form(food, book)
    if instead.strip() and not amount.strip():
        raise InputError({"amount": (f"say how much {foods.short(food)} it was",)})
    grams = grams_of(amount, food, form, book) if amount.strip() else sum(p.grams for p in packs)
    cost = sum(p.cost for p in packs) if paid is None else paid
    if not 0 <= cost <= market.HIGHEST_PRICE:
        raise InputError({"paid": (f"{cost / 100:g} cannot be right; give what was paid in all",)})
    name = foods.short(food)
    with ledger.action(household, now, "buy", f"{amount or _joined([_packs(p) for p in packs])}, {name}") as recorder:
        lot = Lot(
            id=ledger.free_lot_id(household, lot_wish(name, now)),
            grams=grams,
            form=form,
            place=market.usual_place(food, form, book),
            since=now,
            food=food,
            cost=cost,
        )
        recorder.put(lot)
        recorder.did(LedgerRow(at=now, deed=Deed.BOUGHT, grams=grams, lot=lot.id, food=food, cost=cost))
        recorder.saw(PriceSeen(food=food, on=now.date(), grams=grams, price=cost))
        said = {"action": recorder.number, "lot": lot.id, "name": name, "grams": grams, "paid": cost}
        marks.write(recorder, marks.TICK, mark, said)
    return True


def unbuy(household: Household, plan: int, key: str, now: datetime) -> bool:
    """Take a tick back, with everything it wrote; False where there was none."""
    said = marks.read(household, marks.TICK, f"{plan}/{key}")
    if not isinstance(said, dict):
        return False
    undo.take_back(household, int(said["action"]), now)
    return True


def _on_list(household: Household, plan: int, key: str) -> list[Purchase]:
    kept = plan_days.kept(household, plan)
    day, _, food = key.partition("/")
    packs = [p for p in kept.plan.purchases if p.day.isoformat() == day and p.food == food]
    if not packs:
        raise InputError({"market": (f"the list of plan {plan} has no {foods.short(food)} on {day}",)})
    return sorted(packs, key=lambda p: -p.grams / p.packs)
