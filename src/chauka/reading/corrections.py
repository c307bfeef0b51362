"""A number said and put right within one sentence."""

from __future__ import annotations

import re
from dataclasses import replace

from chauka.reading.hearing import Heard
from chauka.reading.method_words import method_words
from chauka.reading.pairing import pair
from chauka.reading.speech import Kind, Quantity

Settled = tuple[Quantity, Quantity]
"""What was said first, and what holds."""


def settle(heard: Heard) -> Settled | None:
    """Of two amounts around a word of correction leave only the later in the sentence.

    "Half a cup of, no, make that a full cup of curd"; "a teaspoon of turmeric, no wait, half a teaspoon";
    "not four potatoes, five".
    """
    foods = {id(q): m.key for m, q in pair(heard).foods if q is not None}
    amounts = [q for q in heard.quantities if q.kind is not Kind.PEOPLE]
    settled: Settled | None = None
    first = amounts[0] if amounts else None
    for second in amounts[1:]:
        if first is not None and _puts_right(heard, first, second, foods):
            settled = _merge(heard, first, second, foods)
            first = settled[1]
        else:
            first = second
    return settled


def _puts_right(heard: Heard, first: Quantity, second: Quantity, foods: dict[int, tuple[str, ...]]) -> bool:
    mine, other = foods.get(id(first)), foods.get(id(second))
    if second.more or (mine is not None and other is not None and mine != other):
        return False
    if first.kind is not second.kind and Kind.BARE not in (first.kind, second.kind):
        return False
    between = " ".join(t.low for t in heard.tokens[first.end : second.start])
    denied = first.start > 0 and heard.tokens[first.start - 1].low == "not"
    said_no = re.search(r"\bno\b", between) is not None and second.start - first.end <= 8
    doubting = "correct" in heard.turns and re.search(r"\b(?:hmm|maybe|well)\b", between) is not None
    return denied or said_no or doubting or method_words().speech["correct"].search(between) is not None


def _merge(heard: Heard, first: Quantity, second: Quantity, foods: dict[int, tuple[str, ...]]) -> Settled:
    """Keep the one that has the food, with the later number; drop the other."""
    old = replace(first)
    if second.kind is Kind.BARE and first.kind is not Kind.BARE:
        factor = unit_minutes(first) if first.kind is Kind.MINUTES else 1.0
        second.low, second.high = second.low * factor, second.high * factor
        second.kind, second.unit = first.kind, first.unit
    if id(first) in foods and id(second) not in foods:
        first.low, first.high, first.kind, first.unit = second.low, second.high, second.kind, second.unit
        gone, kept = second, first
    else:
        gone, kept = first, second
    heard.quantities = [q for q in heard.quantities if q is not gone]
    return old, kept


def unit_minutes(quantity: Quantity) -> float:
    """Minutes in the unit that a time was most likely said in: 60 where it is whole hours."""
    return 60.0 if quantity.kind is Kind.MINUTES and quantity.low >= 60 and quantity.low % 60 == 0 else 1.0
