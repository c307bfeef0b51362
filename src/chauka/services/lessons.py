"""Everything that the house has taught, on one page: lives, names, weights of pots, prices; and unlearning it."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass, replace
from datetime import datetime
from statistics import median

from chauka.errors import InputError
from chauka.kitchen import Book, Offer
from chauka.services import cooked, foods, learned, taught
from chauka.store import books, ledger, marks
from chauka.store.models import Household

RECENT_PRICES = 8
"""So many of the newest prices of a food make its price of now."""

MOST_PRICES = 5_000
"""So many of the newest prices of all foods are looked at: about two years of a house that buys fifty things a week."""

_MOVED = 0.02
"""A price that differs by less than this from the market's packs is the same price."""


@dataclass(frozen=True, slots=True)
class LifeLesson:
    """A food that keeps `factor` times as long here as elsewhere."""

    food: str
    name: str
    factor: float


@dataclass(frozen=True, slots=True)
class NameLesson:
    """A name that the house taught, and the food that it means."""

    said: str
    food: str
    name: str


@dataclass(frozen=True, slots=True)
class PotLesson:
    """A dish that was weighed when done: how often, and what a portion weighed in the middle [g]."""

    dish: str
    name: str
    times: int
    portion_g: float


@dataclass(frozen=True, slots=True)
class PriceLesson:
    """What a kilogram was last paid in the middle, and what the market's packs say [smallest coin]."""

    food: str
    name: str
    times: int
    paid_per_kg: float
    listed_per_kg: float


@dataclass(frozen=True, slots=True)
class Lessons:
    """All that was learnt, each kind by name."""

    lives: tuple[LifeLesson, ...]
    names: tuple[NameLesson, ...]
    pots: tuple[PotLesson, ...]
    prices: tuple[PriceLesson, ...]
    currency: str


def view(household: Household) -> Lessons:
    """What this house has taught so far."""
    book = books.load_book(household)
    here = {offer.food for offer in book.offers} | {lot.food for lot in book.lots if lot.food}
    factors = learned.factors(household, here, book.house)
    lives = (LifeLesson(food, foods.short(food), factor) for food, factor in factors.items() if factor != 1.0)
    names = (NameLesson(said, code, foods.short(code)) for said, code in taught.names(household).items())
    return Lessons(
        tuple(sorted(lives, key=lambda one: one.name)),
        tuple(sorted(names, key=lambda one: one.said)),
        tuple(_pots(household, book)),
        tuple(_prices(household, book)),
        book.house.currency,
    )


def _pots(household: Household, book: Book) -> list[PotLesson]:
    weighed = cooked.of_book(household, book)
    return [
        PotLesson(dish.id, dish.name, len(weighed[dish.id]), median(w.grams / w.portions for w in weighed[dish.id]))
        for dish in sorted(book.dishes, key=lambda d: d.name)
        if weighed.get(dish.id)
    ]


def _prices(household: Household, book: Book) -> list[PriceLesson]:
    """Foods whose price has moved away from what the market's packs say."""
    paid: defaultdict[str, list[float]] = defaultdict(list)
    for seen in ledger.prices(household, newest=MOST_PRICES):
        if seen.grams > 0 and seen.price > 0:
            paid[seen.food].append(1000 * seen.price / seen.grams)
    found = []
    for food, per_kg in paid.items():
        listed = [1000 * o.price / o.grams for o in book.offers if o.food == food]
        now = median(per_kg[-RECENT_PRICES:])
        if listed and abs(now - min(listed)) > _MOVED * now:
            found.append(PriceLesson(food, foods.short(food), len(per_kg), now, min(listed)))
    return sorted(found, key=lambda one: one.name)


def take_price(household: Household, food: str, now: datetime) -> None:
    """From now on plans reckon with what was paid: every pack of the food is priced so."""
    book = books.load_book(household)
    lesson = next((one for one in _prices(household, book) if one.food == food), None)
    if lesson is None:
        raise InputError({"price": (f"nothing new was learnt of what {foods.short(food)} costs",)})
    share = lesson.paid_per_kg / lesson.listed_per_kg
    with ledger.action(household, now, "take over the price paid", lesson.name) as recorder:
        books.save_offers(recorder, tuple(_priced(offer, food, share) for offer in book.offers))


def _priced(offer: Offer, food: str, share: float) -> Offer:
    return replace(offer, price=round(offer.price * share)) if offer.food == food else offer


def forget_name(household: Household, said: str, now: datetime) -> None:
    """The name means nothing special any more."""
    if said not in taught.names(household):
        raise InputError({"name": (f"{said!r} was not taught",)})
    with ledger.action(household, now, "forget a name", said) as recorder:
        marks.write(recorder, marks.NAME, said, None)
