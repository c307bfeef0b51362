"""The house: what it is, and what is wrong with its book, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from chauka import tables
from chauka.errors import DataError, InputError
from chauka.kitchen import Book, House, Line
from chauka.services import foods
from chauka.store import books, copies, opening, soundness
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class HouseView:
    """A house and how much its book holds."""

    house: House
    dishes: int
    offers: int
    lots: int


@dataclass(frozen=True, slots=True)
class Fault:
    """One thing that is wrong: where, what, and what to do. `stops` means that no plan can be made."""

    where: str
    what: str
    stops: bool


def view(household: Household) -> HouseView:
    """People, equipment, measures, temperatures, money and rules."""
    book = books.load_book(household)
    return HouseView(book.house, len(book.dishes), len(book.offers), len(book.lots))


def check(household: Household, now: datetime, *, thorough: bool = False) -> tuple[Fault, ...]:
    """Everything that is wrong with the household's book; empty when it is whole.

    `thorough` also reads the whole file and follows the ledger from its beginning.
    """
    try:
        book = books.load_book(household)
    except (InputError, ValueError, KeyError) as error:
        return (Fault("book", f"cannot be read: {error}; restore a copy or a dump", stops=True),)
    deep = (*_file(), *_ledger(household)) if thorough else ()
    return (*deep, *faults(book, now))


def _file() -> Iterator[Fault]:
    """Pages of the file that do not fit, and rows that point nowhere."""
    file = opening.file()
    for fault in copies.look_through(file) if file else ():
        yield Fault("file", f"{fault}; restore a copy (`chauka house backup --list`)", stops=True)


def _ledger(household: Household) -> Iterator[Fault]:
    for where, what in soundness.disagreements(household):
        yield Fault(where, f"{what}; restore a copy, or weigh what is there", stops=False)


def refuse_if_wrong(book: Book, now: datetime) -> None:
    """Raise one `InputError` with every fault that stops the planning."""
    stopping: dict[str, list[str]] = {}
    for fault in faults(book, now):
        if fault.stops:
            stopping.setdefault(fault.where, []).append(fault.what)
    if stopping:
        raise InputError(stopping)


def faults(book: Book, now: datetime) -> Iterator[Fault]:
    """What is wrong with a book, the worst first."""
    yield from _unknown_foods(book)
    yield from _lots_from_the_future(book, now)
    yield from _equipment(book)
    yield from _people_and_rules(book)
    yield from _market(book)


def _unknown_foods(book: Book) -> Iterator[Fault]:
    named = [(f"dish {d.id}, line {line.id}", line.food) for d in book.dishes for line in d.lines]
    named += [
        (f"dish {d.id}, line {line.id}, substitute", s.food)
        for d in book.dishes
        for line in d.lines
        for s in line.substitutes
    ]
    named += [(f"offer {o.pack}", o.food) for o in book.offers]
    named += [(f"lot {lot.id}", lot.food) for lot in book.lots if lot.food]
    named += [(f"person {p.name}, aversions", food) for p in book.house.people for food in p.aversions]
    known = tables.foods()
    for where, code in named:
        if code not in known:
            yield Fault(where, _unknown(code), stops=True)


def _unknown(code: str) -> str:
    try:
        tables.food(code)
    except DataError as error:
        return str(error)
    return f"{code!r} is unknown"


def _lots_from_the_future(book: Book, now: datetime) -> Iterator[Fault]:
    for lot in book.lots:
        try:
            lot.check_not_from_the_future(now)
        except InputError as error:
            complaint = "; ".join(words for all_words in error.fields.values() for words in all_words)
            yield Fault(f"lot {lot.id}", f"came in at {complaint}; set the right day", stops=True)


def _equipment(book: Book) -> Iterator[Fault]:
    for dish in book.dishes:
        missing = {s.vessel for s in dish.steps if s.vessel and not book.house.vessel_count(s.vessel)}
        for vessel in sorted(missing):
            yield Fault(
                f"dish {dish.id}", f"needs a {vessel}, and the house has none; it is never planned", stops=False
            )


def _people_and_rules(book: Book) -> Iterator[Fault]:
    house, dishes = book.house, {d.id for d in book.dishes}
    people = {p.id for p in house.people}
    for person in house.people:
        for dish in sorted(set(person.liking) - dishes):
            yield Fault(
                f"person {person.name}", f"is said to like {dish!r}, which is not in the dish book", stops=False
            )
    for rule in house.rules:
        for key in sorted(rule.people - people):
            yield Fault(f"day rule {rule.kind}", f"names {key!r}, who does not live here", stops=False)
    if not house.meal_times:
        yield Fault("house", "has no meal times; say when you eat", stops=True)
    if not book.dishes:
        yield Fault("dishes", "the dish book is empty; write a dish first", stops=True)


def _must_be_had(line: Line, there: set[str]) -> bool:
    """Whether neither the food nor what may stand in for it is there; water comes from the tap."""
    if line.optional or "water" in tables.traits(line.food):
        return False
    return not there & {line.food, *(s.food for s in line.substitutes)}


def _market(book: Book) -> Iterator[Fault]:
    if not book.house.market_weekdays:
        yield Fault("house", "has no market day; only what is on the shelf can be cooked", stops=False)
    sold = {offer.food for offer in book.offers}
    here = {lot.food for lot in book.lots if lot.food}
    for dish in book.dishes:
        gone = sorted({line.food for line in dish.lines if _must_be_had(line, sold | here)})
        if gone:
            names = ", ".join(foods.name(code) for code in gone)
            yield Fault(f"dish {dish.id}", f"needs {names}: neither sold nor on the shelf", stops=False)
