"""Counts in a step's words ("make fifteen balls") that grow with the dish."""

from __future__ import annotations

import re

_NAMED = (
    "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen", "fourteen",
    "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty",
)  # fmt: skip
_COUNTS = {word: number for number, word in enumerate(_NAMED, 2)}

_MADE = (
    "balls", "breads", "cakes", "chapatis", "discs", "dosas", "dumplings", "flatbreads", "fritters", "idlis", "laddus",
    "pancakes", "parathas", "parcels", "patties", "puris", "rotis", "rounds",
)  # fmt: skip
"""What comes out of a dish one by one. Not pieces or slices: into how many one potato is cut does not change."""

_COUNTED = re.compile(rf"\b(\d+|{'|'.join(_NAMED)})((?: [a-z]+)?? (?:{'|'.join(_MADE)}))\b", re.IGNORECASE)


def counted_text(text: str, factor: float) -> str:
    """The text with what is made one by one counted anew, at least one, the dish made `factor` times as large.

    "Make fifteen balls" for five reads "Make 12 balls" for four.
    """

    def anew(found: re.Match[str]) -> str:
        said = found[1]
        before = int(said) if said.isdigit() else _COUNTS[said.lower()]
        count = max(1, round(before * factor))
        if count == before:
            return found[0]
        return f"{count}{found[2] if count > 1 else _one(found[2])}"

    return _COUNTED.sub(anew, text)


def _one(things: str) -> str:
    """`patties` → `patty`, `balls` → `ball`."""
    return f"{things[:-3]}y" if things.endswith("ies") else things[:-1]
