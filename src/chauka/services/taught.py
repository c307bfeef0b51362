"""Names that this house taught: what it calls a food, beyond the names of the tables."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime

from chauka.errors import InputError
from chauka.services import foods
from chauka.store import books, ledger, marks
from chauka.store.models import Household

LONGEST_NAME = 80


def teach(household: Household, name: str, food: str, now: datetime) -> str:
    """From now on `name` means that food (a code, or words that are certain); returns the food's code.

    Raises `InputError` for an empty or overlong name, or a food that is not known for certain. It is
    an action like any other and can be taken back.
    """
    plain = _plain(name)
    if not 0 < len(plain) <= LONGEST_NAME:
        raise InputError({"name": (f"{name!r}: give 1 to {LONGEST_NAME} letters",)})
    code = foods.resolve(food, books.load_book(household))
    with ledger.action(household, now, "teach a name", f"{plain} is {foods.name(code)}") as recorder:
        marks.write(recorder, marks.NAME, plain, code)
    return code


def names(household: Household) -> Mapping[str, str]:
    """Every name that was taught, in small letters, and the food's code."""
    return marks.under(household, marks.NAME, "")


def meant(household: Household) -> Mapping[str, str]:
    """What this house's words mean: the words of its dishes, and above them what it taught."""
    book = books.load_book(household)
    return {said: code for code, said in foods.called(book).items()} | dict(names(household))


def _plain(name: str) -> str:
    return " ".join(name.casefold().split())
