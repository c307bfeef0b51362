"""Food words → a food of the tables, with a score, the runners-up, and "not known".

A name is looked up whole first: in what the house has taught, then among kitchen names, then among
the names of the tables in every language. Where none is equal, names are compared word by word: a
word counts by how rare it is among all names, a near spelling counts almost as much as an equal one,
and a word of kind that one side has and the other lacks (powder, oil, juice, dal …) weighs heavily
against the match, since "lemon" is not "lemon juice".
"""

from __future__ import annotations

import math
import re
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from rapidfuzz import fuzz, process

from chauka import tables
from chauka.reading.words import words

SURE = 0.82
"""From this score on a match is taken without asking."""

LIKELY = 0.45
"""Below this score a food is "not known"; between the two the cook is asked."""


@dataclass(frozen=True, slots=True)
class Candidate:
    """A food of the tables and how well it fits (0–1)."""

    code: str
    score: float


@dataclass(frozen=True, slots=True)
class FoodMatch:
    """What a phrase may mean, the likeliest first."""

    said: str
    candidates: tuple[Candidate, ...]

    @property
    def best(self) -> Candidate | None:
        """The likeliest food, None where the phrase is not known."""
        return self.candidates[0] if self.candidates and self.candidates[0].score >= LIKELY else None

    @property
    def sure(self) -> bool:
        """Whether the likeliest food may be taken without asking."""
        return self.best is not None and self.best.score >= SURE


def match_food(
    said: str, *, taught: Mapping[str, str] | None = None, frying_fat: str | None = None, limit: int = 5
) -> FoodMatch:
    """The foods that a phrase may mean.

    `taught` maps names that the house uses to codes; `frying_fat` is what the house means by plain
    "oil" or "fat". A phrase in brackets is tried where the words before it say nothing.
    """
    whole = _plain(said)
    outside = _plain(re.sub(r"\(.*?\)", " ", said))
    inside = [_plain(part) for part in re.findall(r"\((.*?)\)", said)]
    found: dict[str, float] = {}
    own = {_plain(name): code for name, code in (taught or {}).items()}
    for phrase in dict.fromkeys(p for p in (whole, outside, *inside) if p):
        for candidate in _of_phrase(phrase, own, frying_fat):
            discount = 0.93 if phrase in inside else 1.0
            found[candidate.code] = max(found.get(candidate.code, 0.0), candidate.score * discount)
    ranked = sorted(found.items(), key=lambda item: (-item[1], item[0]))
    return FoodMatch(said, tuple(Candidate(code, round(score, 4)) for code, score in ranked[:limit]))


def _of_phrase(phrase: str, taught: Mapping[str, str], frying_fat: str | None) -> list[Candidate]:
    bare = _without_forms(phrase)
    for text, score in ((phrase, 1.0), (bare, 0.97)):
        if text in taught:
            return [Candidate(taught[text], score)]
        if frying_fat and text in words().lists["plain_fats"]:
            return [Candidate(frying_fat, score)]
    index = _index()
    exact = {c.code: c for c in (index.equal(bare, 0.95) + index.equal(phrase, 0.98))}
    near = [c for c in index.similar(phrase, bare) if c.code not in exact]
    return sorted([*exact.values(), *near], key=lambda c: -c.score)


# --- words ----------------------------------------------------------------------------------------


def _plain(text: str) -> str:
    """Lower case, letters and digits only, one blank between words."""
    return " ".join(re.findall(r"[^\W_]+", text.lower()))


def _singular(word: str) -> str:
    for ending, instead in (("ies", "y"), ("oes", "o"), ("aves", "af"), ("ses", "s"), ("shes", "sh"), ("ches", "ch")):
        if word.endswith(ending) and len(word) > len(ending) + 1:
            return word[: -len(ending)] + instead
    return word[:-1] if word.endswith("s") and not word.endswith(("ss", "us", "is")) and len(word) > 3 else word


def _tokens(text: str) -> tuple[str, ...]:
    same = words().same
    said = (_singular(w) for w in _plain(text).split())
    return tuple(same.get(w, w) for w in said if w not in words().lists["empty"])


def _without_forms(phrase: str) -> str:
    """The phrase without words of form at either end, "boiled potato" → "potato"; never empty."""
    dropped = {*words().lists["forms"], *words().lists["manner"], *words().lists["sizes"]} - set(words().lists["kept"])
    left = [w for w in phrase.split() if w not in dropped]
    return " ".join(left) or phrase


