"""Words of food names made comparable: singular, one spelling, and a key for how a word sounds."""

from __future__ import annotations

import re
from functools import cache, lru_cache

from chauka.reading.words import words

_ENDINGS = (
    ("chilies", "chilli"), ("chillies", "chilli"), ("chiles", "chilli"), ("leaves", "leaf"), ("halves", "half"),
    ("loaves", "loaf"), ("ies", "y"), ("oes", "o"), ("ches", "ch"), ("shes", "sh"), ("sses", "ss"), ("xes", "x"),
)  # fmt: skip
_MOST_KEPT = 50_000
"""Words whose plain forms are remembered: more than all tables have, and no end of what people type."""

_KEPT_S = ("ss", "us", "is")
_SOUNDS = tuple(
    (re.compile(pattern), sound)
    for pattern, sound in (
        (r"ph", "f"), (r"ck|q", "k"), (r"c(?=[eiy])", "s"), (r"c(?!h)", "k"), (r"w", "v"), (r"z", "j"), (r"x", "ks"),
        (r"(?<=[bdgjkpt])h", ""), (r"sh", "s"), (r"ee|ie|ea|y", "i"), (r"oo|ou", "u"), (r"aa|ah\b", "a"),
        (r"(.)\1+", r"\1"), (r"[ae]\b", ""),
    )
)  # fmt: skip


def plain(text: str) -> str:
    """Lower case, letters and digits only, one blank between words."""
    return " ".join(re.findall(r"[^\W_]+(?:['’]s)?", text.lower())).replace("'s", "").replace("’s", "")


@lru_cache(_MOST_KEPT)
def singular(word: str) -> str:
    """The word without its English plural ending."""
    for ending, instead in _ENDINGS:
        if word.endswith(ending) and len(word) > len(ending) - len(instead) + 2:
            return word[: -len(ending)] + instead
    return word[:-1] if word.endswith("s") and not word.endswith(_KEPT_S) and len(word) > 3 else word


@lru_cache(_MOST_KEPT)
def sound(word: str) -> str:
    """A key that spellings of one Indian word share: "channa", "chana"; "jeera", "zira"; "methi", "maithi" not."""
    for pattern, instead in _SOUNDS:
        word = pattern.sub(instead, word)
    return word


@lru_cache(_MOST_KEPT)
def tokens(text: str) -> tuple[str, ...]:
    """The telling words of a name, each singular and in the tables' spelling."""
    same, empty = words().same, words().set_of("empty")
    told = (singular(w) for w in plain(text).split() if w not in empty)
    return tuple(w for said in told for w in same.get(said, said).split() if w not in empty)


def without(phrase: str, dropped: frozenset[str]) -> str:
    """The phrase without some words; the phrase itself if nothing were left."""
    left = [w for w in phrase.split() if w not in dropped and singular(w) not in dropped]
    return " ".join(left) or phrase


def without_forms(phrase: str) -> str:
    """The phrase without words of form, manner and size: "boiled potato" → "potato"; never empty."""
    return without(phrase, _form_words())


@cache
def _form_words() -> frozenset[str]:
    lists = words()
    return (lists.set_of("forms") | lists.set_of("manner") | lists.set_of("sizes")) - lists.set_of("kept")
