"""The words of methods, from `method_words.toml`: verbs in all their forms, vessels, flames and turns of speech."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib import resources

from chauka.kitchen.forms import Heat, Technique, Vessel
from chauka.reading.words import alternatives

_IRREGULAR = {
    "cut": ("cut", "cut"), "slit": ("slit", "slit"), "put": ("put", "put"), "set": ("set", "set"),
    "beat": ("beat", "beaten"),
    "tear": ("tore", "torn"), "grind": ("ground", "ground"), "throw": ("threw", "thrown"), "leave": ("left", "left"),
    "stand": ("stood", "stood"), "go": ("went", "gone"), "split": ("split", "split"), "sit": ("sat", "sat"),
}  # fmt: skip
_ADDING, _COOKING = "add", "cook"


@dataclass(frozen=True, slots=True)
class Verb:
    """One form of a verb: what it does, and whether it tells of something done before ("sliced")."""

    does: str
    past: bool

    @property
    def technique(self) -> Technique:
        """The technique; adding counts as mixing, cooking without more as simmering."""
        return _technique(self.does)


def _technique(does: str) -> Technique:
    return {_ADDING: Technique.MIX, _COOKING: Technique.SIMMER}.get(does) or Technique(does)


@dataclass(frozen=True, slots=True)
class MethodWords:
    """Everything of the file, ready to search a text with."""

    verbs: Mapping[str, Verb]
    phrases: tuple[tuple[re.Pattern[str], str], ...]
    vessels: tuple[tuple[re.Pattern[str], Vessel], ...]
    heats: tuple[tuple[re.Pattern[str], Heat], ...]
    speech: Mapping[str, re.Pattern[str]]
    lists: Mapping[str, tuple[str, ...]]


@cache
def method_words() -> MethodWords:
    """The words, read once."""
    raw = tomllib.loads((resources.files("chauka.reading") / "method_words.toml").read_text(encoding="utf-8"))
    verbs: dict[str, Verb] = {}
    for does, plain in raw["verbs"].items():
        for verb in plain:
            for form, past in _forms(verb):
                verbs.setdefault(form, Verb(does, past))
    return MethodWords(
        verbs=verbs,
        phrases=tuple((_any(found), does) for does, found in raw["phrases"].items()),
        vessels=_longest_first({v: Vessel(kind) for kind, found in raw["vessels"].items() for v in found}),
        heats=tuple((_any(found), Heat(kind)) for kind, found in raw["heat"].items()),
        speech={name: _any(found) for name, found in raw["speech"].items()},
        lists={name: tuple(found) for name, found in raw["speech"].items()},
    )


def _longest_first(kinds: Mapping[str, Vessel]) -> tuple[tuple[re.Pattern[str], Vessel], ...]:
    return tuple((_any([word, word + "s"]), kinds[word]) for word in sorted(kinds, key=lambda w: (-len(w), w)))


def _any(entries: list[str]) -> re.Pattern[str]:
    return re.compile(rf"(?<![\w-])(?:{alternatives(entries)})(?![\w])", re.IGNORECASE)


def _forms(verb: str) -> list[tuple[str, bool]]:
    """The verb's own form, -s, -ing, and its past."""
    pasts = [p for p in _IRREGULAR[verb] if p != verb] if verb in _IRREGULAR else [_joined(verb, "ed")]
    third = verb + ("es" if verb.endswith(("s", "sh", "ch", "x", "z", "o")) else "s")
    if verb.endswith("y") and verb[-2] not in "aeou":
        third = verb[:-1] + "ies"
    return [(verb, False), (third, False), (_joined(verb, "ing"), False), *((p, True) for p in pasts)]


_DOUBLES = frozenset({
    "chop", "trim", "slit", "snip", "pit", "stem", "destem", "drop", "tip", "put", "sit", "set", "stir", "cut", "pop",
    "split", "shred", "plan", "wrap",
})  # fmt: skip


def _joined(verb: str, ending: str) -> str:
    if verb.endswith("e"):
        return verb + "d" if ending == "ed" else verb[:-1] + ending
    if verb in _DOUBLES:
        return verb + verb[-1] + ending
    if verb.endswith("y") and verb[-2] not in "aeou" and ending == "ed":
        return verb[:-1] + "ied"
    return verb + ending