# --- the index of all names -----------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Name:
    """One name of one food: its words, and how far it is trusted (kitchen 1, table 0.97, local 0.94)."""

    tokens: tuple[str, ...]
    code: str
    trust: float


class _Index:
    """Names by their words, and words by their rarity."""

    def __init__(self, names: Iterable[_Name]) -> None:
        self.names = tuple(names)
        self.by_key: defaultdict[tuple[str, ...], list[_Name]] = defaultdict(list)
        self.by_word: defaultdict[str, list[int]] = defaultdict(list)
        for number, name in enumerate(self.names):
            self.by_key[tuple(sorted(name.tokens))].append(name)
            for word in set(name.tokens):
                self.by_word[word].append(number)
        count = Counter({word: len({self.names[n].code for n in at}) for word, at in self.by_word.items()})
        self.weight = {word: 1 / (1 + math.log(1 + n)) for word, n in count.items()}
        self.vocabulary = tuple(self.by_word)

    def equal(self, phrase: str, score: float) -> list[Candidate]:
        """Foods that bear exactly this name, in any order of its words; two that do share the certainty."""
        found = self.by_key.get(tuple(sorted(_tokens(phrase))), [])
        if not found:
            return []
        best = max(name.trust for name in found)
        codes = list(dict.fromkeys(name.code for name in found if name.trust == best))
        return [Candidate(code, score * best * (1.0 if n == 0 else 0.9)) for n, code in enumerate(codes)]

    def similar(self, phrase: str, bare: str) -> list[Candidate]:
        """Foods whose names share words with the phrase, near spellings included."""
        wanted = dict.fromkeys(_tokens(phrase), 0.45) | dict.fromkeys(_tokens(bare), 1.0)
        meant = {word: self._meant(word) for word in wanted}
        numbers = {n for near in meant.values() for word in near for n in self.by_word[word]}
        best: dict[str, float] = {}
        for number in numbers:
            name = self.names[number]
            score = self._score(wanted, meant, name) * name.trust * 0.92
            if score > best.get(name.code, 0.15):
                best[name.code] = score
        top = sorted(best.items(), key=lambda item: (-item[1], item[0]))[:8]
        return [Candidate(code, score) for code, score in top]

    def _meant(self, word: str) -> dict[str, float]:
        """Words of the names that a written word may be, with how alike they are."""
        if word in self.by_word:
            return {word: 1.0}
        if len(word) < 4:
            return {}
        near = process.extract(word, self.vocabulary, scorer=fuzz.ratio, score_cutoff=80, limit=4)
        return {found: (score / 100) ** 2 for found, score, _ in near if found[0] == word[0] or score > 88}

    def _score(self, wanted: Mapping[str, float], meant: Mapping[str, dict[str, float]], name: _Name) -> float:
        kinds = words().lists["kinds"]
        said = total = 0.0
        used: set[str] = set()
        for word, share in wanted.items():
            weight = share * self.weight.get(word, 1.0) * (1.3 if word in kinds else 1.0)
            total += weight
            hits = {w: alike for w, alike in meant[word].items() if w in name.tokens}
            if hits:
                nearest = max(hits, key=lambda w: hits[w])
                used.add(nearest)
                said += weight * hits[nearest]
        left = [w for w in dict.fromkeys(name.tokens) if w not in used]
        extra = sum(
            self.weight[w] * (0.9 if w in kinds else 0.06 if w in words().lists["usual"] else 0.3) for w in left
        )
        head = 1.0 if name.tokens and name.tokens[0] in used else 0.85
        return head * said / (total + extra) if total else 0.0


@cache
def _index() -> _Index:
    return _Index(_names())


def _names() -> Iterable[_Name]:
    for row in (*tables.rows("food_names"), *({"name": n, "food_code": c} for n, c in words().foods.items())):
        yield _Name(_tokens(row["name"]), row["food_code"], 1.0)
    for code, food in tables.foods().items():
        yield _Name(_tokens(food.name), code, 0.97)
        first, *rest = (part.strip() for part in food.name.split(","))
        if rest:
            yield _Name(_tokens(first), code, 0.8 - 0.02 * len(rest))
        for names in food.names.values():
            for name in names:
                yield _Name(_tokens(name), code, 0.93)
