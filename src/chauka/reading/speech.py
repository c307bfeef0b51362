"""Numbers, amounts and times in running speech: "half a teaspoon", "five or six", "twenty, twenty-five of them"."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from enum import Enum
from functools import cache

from chauka.reading.spoken_numbers import Token, number_at, upper_at
from chauka.reading.words import too_long, words

_MINUTES = {"minute": 1.0, "min": 1.0, "hour": 60.0, "hr": 60.0, "second": 1 / 60, "sec": 1 / 60, "day": 1440.0}
_PEOPLE = frozenset(
    {"people", "persons", "person", "servings", "serving", "portions", "portion", "adults", "eaters", "helpings"}
)
_BETWEEN = frozenset({
    "more", "big", "small", "large", "heaped", "heaping", "level", "full", "good", "generous", "scant", "whole", "flat",
    "tiny", "nice", "proper", "extra", "medium", "long", "another", "little", "of",
})  # fmt: skip
_NO_UNIT = frozenset(
    {"c", "l", "g", "no", "number", "numbers", "in piece", "can", "roll", "part", "parts", "fist", "ear", "head", "bar"}
)
_TOKEN = re.compile(r"[^\W\d_]+(?:['’-][^\W\d_]+)*|\d+\s*/\s*\d+|\d+(?:\.\d+)?|[½¼¾⅓⅔⅛]|[^\w\s]")


class Kind(Enum):
    """What a number counts."""

    FOOD = "food"
    MINUTES = "minutes"
    WHISTLES = "whistles"
    PEOPLE = "people"
    BARE = "bare"


@dataclass(slots=True)
class Quantity:
    """A number as it was said, at tokens `start` … `end` of its sentence."""

    low: float
    high: float
    kind: Kind
    unit: str | None
    start: int
    end: int
    more: bool = False
    size: str | None = None
    words: list[str] = field(default_factory=list)


def tokenize(text: str, cue: int = 0) -> list[Token]:
    """Words, numbers and marks."""
    return [Token(m, cue, m.lower().replace("’", "'")) for m in _TOKEN.findall(text) if not too_long(m)]


def quantities_in(said: list[Token]) -> list[Quantity]:
    """Every number of a sentence with what it counts, in order."""
    found: list[Quantity] = []
    at = 0
    while at < len(said):
        quantity = _quantity(said, at)
        if quantity:
            found.append(quantity)
            at = max(quantity.end, at + 1)
        else:
            at += 1
    return found


def _quantity(said: list[Token], at: int) -> Quantity | None:
    number = number_at(said, at)
    if number is None:
        return _one_of(said, at)
    low, end = number
    high = low
    upper = upper_at(said, end, low)
    if upper:
        high, end = upper
    return _counted(said, at, end, low, high)


def _one_of(said: list[Token], at: int) -> Quantity | None:
    """ "A pinch", "another cup", "a couple of", "the dozen": an article before a unit."""
    article, behind = said[at].low, said[at + 1].low if at + 1 < len(said) else ""
    if article not in ("a", "an", "another", "the"):
        return None
    if behind in ("couple", "dozen"):
        many = 2.0 if behind == "couple" else 12.0
        return _counted(said, at, at + 2, many, many)
    quantity = _counted(said, at, at + 1, 1.0, 1.0)
    return None if article == "the" or quantity.kind is Kind.BARE or _is_manner(said, at, quantity) else quantity


def _is_manner(said: list[Token], at: int, quantity: Quantity) -> bool:
    """Whether the words name a thing and no amount: "in a tin", "with a ladle", "on a day like this"."""
    behind = said[quantity.end].low if quantity.end < len(said) else ""
    held = quantity.unit in words().set_of("containers") | {"bowl", "glass"}
    tool = at > 0 and said[at - 1].low in ("with", "using") and quantity.unit in ("ladle", "spoon", "stick")
    day = quantity.kind is Kind.MINUTES and quantity.low not in (1.0, 60.0)
    return ((held or tool) and behind != "of") or day


def _counted(said: list[Token], start: int, end: int, low: float, high: float) -> Quantity:
    """The quantity with the unit behind it, if there is one within a few words of size."""
    quantity = Quantity(low, high, Kind.BARE, None, start, end)
    quantity.more = said[start].low == "another"
    if [t.low for t in said[end : end + 2]] == ["of", "us"]:
        quantity.kind, quantity.end = Kind.PEOPLE, end + 2
        return quantity
    at = _past_sizes(said, end, quantity)
    if at >= len(said):
        return quantity
    kind, per, at = _kind_at(said, at)
    if kind is None:
        return _of_unit(said, quantity, at)
    quantity.kind, quantity.low, quantity.high, quantity.end = kind, low * per, high * per, at + 1
    _second_thought(said, quantity, low, per)
    return quantity


def _past_sizes(said: list[Token], end: int, quantity: Quantity) -> int:
    """The place behind "more", "big", "heaped" and "of a"; what they say is remembered."""
    at = end + 2 if [t.low for t in said[end : end + 2]] in (["of", "a"], ["of", "an"]) else end
    while at < len(said) and said[at].low in _BETWEEN and at - end < 4:
        quantity.more |= said[at].low in ("more", "another", "extra")
        quantity.words.append(said[at].low)
        at += 1
    return at


def _kind_at(said: list[Token], at: int) -> tuple[Kind | None, float, int]:
    """What the word counts, how many minutes it holds, and its place ("two hungry people": one further)."""
    word = said[at].low.rstrip(".")
    per = _MINUTES.get(word.removesuffix("s"))
    if per is not None:
        return Kind.MINUTES, per, at
    if word in ("whistle", "whistles", "seeti", "seetis"):
        return Kind.WHISTLES, 1.0, at
    if word in _PEOPLE:
        return Kind.PEOPLE, 1.0, at
    if at + 1 < len(said) and said[at + 1].low in _PEOPLE and word.isalpha():
        return Kind.PEOPLE, 1.0, at + 1
    return None, 1.0, at


def _second_thought(said: list[Token], quantity: Quantity, low: float, per: float) -> None:
    """ "A minute, maybe two": the upper end behind the unit."""
    behind = [t.low for t in said[quantity.end : quantity.end + 2]]
    if behind[:1] == [","] and behind[1:] and behind[1] in ("maybe", "or", "perhaps", "sometimes"):
        number = number_at(said, quantity.end + 2)
        if number and number[0] > low:
            quantity.high, quantity.end = number[0] * per, number[1]


def _of_unit(said: list[Token], quantity: Quantity, at: int) -> Quantity:
    spellings = _spellings()
    for length in (2, 1):
        spelt = " ".join(t.low for t in said[at : at + length])
        if spelt in spellings and spelt not in _NO_UNIT:
            quantity.kind, quantity.unit, quantity.end = Kind.FOOD, spellings[spelt], at + length
            if quantity.unit == "inch" and said[at + 1 : at + 2] and said[at + 1].low in ("piece", "pieces"):
                quantity.end += 1
            break
    quantity.size = next((w for w in quantity.words if w in ("small", "medium", "large", "big", "long")), None)
    return quantity


@cache
def _spellings() -> dict[str, str]:
    found = {spelling: unit for unit, spellings in words().units.items() for spelling in (*spellings, unit)}
    return found | {
        "table spoon": "tablespoon",
        "table spoons": "tablespoon",
        "tea spoon": "teaspoon",
        "tea spoons": "teaspoon",
    }
