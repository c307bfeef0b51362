"""Numbers, amounts and times in running speech: "half a teaspoon", "five or six", "twenty, twenty-five of them"."""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from enum import Enum
from functools import cache

from chauka.reading.words import words

_ONES = dict(zip(
    ["one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"], range(1, 20), strict=True,
))  # fmt: skip
_MORE = {"hundred": 100.0, "thousand": 1000.0}
_TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
_PARTS = {"half": 0.5, "quarter": 0.25, "quarters": 0.25, "third": 1 / 3, "thirds": 1 / 3}
_HINDI = {
    "ek": 1.0,
    "teen": 3.0,
    "chaar": 4.0,
    "paanch": 5.0,
    "adha": 0.5,
    "aadha": 0.5,
    "aadhi": 0.5,
    "dedh": 1.5,
    "dhai": 2.5,
}
_SIGNS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125}
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


@dataclass(frozen=True, slots=True)
class Token:
    """A word or a mark and the cue it stands in."""

    text: str
    cue: int

    @property
    def low(self) -> str:
        """The word in lower case, with plain apostrophes."""
        return self.text.lower().replace("’", "'")


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
    return [Token(m, cue) for m in _TOKEN.findall(text)]


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
    number = _number(said, at)
    if number is None:
        return _one_of(said, at)
    low, end = number
    high = low
    upper = _upper(said, end, low)
    if upper:
        high, end = upper
    return _counted(said, at, end, low, high)


def _one_of(said: list[Token], at: int) -> Quantity | None:
    """ "a pinch", "another cup", "a couple of": an article before a unit."""
    if said[at].low not in ("a", "an", "another", "the"):
        return None
    if said[at + 1 : at + 2] and said[at + 1].low == "couple":
        return _counted(said, at, at + 2, 2.0, 2.0)
    if said[at + 1 : at + 2] and said[at + 1].low == "dozen":
        return _counted(said, at, at + 2, 12.0, 12.0)
    if said[at].low == "the":
        return None
    quantity = _counted(said, at, at + 1, 1.0, 1.0)
    behind = said[quantity.end].low if quantity.end < len(said) else ""
    if quantity.unit in words().set_of("containers") | {"bowl", "glass"} and behind != "of":
        return None  # "keep them in a tin"
    if at and said[at - 1].low in ("with", "using") and behind != "of" and quantity.unit in ("ladle", "spoon", "stick"):
        return None  # "mash them with a ladle"
    if quantity.kind is Kind.MINUTES and quantity.low not in (1.0, 60.0):
        return None  # "on a day like this"
    return quantity if quantity.kind is not Kind.BARE else None


def _upper(said: list[Token], at: int, low: float) -> tuple[float, int] | None:
    """The upper end of a range: "to six", "or six", "- 6", ", twenty-five"; also "maybe six"."""
    after = at
    if after < len(said) and said[after].low in (",", "-", "–", "to", "or"):
        mark = said[after].low
        after += 1
        while after < len(said) and said[after].low in ("maybe", "even", "sometimes", "or", "at", "most", ","):
            after += 1
        number = _number(said, after)
        if number and number[0] > low and (mark != "," or number[0] <= 2 * low):
            return number
    return None


def _number(said: list[Token], at: int) -> tuple[float, int] | None:
    """A number at this place and the place behind it."""
    if at >= len(said):
        return None
    word = said[at].low
    value = _digits(word)
    if value is not None:
        if (
            at + 1 < len(said)
            and (part := _fraction(said[at + 1].low)) is not None
            and value == int(value)
            and "/" not in word
        ):
            return value + part, at + 2
        return value, at + 1
    if word in _PARTS and word in ("half", "quarter"):
        after = at + 1
        if after < len(said) and said[after].low in ("a", "an"):
            after += 1
        return _PARTS[word], after
    if word in _HINDI:
        return _HINDI[word], at + 1
    if word == "a" and said[at + 1 : at + 2] and said[at + 1].low in ("half", "quarter", "third"):
        return _PARTS[said[at + 1].low], at + 2
    whole, end = _spelt(said, at)
    if whole is None:
        return None
    behind = [t.low for t in said[end : end + 4]]
    if behind[:1] and behind[0] in ("quarters", "quarter", "thirds", "third") and whole < 4:
        return whole * _PARTS[behind[0]], end + 1
    for pattern in (("and", "a", "half"), ("and", "a", "quarter"), ("and", "half"), ("and", "quarter")):
        if tuple(behind[: len(pattern)]) == pattern:
            return whole + _PARTS[pattern[-1]], end + len(pattern)
    return whole, end


