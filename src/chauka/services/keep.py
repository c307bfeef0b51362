"""How long something keeps, and why: asked in the cook's words, with or without a book."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime

from chauka import keeping
from chauka.errors import InputError
from chauka.kitchen import Book, Dish, Form, House, Lot, Person, Place, Sex
from chauka.services import foods, learned
from chauka.store.models import Household

_ANYONE = Person("anyone", "Anyone", Sex.FEMALE, date(1990, 1, 1), 60.0)


@dataclass(frozen=True, slots=True)
class Answer:
    """Until when something keeps and why; `last_day` is the last day to plan it, `learnt` what this house taught."""

    name: str
    lot: Lot
    temp_c: float
    use_by: keeping.UseBy
    last_day: date
    cautions: tuple[keeping.Caution, ...]
    learnt: keeping.HouseFactor | None
    buy: str


def blank_book() -> Book:
    """A book with a plain house, for asking where there is none yet: 7 °C, a room of 25 °C, nobody at risk."""
    return Book(house=House("no book", (_ANYONE,), 2, (), (), ()), dishes=(), offers=(), lots=())


def ask(
    words: str,
    book: Book,
    since: datetime,
    *,
    household: Household | None = None,
    place: Place = Place.FRIDGE,
    covered: bool = True,
    age_days: float | None = None,
    fridge_c: float | None = None,
    room_c: float | None = None,
    history: Sequence[keeping.Stay] = (),
    beside: Sequence[str] = (),
) -> Answer:
    """How long what `words` name keeps since a moment: "spinach, picked", a dish of the book, a food's code.

    `age_days` None means as old as such food usually is when it comes home. Raises `InputError` for a food
    that is not known, and for temperatures out of reason.
    """
    house = _at(book.house, fridge_c, room_c)
    dish = next((d for d in book.dishes if words.strip().casefold() in (d.id, d.name.casefold())), None)
    if dish is not None:
        lot = Lot("asked", 100, Form.COOKED, place, since, dish=dish.id, age_days=age_days or 0.0)
        return _of_dish(dish, lot, house, history)
    said, form = _split(words)
    food = foods.resolve(said, book)
    if age_days is None:
        age_days = keeping.MARKET_AGE_DAYS if keeping.is_fresh(food, form) else 0.0
    lot = Lot("asked", 100, form, place, since, food=food, age_days=age_days, covered=covered)
    learnt = learned.factor(household, food) if household is not None else None
    near = [foods.resolve(one, book) for one in beside]
    use_by = keeping.lot_use_by(lot, house, history=history, house_factor=learnt.factor if learnt else 1.0, beside=near)
    return Answer(
        f"{foods.short(food)}, {form}" if form is not Form.WHOLE else foods.short(food),
        lot,
        keeping.temperature_c(place, house),
        use_by,
        keeping.last_day(use_by),
        keeping.food_cautions(food, form),
        learnt if learnt is not None and learnt.lots else None,
        keeping.buy_at_most(food, house, form).text,
    )


def forget(household: Household, words: str, book: Book, now: datetime) -> str:
    """Forget what a food taught this house; returns the food's name."""
    food = foods.resolve(words, book)
    learned.forget(household, food, now)
    return foods.short(food)


def _of_dish(dish: Dish, lot: Lot, house: House, history: Sequence[keeping.Stay]) -> Answer:
    use_by = keeping.lot_use_by(lot, house, dish, history=history)
    temp_c, last = keeping.temperature_c(lot.place, house), keeping.last_day(use_by)
    return Answer(dish.name, lot, temp_c, use_by, last, keeping.cautions(dish, house.people), None, "")


def _split(words: str) -> tuple[str, Form]:
    """The food and the form of "spinach, picked"; whole, or dry for a dry food, where no form is named."""
    head, _, tail = words.rpartition(",")
    if head and tail.strip().casefold() in set(Form):
        return head.strip(), Form(tail.strip().casefold())
    return words.strip(), Form.WHOLE


def _at(house: House, fridge_c: float | None, room_c: float | None) -> House:
    if room_c is not None and not -20 <= room_c <= 60:
        raise InputError({"room": (f"{room_c:g} °C is no room; give °C",)})
    fridge_c = house.fridge_c if fridge_c is None else fridge_c
    return replace(house, fridge_c=fridge_c, room_c=house.room_c if room_c is None else room_c)
