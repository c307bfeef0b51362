"""What finished dishes weighed in this house: written into the ledger, and trusted the next time.

A COOKED row counts whose reason says that the pot was on the scale, unless it was taken back or the recipe has
changed since: a weight that was planned or reckoned teaches nothing. The reason also says for how many portions it was;
where it does not, the dish's own count is taken.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from chauka import composition
from chauka.composition import Weighed
from chauka.errors import InputError
from chauka.kitchen import Book, Deed, Dish, LedgerRow
from chauka.services import shelf
from chauka.store import books, ledger, models, undo
from chauka.store.mapping import stock
from chauka.store.models import Household

_ON_THE_SCALE = "weighed"
_PORTIONS = re.compile(r"(\d+(?:\.\d+)?) portions?\b")
_MOST_TIMES_THE_ESTIMATE = 4.0  # a pot four times as heavy or as light as reckoned is a slip of the unit; policy


@dataclass(frozen=True, slots=True)
class Weighing:
    """A pot that was put on the scale: what it weighed, for so many portions, and what chauka had reckoned."""

    dish: str
    name: str
    grams: float
    portions: float
    reckoned_g: float
    reckoned_how: str


def weigh(household: Household, dish_id: str, weight: str, now: datetime, *, portions: float | None = None) -> Weighing:
    """Write down what a finished dish weighs ("1.2 kg", without the pot), and for how many portions it was made.

    Raises `InputError` for a weight that cannot be read or cannot be right, and for a dish that is not in the book.
    """
    dish = books.load_book(household).dish(dish_id)
    found = read_weight(household, dish, weight, dish.portions if portions is None else portions)
    with ledger.action(household, now, "weigh a dish", f"{dish.name}: {found.grams:g} g") as recorder:
        recorder.did(row(dish, now, portions=found.portions, grams=found.grams))
    return found


def row(dish: Dish, now: datetime, *, portions: float, grams: float | None, minutes: float | None = None) -> LedgerRow:
    """The ledger's row of a dish that was cooked; `grams` as read off a scale, None where nobody weighed it."""
    why = f"{_ON_THE_SCALE if grams else f'not {_ON_THE_SCALE}'}, for {portions:g} portions"
    return LedgerRow(at=now, deed=Deed.COOKED, grams=grams or 0.0, dish=dish.id, minutes=minutes, why=why)


def read_weight(household: Household, dish: Dish, weight: str, made: float) -> Weighing:
    """What a finished dish weighs, beside what was reckoned. Raises `InputError` where it cannot be right."""
    if made <= 0:
        raise InputError({"portions": (f"{made:g} must be above zero",)})
    grams = shelf.bare_grams(weight)
    if grams is None:
        raise InputError({"weight": (f"{weight!r} is no weight; write it as in 850 g or 1.2 kg",)})
    reckoned = composition.dish_nutrients(dish, weighed_before=of_dish(household, dish))
    expected = reckoned.portion_g.mean * made
    if not expected / _MOST_TIMES_THE_ESTIMATE <= grams <= expected * _MOST_TIMES_THE_ESTIMATE:
        said = f"{grams:g} g for {made:g} portions cannot be right: about {expected:.0f} g was reckoned"
        raise InputError({"weight": (f"{said}; check the unit, the portions, and that the pot is taken off",)})
    return Weighing(dish.id, dish.name, grams, made, expected, reckoned.how)


def of_dish(household: Household, dish: Dish) -> tuple[Weighed, ...]:
    """The weighings of one dish that still hold, oldest first."""
    rows = _rows(household).get(dish.id)
    return _holding(household, dish, rows) if rows else ()


def of_book(household: Household, book: Book) -> Mapping[str, tuple[Weighed, ...]]:
    """The weighings of every dish of a book that was ever weighed."""
    rows = _rows(household)
    return {dish.id: _holding(household, dish, rows[dish.id]) for dish in book.dishes if dish.id in rows}


def _rows(household: Household) -> dict[str, list[LedgerRow]]:
    """By dish, the rows by which it was cooked, with those that set them right, in the order written."""
    found = models.LedgerRow.objects.of(household).filter(deed=Deed.COOKED.value, dish__isnull=False).order_by("pk")
    by_dish: dict[str, list[LedgerRow]] = {}
    for row in map(stock.deed_of, found):
        by_dish.setdefault(row.dish or "", []).append(row)
    return by_dish


def _holding(household: Household, dish: Dish, rows: Iterable[LedgerRow]) -> tuple[Weighed, ...]:
    changes = undo.of_thing(household, "dish", dish.id)
    there = [row for row in _standing(rows) if _was_weighed(row) and _same_recipe(changes, row.at)]
    return tuple(Weighed(_portions(row, dish), row.grams) for row in there)


def _standing(rows: Iterable[LedgerRow]) -> list[LedgerRow]:
    """The rows that hold: taking one back brings its weight below zero, and taking that back brings it again."""
    there, out = list[LedgerRow](), list[LedgerRow]()
    for row in rows:
        source, goal = (there, out) if row.grams < 0 else (out, there)
        match = next((r for r in reversed(source) if r.grams == abs(row.grams)), None)
        if row.why == undo.COUNTER and match is not None:
            source.remove(match)
            goal.append(match)
        else:
            there.append(row)
    return there


def _was_weighed(row: LedgerRow) -> bool:
    return row.grams > 0 and row.why.startswith(_ON_THE_SCALE)


def _portions(row: LedgerRow, dish: Dish) -> float:
    said = _PORTIONS.search(row.why)
    return float(said[1]) if said and float(said[1]) > 0 else dish.portions


def _same_recipe(changes: Sequence[tuple[int, datetime, str, Any, Any]], at: datetime) -> bool:
    """Whether what goes in, what is done and the number of portions were then as they are now (newest change first)."""
    later = [before for _, when, _, before, _ in changes if when > at]
    return not later or _recipe(later[-1]) == _recipe(changes[0][4])


def _recipe(plain: dict[str, Any] | None) -> tuple[Any, ...]:
    return () if plain is None else (plain["lines"], plain["steps"], plain["portions"])