def _spelt(said: list[Token], at: int) -> tuple[float | None, int]:
    """A number in words; hundreds and what follows them are added up."""
    value, end = _below_hundred(said, at)
    if value is None or end >= len(said) or said[end].low not in _MORE:
        return value, end
    value *= _MORE[said[end].low]
    end += 1
    after = end + 1 if end < len(said) and said[end].low == "and" else end
    rest, rest_end = _below_hundred(said, after) if after < len(said) else (None, end)
    return (value + rest, rest_end) if rest is not None else (value, end)


def _below_hundred(said: list[Token], at: int) -> tuple[float | None, int]:
    word = said[at].low
    if word == "a" and said[at + 1 : at + 2] and said[at + 1].low in _MORE:
        return 1.0, at + 1
    if "-" in word:
        first, _, second = word.partition("-")
        if first in _TENS and second in _ONES:
            return float(_TENS[first] + _ONES[second]), at + 1
        if first in _ONES and second in _PARTS:
            return _ONES[first] * _PARTS[second], at + 1
        return None, at
    if word in _TENS:
        if said[at + 1 : at + 2] and _ONES.get(said[at + 1].low, 99) < 10:
            return float(_TENS[word] + _ONES[said[at + 1].low]), at + 2
        return float(_TENS[word]), at + 1
    return (float(_ONES[word]), at + 1) if word in _ONES else (None, at)


def _digits(word: str) -> float | None:
    if word in _SIGNS:
        return _SIGNS[word]
    if not word[0].isdigit():
        return None
    return _fraction(word) if "/" in word else float(word)


def _fraction(word: str) -> float | None:
    if word in _SIGNS:
        return _SIGNS[word]
    top, _, bottom = word.partition("/")
    return float(top) / float(bottom) if bottom.strip() and float(bottom) else None


def _counted(said: list[Token], start: int, end: int, low: float, high: float) -> Quantity:
    """The quantity with the unit behind it, if there is one within a few words of size."""
    quantity = Quantity(low, high, Kind.BARE, None, start, end)
    quantity.more = said[start].low == "another"
    at = end
    if [t.low for t in said[end : end + 2]] == ["of", "us"]:
        quantity.kind, quantity.end = Kind.PEOPLE, end + 2
        return quantity
    if [t.low for t in said[end : end + 2]] in (["of", "a"], ["of", "an"]):
        at = end + 2
    while at < len(said) and said[at].low in _BETWEEN and at - end < 4:
        quantity.more |= said[at].low in ("more", "another", "extra")
        quantity.words.append(said[at].low)
        at += 1
    if at >= len(said):
        return quantity
    word = said[at].low.rstrip(".")
    if (per := _MINUTES.get(word.removesuffix("s"))) is not None:
        quantity.kind, quantity.low, quantity.high = Kind.MINUTES, low * per, high * per
    elif word in ("whistle", "whistles", "seeti", "seetis"):
        quantity.kind = Kind.WHISTLES
    elif word in _PEOPLE:
        quantity.kind = Kind.PEOPLE
    elif at + 1 < len(said) and said[at + 1].low in _PEOPLE and word.isalpha():
        quantity.kind, at = Kind.PEOPLE, at + 1  # "two hungry people"
    else:
        return _of_unit(said, quantity, at)
    quantity.end = at + 1
    behind = [t.low for t in said[at + 1 : at + 3]]
    if behind[:1] == [","] and behind[1:2] and behind[1] in ("maybe", "or", "perhaps", "sometimes"):
        number = _number(said, at + 3)
        if number and number[0] > low:  # "a minute, maybe two"
            per = quantity.high / high
            quantity.high, quantity.end = number[0] * per, number[1]
    return quantity


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
