"""Numbers as they are spoken: "twenty-five", "one and a half", "three quarters", "two hundred and fifty"."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19,
}  # fmt: skip
_TENS = {"twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90}
_MORE = {"hundred": 100.0, "thousand": 1000.0}
_PARTS = {"half": 0.5, "quarter": 0.25, "quarters": 0.25, "third": 1 / 3, "thirds": 1 / 3}
_HINDI = {
    "ek": 1.0, "teen": 3.0, "chaar": 4.0, "paanch": 5.0, "adha": 0.5, "aadha": 0.5, "aadhi": 0.5, "dedh": 1.5,
    "dhai": 2.5,
}  # fmt: skip
_SIGNS = {"½": 0.5, "¼": 0.25, "¾": 0.75, "⅓": 1 / 3, "⅔": 2 / 3, "⅛": 0.125}
_AND_A_PART = (("and", "a", "half"), ("and", "a", "quarter"), ("and", "half"), ("and", "quarter"))
_DOUBT = frozenset({"maybe", "even", "sometimes", "or", "at", "most", ","})

Found = tuple[float, int]
"""A number and the place behind it."""


@dataclass(frozen=True, slots=True)
class Token:
    """A word or a mark and the cue it stands in."""

    text: str
    cue: int
    low: str
    """The word in lower case, with plain apostrophes."""


def number_at(said: Sequence[Token], at: int) -> Found | None:
    """The number at a place: in figures, as a part ("half a"), in words, or in Hindi."""
    if at >= len(said):
        return None
    return _in_figures(said, at) or _part(said, at) or _in_words(said, at)


def upper_at(said: Sequence[Token], at: int, low: float) -> Found | None:
    """The upper end of a range: "to six", "or six", "- 6", ", twenty-five"; also "maybe six"."""
    if at >= len(said) or said[at].low not in (",", "-", "–", "to", "or"):
        return None
    mark, after = said[at].low, at + 1
    while after < len(said) and said[after].low in _DOUBT:
        after += 1
    number = number_at(said, after)
    return number if number and number[0] > low and (mark != "," or number[0] <= 2 * low) else None


def _in_figures(said: Sequence[Token], at: int) -> Found | None:
    word = said[at].low
    value = _figure(word)
    if value is None:
        return None
    part = _fraction(said[at + 1].low) if at + 1 < len(said) else None
    if part is not None and value == int(value) and "/" not in word and word not in _SIGNS:
        return value + part, at + 2
    return value, at + 1


def _part(said: Sequence[Token], at: int) -> Found | None:
    """ "Half a", "a quarter", and the Hindi numbers."""
    word, behind = said[at].low, said[at + 1].low if at + 1 < len(said) else ""
    if word in ("half", "quarter"):
        return _PARTS[word], at + 2 if behind in ("a", "an") else at + 1
    if word == "a" and behind in ("half", "quarter", "third"):
        return _PARTS[behind], at + 2
    return (_HINDI[word], at + 1) if word in _HINDI else None


def _in_words(said: Sequence[Token], at: int) -> Found | None:
    found = _whole(said, at)
    if found is None:
        return None
    whole, end = found
    behind = tuple(t.low for t in said[end : end + 3])
    if behind and behind[0] in ("quarters", "quarter", "thirds", "third") and whole < 4:
        return whole * _PARTS[behind[0]], end + 1
    part = next((p for p in _AND_A_PART if behind[: len(p)] == p), None)
    return (whole + _PARTS[part[-1]], end + len(part)) if part else found


def _whole(said: Sequence[Token], at: int) -> Found | None:
    """Hundreds and what follows them are added up."""
    found = _below_hundred(said, at)
    if found is None or found[1] >= len(said) or said[found[1]].low not in _MORE:
        return found
    value, end = found[0] * _MORE[said[found[1]].low], found[1] + 1
    after = end + 1 if end < len(said) and said[end].low == "and" else end
    rest = _below_hundred(said, after) if after < len(said) else None
    return (value + rest[0], rest[1]) if rest else (value, end)


def _below_hundred(said: Sequence[Token], at: int) -> Found | None:
    word, behind = said[at].low, said[at + 1].low if at + 1 < len(said) else ""
    if word == "a" and behind in _MORE:
        return 1.0, at + 1
    first, hyphen, second = word.partition("-")
    if hyphen and first in _TENS and second in _ONES:
        return float(_TENS[first] + _ONES[second]), at + 1
    if hyphen and first in _ONES and second in _PARTS:
        return _ONES[first] * _PARTS[second], at + 1
    if word in _TENS and _ONES.get(behind, 99) < 10:
        return float(_TENS[word] + _ONES[behind]), at + 2
    value = _TENS.get(word) or _ONES.get(word)
    return (float(value), at + 1) if value else None


def _figure(word: str) -> float | None:
    if word in _SIGNS or "/" in word:
        return _fraction(word)
    return float(word) if word.replace(".", "", 1).isdecimal() else None


def _fraction(word: str) -> float | None:
    if word in _SIGNS:
        return _SIGNS[word]
    top, _, bottom = word.partition("/")
    if not (top.strip().isdecimal() and bottom.strip().isdecimal()) or not float(bottom):
        return None
    return float(top) / float(bottom)
