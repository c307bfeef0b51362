"""The word lists of `words.toml` and `food_words.toml`, and regular expressions made of them."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources
from typing import Any


@dataclass(frozen=True, slots=True)
class Words:
    """Word lists: unit spellings by unit, numbers in words, and the named lists.

    `same` maps a spelling to the word that the tables use; `foods` maps names to food codes.
    """

    units: Mapping[str, tuple[str, ...]]
    numbers: Mapping[str, float]
    lists: Mapping[str, tuple[str, ...]]
    same: Mapping[str, str]
    foods: Mapping[str, str]

    def unit_of(self, spelling: str) -> str:
        """The unit's name for one of its spellings ("tbsp." → "tablespoon")."""
        plain = re.sub(r"\s+", " ", spelling.strip().rstrip(".").lower())
        return _spelt_units()[plain]

    def spelt_units(self) -> Mapping[str, str]:
        """Every spelling of every unit, singular and plural."""
        return _spelt_units()

    def starts(self, name: str) -> re.Pattern[str]:
        """Matches any entry of a list at the start of a text, as whole words."""
        return _pattern(name, r"\A\s*")

    def anywhere(self, name: str) -> re.Pattern[str]:
        """Matches any entry of a list anywhere in a text, as whole words."""
        return _pattern(name, r"(?<!\w)")

    def set_of(self, name: str) -> frozenset[str]:
        """The entries of a list, to ask whether a word is one of them."""
        return _set(name)


@cache
def words() -> Words:
    """The lists, read once."""
    raw, of_foods = _file("words.toml"), _file("food_words.toml")
    return Words(
        units={u: tuple(s) for u, s in raw["units"].items()},
        numbers=raw["numbers"],
        lists={name: tuple(dict.fromkeys(entries)) for name, entries in (raw["lists"] | of_foods["lists"]).items()},
        same=of_foods["same"],
        foods={name: code for code, names in of_foods["foods"].items() for name in names},
    )


def _file(name: str) -> dict[str, Any]:
    return tomllib.loads((resources.files("chauka.reading") / name).read_text(encoding="utf-8"))


MOST_DIGITS = 9
"""A number of more digits is no amount of a kitchen, and is not read as one."""

ABSURD_NUMBER = re.compile(rf"(?<![\d.])\d{{{MOST_DIGITS + 1},}}")


def too_long(token: str) -> bool:
    """Whether a token is a number that nobody means."""
    return len(token) > MOST_DIGITS and ABSURD_NUMBER.search(token) is not None


def alternatives(entries: Iterable[str]) -> str:
    """A regular expression that matches any entry, longest first; a blank in one matches any run of blanks."""
    longest_first = sorted(set(entries), key=lambda e: (-len(e), e))
    return "|".join(re.escape(e).replace(r"\ ", r"\s+") for e in longest_first)


@cache
def _pattern(name: str, before: str) -> re.Pattern[str]:
    return re.compile(f"{before}(?:{alternatives(words().lists[name])})(?![\\w])", re.IGNORECASE)


@cache
def _set(name: str) -> frozenset[str]:
    return frozenset(words().lists[name])


@cache
def _spelt_units() -> Mapping[str, str]:
    return {spelling: unit for unit, spellings in words().units.items() for spelling in (*spellings, unit, f"{unit}s")}
