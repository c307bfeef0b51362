"""One food: its season, how it keeps, the dishes that use it, what the market asks and what was paid."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from chauka import composition, keeping, season, tables
from chauka.composition import ReferenceKind
from chauka.errors import InputError
from chauka.kitchen import Dish, Form, House, Offer, Place, PriceSeen
from chauka.services import foods
from chauka.services.intake import NUTRIENTS
from chauka.services.market import MOST_PRICES, bought_form
from chauka.store import books, ledger
from chauka.store.models import Household

PLACES = (Place.FRIDGE, Place.COUNTER, Place.CUPBOARD, Place.FREEZER)


WORTH_SAYING = 0.15
"""A food is good for what 100 g of it give at least this share of [share of a day's reference]."""

MOST_GOOD = 5
_ADULT_YEARS = 18


@dataclass(frozen=True, slots=True)
class GoodFor:
    """One nutrient of which 100 g of the raw food give much: the amount, and its share of an adult's day here."""

    name: str
    amount: float
    unit: str
    share: float


@dataclass(frozen=True, slots=True)
class FoodPage:
    """Everything that the house knows about one food."""

    code: str
    name: str
    table_name: str
    names: tuple[tuple[str, str], ...]
    standing: season.Standing
    keeps: tuple[tuple[Place, keeping.Life], ...]
    dishes: tuple[Dish, ...]
    offers: tuple[Offer, ...]
    prices: tuple[PriceSeen, ...]
    here_g: float
    currency: str
    good_for: tuple[GoodFor, ...] = ()


def view(household: Household, code: str, now: datetime) -> FoodPage:
    """The page of one food by its code. Raises `InputError` where no table has it."""
    if code not in tables.foods():
        raise InputError({"food": (f"no table has a food of code {code!r}",)})
    book = books.load_book(household)
    food, form = tables.food(code), bought_form(code, book)
    lives = [
        (place, keeping.food_life(code, Form.FROZEN if place is Place.FREEZER else form, place, book.house))
        for place in PLACES
    ]
    return FoodPage(
        code=code,
        name=foods.short(code),
        table_name=food.name,
        names=_local_names(food),
        standing=season.standing(code, now.month, book.house.region),
        keeps=tuple((place, life) for place, life in lives if life.known),
        dishes=tuple(sorted((d for d in book.dishes if code in d.foods), key=lambda d: (d.base != code, d.name))),
        offers=tuple(offer for offer in book.offers if offer.food == code),
        prices=ledger.prices(household, code, newest=MOST_PRICES),
        here_g=sum(lot.grams for lot in book.lots if lot.food == code),
        currency=book.house.currency,
        good_for=_good_for(food, book.house, now),
    )


def _good_for(food: tables.Food, house: House, now: datetime) -> tuple[GoodFor, ...]:
    """What the food is good for, against the reference of the house's first adult; the most first."""
    adult = next((p for p in house.people if p.age_years(now.date()) >= _ADULT_YEARS), house.people[0])
    wanted = composition.reference(adult, now.date())
    found = []
    for tag, (name, unit) in NUTRIENTS.items():
        value, reference = food.nutrients.get(tag), wanted.get(tag)
        if value is None or value.mean is None or reference is None or reference.kind is ReferenceKind.CEILING:
            continue
        share = value.mean / reference.value if reference.value else 0.0
        if tag != "ENERC_KCAL" and share >= WORTH_SAYING:
            found.append(GoodFor(name, value.mean, unit, share))
    return tuple(sorted(found, key=lambda one: -one.share)[:MOST_GOOD])


MOST_NAMES = 5


def _local_names(food: tables.Food) -> tuple[tuple[str, str], ...]:
    """Language and name, each name once, the first few."""
    found = {names[0]: lang for lang, names in food.names.items() if lang != "en" and names}
    return tuple((lang, name) for name, lang in list(found.items())[:MOST_NAMES])
