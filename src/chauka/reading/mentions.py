"""Foods named in running speech."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache

from chauka import tables
from chauka.reading.food_words import singular
from chauka.reading.method_words import method_words
from chauka.reading.speech import tokenize
from chauka.reading.spoken_numbers import Token
from chauka.reading.words import words

_LONGEST = 4
_NOT_BEFORE = frozenset({"like", "as"})
_NOT_BEHIND = frozenset({"coloured", "colored", "colour", "color", "sized", "size", "shaped", "like"})
_SIZES = frozenset({"small", "big", "large"})
_DONE = frozenset({"chopped", "grated", "powdered", "beaten", "melted", "whisked", "scraped", "softened", "crushed"})
_QUALITIES = frozenset({
    "dry", "dried", "red", "green", "black", "white", "yellow", "brown", "fresh", "raw", "hot", "cold", "warm", "thick",
    "sour", "whole", "split", "roasted", "spring", "baby", "new", "sweet", "ripe", "unripe", "boiled",
    "kashmiri", "wild",
})  # fmt: skip


@dataclass(frozen=True, slots=True)
class Mention:
    """A food named at tokens `start` … `end`; `key` are its words in the singular."""

    start: int
    end: int
    said: str
    key: tuple[str, ...]


def mentions_in(said: Sequence[Token], heard: Iterable[tuple[str, ...]]) -> list[Mention]:
    """The foods of a sentence. `heard` are the keys of foods named before: "the seeds" means one of them."""
    lows = [singular(t.low.removesuffix("'s")) for t in said]
    heads = {key[-1] for key in heard if len(key) > 1}
    found: list[Mention] = []
    at = 0
    while at < len(said):
        end = _longest(lows, at)
        if not end and lows[at] in heads and not (at and said[at - 1].low in _NOT_BEFORE):
            end = at + 1
        if end and not _is_figure(said, at, end):
            start = _with_qualities(said, at)
            found.append(Mention(start, end, " ".join(t.low for t in said[start:end]), tuple(lows[start:end])))
            at = end
        else:
            at += 1
    return found


def phrase_at(said: Sequence[Token], at: int) -> Mention | None:
    """An unknown food after an amount, "two spoons of sattu": the words up to a mark or a small word."""
    end = at
    while end < len(said) and end - at < 3 and said[end].low.isalpha() and said[end].low not in _small_words():
        end += 1
    if end == at:
        return None
    text = [t.low for t in said[at:end]]
    return Mention(at, end, " ".join(text), tuple(singular(w) for w in text))


def _longest(lows: list[str], at: int) -> int:
    known = _known()
    for length in range(min(_LONGEST, len(lows) - at), 0, -1):
        if tuple(lows[at : at + length]) in known:
            return at + length
    return 0


def _is_figure(said: Sequence[Token], start: int, end: int) -> bool:
    """Whether the words stand for a likeness: "like butter", "lemon sized"."""
    before = said[start - 1].low if start else ""
    behind = said[end].low if end < len(said) else ""
    sized = "size" in [t.low for t in said[max(0, start - 3) : start]]
    return before in _NOT_BEFORE or behind in _NOT_BEHIND or sized


def _with_qualities(said: Sequence[Token], at: int) -> int:
    while at and said[at - 1].low in _QUALITIES:
        at -= 1
    return at


@cache
def _known() -> frozenset[tuple[str, ...]]:
    """Names by which a cook calls foods, as keys."""
    method = method_words()
    names = [*words().foods, *(row["name"] for row in tables.rows("food_names")), *method.lists["more_foods"]]
    barred = {tuple(singular(w) for w in n.split()) for n in method.lists["not_foods"]}
    keys = {tuple(singular(t.low) for t in tokenize(name.replace("-", " "))) for name in names}
    return frozenset(
        key for key in keys if key and key not in barred and len("".join(key)) > 2 and key[0] not in _SIZES | _DONE
    )


@cache
def _small_words() -> frozenset[str]:
    return frozenset(
        [
            "a",
            "an",
            "and",
            "or",
            "the",
            "of",
            "in",
            "into",
            "on",
            "onto",
            "with",
            "for",
            "from",
            "to",
            "so",
            "then",
            "it",
            "is",
            "are",
            "was",
            "i",
            "you",
            "we",
            "this",
            "that",
            "these",
            "those",
            "my",
            "our",
            "your",
            "if",
            "but",
            "no",
            "not",
            "sorry",
            "wait",
            "actually",
            "yes",
            "okay",
            "oh",
            "well",
            "at",
            "by",
            "as",
            "just",
            "goes",
            "go",
            "put",
            "add",
            "when",
            "till",
            "until",
            "each",
            "per",
            "about",
            "also",
            "too",
            "now",
            "here",
            "there",
            "more",
            "some",
        ]
    )
