"""The market: what to buy on which day, in packs; and what was really bought and paid."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from chauka.errors import InputError
from chauka.kitchen import Book, Deed, Form, LedgerRow, Lot, Offer, Place, PriceSeen, Purchase, TablePlan
from chauka.kitchen.stock import stall_order
from chauka.services import foods, plan_days
from chauka.services.shelf import grams_of, lot_wish
from chauka.store import books, ledger
from chauka.store.models import Household

HIGHEST_PRICE = 100_000_00
"""A single purchase above this is a slip of the decimal point [smallest coin]."""

MOST_PRICES = 200
"""So many of the newest prices of one food are shown: some years of a weekly market."""


@dataclass(frozen=True, slots=True)
class ToBuy:
    """Packs of one food and the dishes that they feed."""

    purchase: Purchase
    name: str
    feeds: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Stall:
    """What to buy at one kind of stall."""

    name: str
    items: tuple[ToBuy, ...]


@dataclass(frozen=True, slots=True)
class MarketDay:
    """The list of one day, by stall; `market` is False where only the daily stalls (milk, say) are there."""

    day: date
    market: bool
    stalls: tuple[Stall, ...]

    @property
    def items(self) -> tuple[ToBuy, ...]:
        """Everything on the list."""
        return tuple(item for stall in self.stalls for item in stall.items)

    @property
    def cost(self) -> int:
        """What the list costs [smallest coin]."""
        return sum(item.purchase.cost for item in self.items)


@dataclass(frozen=True, slots=True)
class MarketLists:
    """All lists of a plan; `budget` is for a week, None where the house has none."""

    days: tuple[MarketDay, ...]
    currency: str
    budget: int | None

    @property
    def cost(self) -> int:
        """What all lists cost [smallest coin]."""
        return sum(day.cost for day in self.days)


@dataclass(frozen=True, slots=True)
class Bought:
    """What was really bought: the new lot, what was paid, and what it is called."""

    lot: Lot
    name: str
    paid: int


def lists(household: Household, now: datetime) -> MarketLists:
    """The lists of the plan in force, from today on."""
    kept = plan_days.the_current(household, now)
    return of_plan(books.load_book(household), kept.plan, since=now.date())


def of_plan(book: Book, plan: TablePlan, *, since: date | None = None) -> MarketLists:
    """The lists of a plan."""
    purchases = [p for p in plan.purchases if since is None or p.day >= since]
    called = foods.called(book)
    items = [_to_buy(p, plan, book, called) for p in sorted(purchases, key=lambda p: (p.day, *stall_order(p.stall)))]
    market_weekdays = book.house.market_weekdays
    days = tuple(
        MarketDay(day, day.weekday() in market_weekdays, _stalls(of_day))
        for day, of_day in groupby(items, lambda i: i.purchase.day)
    )
    return MarketLists(days, book.house.currency, book.house.weekly_budget)


def _stalls(items: Iterable[ToBuy]) -> tuple[Stall, ...]:
    return tuple(
        Stall(name, tuple(sorted(of_stall, key=lambda i: (i.name, i.purchase.grams))))
        for name, of_stall in groupby(items, lambda i: i.purchase.stall)
    )


def _to_buy(purchase: Purchase, plan: TablePlan, book: Book, called: dict[str, str]) -> ToBuy:
    batches = {b.id: b for b in plan.batches}
    dishes = dict.fromkeys(book.dish(batches[key].dish).name for key in purchase.feeds if key in batches)
    return ToBuy(purchase, called.get(purchase.food) or foods.name(purchase.food), tuple(dishes))


def buy(
    household: Household,
    food: str,
    amount: str,
    paid: int,
    now: datetime,
    *,
    form: Form | None = None,
    place: Place | None = None,
    age_days: float = 0.0,
) -> Bought:
    """Write down what was really bought: a new lot, a ledger row and a price seen, in one transaction.

    `amount` is in words ("2 bunches", "1 kg"), `paid` in the smallest coin. Form and place default to
    how this house buys and keeps the food. Raises `InputError` for an unknown food, an amount that
    cannot become grams, or an absurd price.
    """
    book = books.load_book(household)
    code = foods.resolve(food, book)
    if not 0 <= paid <= HIGHEST_PRICE:
        raise InputError({"paid": (f"{paid / 100:g} cannot be right; give what was paid in all",)})
    form = form or bought_form(code, book)
    name = foods.called(book).get(code) or foods.name(code)
    lot = Lot(
        id=ledger.free_lot_id(household, lot_wish(name, now)),
        grams=grams_of(amount, code, form, book),
        form=form,
        place=place or usual_place(code, form, book),
        since=now,
        food=code,
        age_days=age_days,
        cost=paid,
    )
    with ledger.action(household, now, "buy", f"{amount} {name}") as recorder:
        recorder.put(lot)
        recorder.did(LedgerRow(at=now, deed=Deed.BOUGHT, grams=lot.grams, lot=lot.id, food=code, cost=paid))
        recorder.saw(PriceSeen(food=code, on=now.date(), grams=lot.grams, price=paid))
    return Bought(lot, name, paid)


_AS_SOLD = (Form.DRY, Form.LIQUID, Form.SET)


def bought_form(food: str, book: Book) -> Form:
    """The form in which the food comes home: as it stands on the shelf, else as dishes have it, else whole."""
    kept = [lot.form for lot in book.lots if lot.food == food and lot.form in (*_AS_SOLD, Form.WHOLE)]
    if kept:
        return kept[0]
    used = [line.form for dish in book.dishes for line in dish.lines if line.food == food]
    if used and all(form is Form.LIQUID for form in used):  # the juice of a lemon is not bought as juice
        return Form.LIQUID
    return next((form for form in used if form in (Form.DRY, Form.SET)), Form.WHOLE)


def usual_place(food: str, form: Form, book: Book) -> Place:
    """Where this house keeps the food; else dry and liquid things in the cupboard and the rest in the fridge."""
    for lot in book.lots:
        if lot.food == food and lot.form is form:
            return lot.place
    return Place.CUPBOARD if form in (Form.DRY, Form.LIQUID) else Place.FRIDGE


def offers(household: Household) -> tuple[Offer, ...]:
    """What the market offers, as the house knows it."""
    return books.load_book(household).offers


def prices(household: Household, food: str) -> tuple[PriceSeen, ...]:
    """What was paid for a food, oldest first; the newest `MOST_PRICES`."""
    return ledger.prices(household, foods.resolve(food, books.load_book(household)), newest=MOST_PRICES)
