"""Which amount belongs to which food of a sentence: "half a teaspoon of turmeric", "coconut oil, two tablespoons"."""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from chauka.reading.food_words import singular
from chauka.reading.hearing import Heard
from chauka.reading.mentions import Mention, phrase_at
from chauka.reading.method_words import method_words
from chauka.reading.speech import Kind, Quantity
from chauka.reading.spoken_numbers import Token

_PRONOUNS = frozenset({"them", "it", "these", "those", "this", "that"})
_MARKS = frozenset({",", ".", ";", ":", "-", "–", "!", "?"})
_SMALL_AMOUNTS = frozenset({"drop", "splash", "drizzle"})
_NO_LINK = frozenset({"and", "with", "in", "into", "then", "or", "plus", "but"})


@dataclass(slots=True)
class Pairs:
    """Foods with their amounts (None where none was said), and amounts that belong to no food of the sentence."""

    foods: list[tuple[Mention, Quantity | None]] = field(default_factory=list)
    floating: list[Quantity] = field(default_factory=list)
    pointing: list[Quantity] = field(default_factory=list)
    """Amounts "of them": of the food spoken of just before."""


def pair(heard: Heard) -> Pairs:
    """Link the sentence's amounts to its foods. An amount looks ahead first, then back over a comma."""
    tokens, mentions = heard.tokens, list(heard.mentions)
    amounts = [q for q in heard.quantities if q.kind in (Kind.FOOD, Kind.BARE) and not _is_part(tokens, q)]
    linked: dict[int, Quantity] = {}
    result = Pairs()
    for quantity in amounts:
        target = _ahead(tokens, quantity, mentions)
        if target is None and quantity.kind is Kind.FOOD:
            target = _unknown(tokens, quantity, mentions, heard.dropped)
        if target is None:
            target = _back(tokens, quantity, mentions, linked, amounts)
        if target is not None:
            linked[target.start] = quantity
        elif _points(tokens, quantity):
            result.pointing.append(quantity)
        else:
            result.floating.append(quantity)
    for mention in mentions:
        if mention.start not in linked and (one := _single(tokens, mention)):
            linked[mention.start] = one
    result.foods = [(m, linked.get(m.start)) for m in sorted(mentions, key=lambda m: m.start)]
    return result


def _single(tokens: list[Token], mention: Mention) -> Quantity | None:
    """ "A bay leaf", "a small onion": the article before one piece counts it."""
    at, size = mention.start - 1, None
    while at >= 0 and tokens[at].low in ("small", "medium", "large", "big", "nice", "fresh", "good"):
        size = tokens[at].low if tokens[at].low in ("small", "medium", "large", "big") else size
        at -= 1
    piece = tokens[mention.end - 1].low == mention.key[-1] and mention.key[-1] not in _UNCOUNTED
    if at < 0 or tokens[at].low not in ("a", "an") or not piece:
        return None
    return Quantity(1.0, 1.0, Kind.BARE, None, at, mention.start, size=size)


_UNCOUNTED = frozenset(
    [
        "water",
        "oil",
        "salt",
        "sugar",
        "ghee",
        "butter",
        "milk",
        "curd",
        "flour",
        "rice",
        "powder",
        "dal",
        "paste",
        "juice",
        "cream",
        "jaggery",
        "honey",
        "masala",
        "besan",
        "paneer",
    ]
)


def is_vague(tokens: list[Token], mention: Mention) -> str:
    """The vague amount before a food, "a little salt" → "a little"; empty where there is none."""
    before = " ".join(t.low for t in tokens[max(0, mention.start - 6) : mention.start])
    for said in sorted(method_words().lists["vague"], key=len, reverse=True):
        if re.search(rf"(?:^|\s){re.escape(said)}(?: of)?(?: the)?$", before):
            return said
    return ""


def _is_part(tokens: list[Token], quantity: Quantity) -> bool:
    """Whether the number is a share of something there already: "half of the onion", "half goes in here"."""
    around = " ".join(t.low for t in tokens[max(0, quantity.start - 2) : quantity.end + 3])
    if quantity.kind is Kind.BARE and quantity.low < 1:
        behind = tokens[quantity.end].low if quantity.end < len(tokens) else ""
        return behind in (
            "goes",
            "in",
            "of",
            "the",
            "is",
            "here",
            "now",
            "open",
            "way",
            "closed",
            "cooked",
            ".",
            "done",
            "",
        )
    return quantity.kind is Kind.BARE and bool(
        re.search(r"\b(?:this|that|which|the|each|every|no) one\b|\bone (?:by|side|more time)\b|\bother half\b", around)
    )


def _ahead(tokens: list[Token], quantity: Quantity, mentions: list[Mention]) -> Mention | None:
    reach = 5 if quantity.kind is Kind.FOOD else 3
    for mention in mentions:
        gap = tokens[quantity.end : mention.start]
        inside = mention.start < quantity.end <= mention.end
        if inside or (
            0 <= mention.start - quantity.end <= reach
            and not any(t.text in _MARKS or t.low in _NO_LINK or t.low in ("the", "that", "this") for t in gap)
        ):
            return mention
    return None


def _unknown(
    tokens: list[Token], quantity: Quantity, mentions: list[Mention], heard_dropped: list[tuple[str, ...]]
) -> Mention | None:
    """A food that no list has: behind "of", or at the sentence's start before a comma."""
    at = quantity.end
    removed = {word for key in heard_dropped for word in key}
    if at + 1 < len(tokens) and singular(tokens[at + 1].low) in removed:
        return None
    if (
        at < len(tokens)
        and tokens[at].low == "of"
        and at + 1 < len(tokens)
        and tokens[at + 1].low not in _PRONOUNS | {"the"}
    ):
        found = phrase_at(tokens, at + 1)
        if found:
            mentions.append(found)
        return found
    head = phrase_at(tokens, 0)
    if (
        head
        and not mentions
        and head.end < len(tokens)
        and tokens[head.end].text == ","
        and 0 <= quantity.start - head.end <= 3
    ):
        mentions.append(head)
        return head
    return None


def _back(
    tokens: list[Token],
    quantity: Quantity,
    mentions: list[Mention],
    linked: dict[int, Quantity],
    amounts: list[Quantity],
) -> Mention | None:
    before = [m for m in mentions if m.end <= quantity.start]
    if not before:
        return None
    nearest = max(before, key=lambda m: m.end)
    claimed = any(nearest.end <= q.start < quantity.start for q in amounts if q is not quantity)
    behind = tokens[quantity.end].low if quantity.end < len(tokens) else "."
    ends = (
        behind in _MARKS
        or behind in _PRONOUNS
        or quantity.kind is Kind.FOOD
        or behind in ("of", "is", "for", "only", "or")
    )
    if nearest.start in linked or claimed or not ends or quantity.start - nearest.end > 8:
        return None
    if quantity.kind is Kind.BARE and quantity.more:
        return None
    return nearest


def _points(tokens: list[Token], quantity: Quantity) -> bool:
    behind = [t.low for t in tokens[quantity.end : quantity.end + 2]]
    return behind[:1] == ["of"] and behind[1:2] != [] and behind[1] in _PRONOUNS


def is_small(quantity: Quantity) -> bool:
    """Whether the unit is a manner of speaking: "a drop of oil", "a splash of water"."""
    return quantity.unit in _SMALL_AMOUNTS and quantity.low == 1
