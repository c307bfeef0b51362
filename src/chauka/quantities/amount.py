"""An amount as a cook writes it ("1½ cups", "3–4 medium", "1 cup + 2 tbsp") → numbers and units, and back."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from chauka.errors import InputError
from chauka.quantities.units import MASSES, PLURALS, SPELLINGS, Size, Unit

_VULGAR = {
    "½": "1/2", "⅓": "1/3", "⅔": "2/3", "¼": "1/4", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8",
    "⅕": "1/5", "⅖": "2/5", "⅗": "3/5", "⅘": "4/5", "⅙": "1/6", "⅚": "5/6",
}  # fmt: skip
_SIGNS = {Fraction(text): sign for sign, text in _VULGAR.items()}
_WORDS: dict[str, int | Fraction] = {
    "a": 1, "an": 1, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8,
    "nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "half": Fraction(1, 2), "quarter": Fraction(1, 4),
}  # fmt: skip
_NUMBER = r"\d+ \d+/\d+|\d+/\d+|\d*\.\d+|\d+|" + "|".join(sorted(_WORDS, key=len, reverse=True))
_PART = re.compile(
    rf"(?P<low>(?:{_NUMBER})(?![\d/.]))\s*(?:(?:-|to)\s*(?P<high>(?:{_NUMBER})(?![\d/.])))?\s*(?P<rest>.*)"
)
_FILLERS = frozenset({"of", "about", "approx", "approximately", "level", "size", "sized", "a", "an", "piece", "pieces"})
_HELP = 'write a number and a unit, as in "1½ cups", "2 tsp", "3 medium" or "250 g"'
_SIZES = frozenset(size.value for size in Size)
_MOST = 100_000
_LONGEST = 200


@dataclass(frozen=True, slots=True)
class Amount:
    """So many of a unit, from `low` to `high`; `size` is of a piece."""

    low: Fraction
    high: Fraction
    unit: Unit
    size: Size | None = None

    @property
    def mid(self) -> float:
        """The middle of the range."""
        return float(self.low + self.high) / 2

    def __str__(self) -> str:
        number = _number_text(self.low)
        if self.high != self.low:
            number += f"–{_number_text(self.high)}"
        if self.size:
            return f"{number} {self.size}"
        return f"{number} {PLURALS.get(self.unit, self.unit) if self.high > 1 else self.unit}"


def read_amount(text: str) -> tuple[Amount, ...]:
    """The amounts that `text` adds up; more than one where it says "1 cup + 2 tbsp".

    Raises `InputError` with the text and what to write instead.
    """
    if len(text) > _LONGEST:
        raise InputError({"amount": (f"{text[:40]!r} … is longer than {_LONGEST} characters; {_HELP}",)})
    plain = " ".join(_plain(text).split())
    return tuple(_read_part(part.strip(), text) for part in re.split(r"\+|\bplus\b", plain))


def say(amounts: tuple[Amount, ...]) -> str:
    """The amounts in words; reading them again gives the same amounts."""
    return " + ".join(str(amount) for amount in amounts)


def _plain(text: str) -> str:
    """Lower case, with plain hyphens and fractions; a bracket at the end is a remark."""
    text = re.sub(r"\s*\([^()]*\)\s*$", "", text.lower())
    for sign, plain in _VULGAR.items():
        text = text.replace(sign, f" {plain}")
    return text.replace("⁄", "/").replace("–", "-").replace("—", "-").replace("‒", "-").replace("a few", "3 - 4")


def _read_part(part: str, text: str) -> Amount:
    part = re.sub(r"^(?:about|approx\.?|approximately|around)\s+", "", part)
    found = _PART.fullmatch(part)
    if not found:
        raise InputError({"amount": (f"{text!r} does not begin with a number; {_HELP}",)})
    low = _number(found["low"], text)
    high = _number(found["high"], text) if found["high"] else low
    if high < low:
        raise InputError({"amount": (f"{text!r} runs from the larger number to the smaller; turn them round",)})
    if high > _MOST:
        raise InputError({"amount": (f"{text!r} is more than a household cooks; check the number",)})
    unit, size = _unit(found["rest"], text)
    return Amount(low, high, unit, size)


def _number(text: str, whole: str) -> Fraction:
    if text in _WORDS:
        return Fraction(_WORDS[text])
    try:
        return sum((Fraction(part) for part in text.split()), Fraction(0))
    except ZeroDivisionError:
        raise InputError({"amount": (f"{whole!r} divides by nought; {_HELP}",)}) from None


def _unit(rest: str, text: str) -> tuple[Unit, Size | None]:
    """The unit and size that the words after the number name; no word is a count of pieces."""
    words = [w.strip(".,-") or w for w in rest.replace("-", " ").split()]
    sizes = [Size(w) for w in words if w in _SIZES]
    named = [SPELLINGS[w] for w in words if w in SPELLINGS]
    unknown = [w for w in words if w not in _SIZES and w not in SPELLINGS and w not in _FILLERS]
    units = [u for u in named if u is not Unit.PIECE] or named
    if unknown or len(set(units)) > 1 or len(sizes) > 1:
        known = ", ".join(Unit)
        what = " ".join(unknown) or rest
        raise InputError({"amount": (f"{text!r}: {what!r} is not a unit; the units are {known}",)})
    unit = units[0] if units else Unit.PIECE
    if sizes and unit in MASSES:
        raise InputError({"amount": (f"{text!r} gives a weight and a size; one of them is enough",)})
    return unit, sizes[0] if sizes and unit is Unit.PIECE else None


def _number_text(number: Fraction) -> str:
    whole, part = divmod(number, 1)
    if not part:
        return str(whole)
    if part in _SIGNS:
        return f"{whole or ''}{_SIGNS[part]}"
    decimal = f"{float(number):.10g}"
    if Fraction(decimal) == number and "e" not in decimal:
        return decimal
    return f"{whole} {part}" if whole else str(part)
