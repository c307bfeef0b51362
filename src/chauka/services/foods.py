"""Foods by the names that people use for them."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable
from functools import cache

from chauka import tables
from chauka.errors import DataError, InputError
from chauka.kitchen import Book, Dish


def name(code: str) -> str:
    """The food's name; the code itself where no table has it."""
    try:
        return tables.food(code).name
    except DataError:
        return code


@cache
def _kitchen_names() -> dict[str, str]:
    """The first kitchen name of each food that has one ("spinach", "lemon")."""
    names: dict[str, str] = {}
    for row in tables.rows("food_names"):
        names.setdefault(row["food_code"], row["name"])
    return names


def short(code: str) -> str:
    """What the food is called at a stall or on a shelf, before anybody has worked on it."""
    return _kitchen_names().get(code) or name(code).split(",", maxsplit=1)[0].lower()


@cache
def _devanagari() -> dict[str, str]:
    return {row["food_code"]: row["name"] for row in tables.rows("food_names_hi")}


def in_language(code: str, language: str, otherwise: str = "") -> str:
    """What a food is called in a language (ISO 639); `otherwise`, or its English name, where nobody has said.

    Hindi is in Devanagari where our own list has the food, else in the Latin letters of the composition table.
    """
    if language == "hi" and code in _devanagari():
        return _devanagari()[code]
    known = tables.foods().get(code)
    local = known.names.get(language, ()) if known and language != "en" else ()
    return local[0].lower() if local else otherwise or short(code)


def folded(words: str) -> str:
    """Words as they are looked for: small letters, without the accents of Latin letters."""
    plain = unicodedata.normalize("NFD", words.casefold())
    return unicodedata.normalize("NFC", "".join(c for c in plain if not "\u0300" <= c <= "\u036f"))


@cache
def all_names(code: str) -> str:
    """All names of a food in all languages of the tables, folded."""
    food = tables.foods().get(code)
    if food is None:
        return folded(code)
    kitchen = (row["name"] for row in tables.rows("food_names") if row["food_code"] == code)
    own = _devanagari().get(code, "")
    names = (
        food.name,
        own,
        food.scientific or "",
        *(name for names in food.names.values() for name in names),
        *kitchen,
    )
    return " ".join(dict.fromkeys(folded(name) for name in names))


_called: list[tuple[tuple[Dish, ...], dict[str, str]]] = []
"""The dish books asked about last; they are large, and asked about again and again while they stay the same."""


def called(book: Book) -> dict[str, str]:
    """What this house calls each food: the word that its dishes use most, else the table's name."""
    for dishes, names in _called:
        if dishes is book.dishes:
            return names
    names = _count(book.dishes)
    _called[:] = [(book.dishes, names), *_called[:3]]
    return names


def _count(dishes: Iterable[Dish]) -> dict[str, str]:
    counts: dict[str, dict[str, int]] = {}
    for dish in dishes:
        for line in dish.lines:
            words = counts.setdefault(line.food, {})
            words[line.said] = words.get(line.said, 0) + 1
    return {food: max(words, key=lambda w: (words[w], w)) for food, words in counts.items()}


def resolve(words: str, book: Book) -> str:
    """The code of the food that `words` mean: a code, the house's own word for it, or a table's name.

    Raises `InputError` that names the nearest foods when it is not certain which is meant.
    """
    wanted = words.strip()
    if wanted in tables.foods():
        return wanted
    own = {code for code, said in called(book).items() if said.casefold() == wanted.casefold()}
    own |= {code for code, said in _devanagari().items() if said == wanted}
    if len(own) == 1:
        return own.pop()
    found = tables.find_foods(wanted, limit=6)
    exact = [food for food in found if food.name.casefold() == wanted.casefold()] or [
        food for food in found if _bears(wanted, (name for names in food.names.values() for name in names))
    ]
    if len(exact) == 1:
        return exact[0].code
    near = "; ".join(f"{food.name} ({food.code})" for food in exact or found)
    hint = f"did you mean {near}?" if near else "the tables have nothing like it"
    raise InputError({"food": (f"{wanted!r} is not a food that chauka knows for certain; {hint}",)})


def _bears(wanted: str, names: Iterable[str]) -> bool:
    return any(one.casefold() == wanted.casefold() for one in names)
