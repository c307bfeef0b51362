"""Inputs made wrong on purpose, the same for the same seed: real ones damaged, random signs, one piece repeated."""

from __future__ import annotations

import json
import random
from collections.abc import Sequence
from copy import deepcopy
from typing import Any

SIGNS = "abcXYZ 0123456789½¾⅓/()[]{}<>-–,.;:'\"+&%*×=#@\\\t\n\u00a0\u200b\u0301\u202e\ufeff१२नमकあ🍋\x00\x1f\ud800"
PIECES = (
    "1 ", "1/2 - ", "(", ")", "a, ", "or ", "½", "x 2 ", "1 cup ", "((((", "to 2 ", "cut in ", "/", '"', "and a half ",
    "-", "1/", "0/0 ", "नमक ", "[[", "{", "<", "&#", "\n", "1e999", "9" * 400, "-1 ", "NaN", "२ ", "²", "00:00:0",
    " --> ",
    "no, not ", "i mean ", "and ", "twenty ", "add ", ". ", ": ", "the ", "of ", "for ", "P", "T1H", "=", '="', "'''",
    "\\u",
)  # fmt: skip
ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 1.5, -0.0, 1e308, -1e308, 10**30, 2**63, "", " ", "x", "0", "-inf", "2027-03-14",
    "2027-13-45",
    "24:00", [], {}, [[]], {"": {}}, "\x00", "\ud800", "9" * 400, "🍋", ["a"], {"id": "x"}, "../../x", "NaN", "C033",
)  # fmt: skip
LONGEST_RUN = 400


def text(chance: random.Random, samples: Sequence[str], *, longest_noise: int = 200) -> str:
    """A quarter random signs, a quarter one short piece repeated before a sample, half samples with small damage."""
    kind = chance.randrange(4)
    if kind == 0:
        return noise(chance, longest_noise)
    if kind == 1:
        return chance.choice(PIECES) * chance.randrange(1, LONGEST_RUN) + chance.choice(samples)
    return damaged(chance.choice(samples), chance)


def noise(chance: random.Random, longest: int) -> str:
    """Random signs of Latin, Devanagari, punctuation, and now and then of all of Unicode."""
    spans = ((32, 0x300), (0x900, 0x97F), (0x2000, 0x2200), (0, 0x20), (0, 0xD800))
    return "".join(chr(chance.randrange(*chance.choice(spans))) for _ in range(chance.randrange(longest)))


def damaged(said: str, chance: random.Random) -> str:
    """Signs struck out, put in, doubled, swapped; a short text a few times, a long one up to seven."""
    for _ in range(chance.randrange(1, 2 + min(6, len(said) // 12))):
        at = chance.randrange(len(said) + 1)
        how = chance.randrange(5)
        if how == 0:
            said = said[:at] + said[at + chance.randrange(1, 9) :]
        elif how == 1:
            said = said[:at] + chance.choice(SIGNS) + said[at:]
        elif how == 2:
            said = said[:at] + said[at : at + 9] * chance.randrange(1, 6) + said[at:]
        elif how == 3:
            said = said[:at] + chance.choice(PIECES) + said[at:]
        else:
            other = chance.randrange(len(said) + 1)
            said = said[:at] + said[other : other + 20] + said[at:]
    return said


def data(said: bytes, chance: random.Random) -> bytes:
    """The same for bytes: some turned into others, cut off, or doubled."""
    out = bytearray(said)
    for _ in range(chance.randrange(1, 8)):
        at = chance.randrange(len(out) + 1)
        how = chance.randrange(4)
        if how == 0 and at < len(out):
            out[at] = chance.randrange(256)
        elif how == 1:
            del out[at : at + chance.randrange(1, 40)]
        elif how == 2:
            out[at:at] = chance.choice(PIECES).encode("utf-8", "surrogatepass")
        else:
            out[at:at] = out[at : at + 20]
    return bytes(out[: chance.randrange(len(out) + 1)] if chance.random() < 0.1 else out)


def plain(value: Any, chance: random.Random) -> Any:
    """A JSON value with one to four of its parts changed, taken away, doubled, or put elsewhere; a copy."""
    whole = [json.loads(json.dumps(value))]
    for _ in range(chance.randrange(1, 5)):
        holder, key = _somewhere(whole, chance)
        how = chance.randrange(6)
        if how == 0:
            holder[key] = deepcopy(chance.choice(ODD))
        elif how == 1 and isinstance(holder[key], str):
            holder[key] = damaged(holder[key], chance)
        elif how == 2 and holder is not whole:
            del holder[key]
        elif how == 3 and isinstance(holder, list):
            holder.insert(0, holder[key])
        elif how == 4:
            other, at = _somewhere(whole, chance)
            holder[key] = json.loads(json.dumps(other[at]))
        elif isinstance(holder, dict):
            holder[damaged(str(key), chance)] = deepcopy(chance.choice(ODD))
    return whole[0]


def _somewhere(whole: list[Any], chance: random.Random) -> tuple[Any, Any]:
    """A list or object inside, and one of its keys; the walk goes down at random."""
    holder: Any = whole
    key: Any = 0
    while isinstance(holder[key], dict | list) and holder[key] and chance.random() < 0.85:
        holder = holder[key]
        key = chance.choice(list(holder)) if isinstance(holder, dict) else chance.randrange(len(holder))
    return holder, key


def nested(chance: random.Random) -> str:
    """Brackets within brackets that nothing closes, up to a hundred thousand."""
    opening = chance.choice(("[", '{"a":', '{"@graph":[', '[{"@type":"Recipe","recipeInstructions":'))
    return opening * chance.choice((10, 100, 1_000, 5_000, 100_000))


def closed(chance: random.Random) -> str:
    """Good JSON, about as deep as a reader can just follow."""
    depth = chance.choice((50, 300, 900, 980, 990, 1_000, 3_000))
    if chance.random() < 0.5:
        return "[" * depth + "1e999" * chance.randrange(2) + "]" * depth
    return '{"@type":' * depth + '"Recipe"' + "}" * depth
