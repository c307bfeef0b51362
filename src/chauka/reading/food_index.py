"""All names of all foods, found by equal words or by like words."""

from __future__ import annotations

import math
from collections import Counter, defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache

from rapidfuzz import fuzz, process

from chauka import tables
from chauka.reading.food_words import sound, tokens
from chauka.reading.words import words

KITCHEN, TABLE, LOCAL, FAMILY = 1.0, 0.97, 0.95, 0.80
"""How far a name is trusted: the kitchen's own list, a table's English name, a name in an Indian
language, the first word of a table's name that other foods begin with as well. Policy."""

_LONE_LOCAL = 0.80
"""A name that one language other than Hindi knows may be a false friend in another: it is asked."""

_SHARED = 0.82
"""Factor on a name that several foods bear: none of them is certain."""

_KIND_WEIGHT, _USUAL_WEIGHT, _OTHER_WEIGHT = 0.9, 0.06, 0.3
"""What a word counts that the name has and the phrase lacks: "oil" much, "raw" little. Policy."""


_UNKNOWN_WEIGHT = 0.5
"""What a word counts that no food's name has: most often it says something else of the food. Policy."""


@dataclass(frozen=True, slots=True)
class Name:
    """One name of one food: its words, and how far it is trusted (0–1)."""

    tokens: tuple[str, ...]
    code: str
    trust: float


class Index:
    """Names by their words, and words by their rarity and sound."""

    def __init__(self, names: Iterable[Name]) -> None:
        self.names = tuple(n for n in names if n.tokens)
        self.by_key: defaultdict[tuple[str, ...], list[Name]] = defaultdict(list)
        self.by_word: defaultdict[str, list[int]] = defaultdict(list)
        for number, name in enumerate(self.names):
            self.by_key[tuple(sorted(name.tokens))].append(name)
            for word in set(name.tokens):
                self.by_word[word].append(number)
        count = Counter({word: len({self.names[n].code for n in at}) for word, at in self.by_word.items()})
        self.weight = {word: 1 / (1 + math.log(1 + n)) for word, n in count.items()}
        self.vocabulary = tuple(self.by_word)
        self.costs = tuple({w: self._cost(w) for w in n.tokens} for n in self.names)
        self.by_sound: defaultdict[str, list[str]] = defaultdict(list)
        for word in self.vocabulary:
            self.by_sound[sound(word)].append(word)

    def spelt(self, phrase: str) -> tuple[str, ...]:
        """The phrase's words as the names spell them: parted or joined where that makes known words."""
        said = list(tokens(phrase))
        known = self.by_word
        out: list[str] = []
        while said:
            word = said.pop(0)
            if said and word + said[0] in known and not (word in known and said[0] in known):
                out.append(word + said.pop(0))
            elif word in known:
                out.append(word)
            else:
                out += self._parted(word) or self._sounding(word)
        same = words().same
        return tuple(part for word in out for part in same.get(word, word).split())

    def _parted(self, word: str) -> list[str]:
        for cut in range(4, len(word) - 2):
            if word[:cut] in self.by_word and word[cut:] in self.by_word:
                return [word[:cut], word[cut:]]
        return []

    def _sounding(self, word: str) -> list[str]:
        alike = [w for w in self.by_sound.get(sound(word), ()) if w[0] == word[0] or len(word) > 4]
        return alike if len(alike) == 1 and len(word) > 3 else [word]

    def equal(self, said: tuple[str, ...]) -> dict[str, float]:
        """Foods that bear exactly this name, in any order of its words; several that do share the certainty."""
        found = self.by_key.get(tuple(sorted(said)), [])
        found = [name for name in found if name.tokens == said] or found  # "green onion" before "onion greens"
        best: dict[str, float] = {}
        for name in found:
            best[name.code] = max(best.get(name.code, 0.0), name.trust)
        top = max(best.values(), default=0.0)
        first = [code for code, trust in best.items() if trust == top]
        if len(first) == 1:
            return {code: trust if code == first[0] else trust * _SHARED for code, trust in best.items()}
        return {code: trust * _SHARED - 0.001 * n for n, (code, trust) in enumerate(best.items())}

    def similar(self, wanted: Mapping[str, float]) -> dict[str, float]:
        """Foods whose names share words with the phrase; `wanted` holds its words and what each counts."""
        meant = {word: self._meant(word) for word in wanted}
        numbers = {n for near in meant.values() for word in near for n in self.by_word[word]}
        kinds = words().set_of("kinds")
        weights = {
            word: share * self.weight.get(word, _UNKNOWN_WEIGHT) * (1.3 if word in kinds else 1.0)
            for word, share in wanted.items()
        }
        best: dict[str, float] = {}
        for number in numbers:
            name = self.names[number]
            score = self._score(weights, meant, number) * name.trust
            if score > best.get(name.code, 0.15):
                best[name.code] = score
        return dict(sorted(best.items(), key=lambda item: (-item[1], item[0]))[:8])

    def _meant(self, word: str) -> dict[str, float]:
        """Words of the names that a written word may be, with how alike they are."""
        if word in self.by_word:
            return {word: 1.0}
        if len(word) < 4:
            return {}
        near = process.extract(word, self.vocabulary, scorer=fuzz.ratio, score_cutoff=80, limit=4)
        alike = {found: (score / 100) ** 2 for found, score, _ in near if found[0] == word[0] or score > 88}
        return alike | dict.fromkeys(self.by_sound.get(sound(word), ()), 0.9)

    def _cost(self, word: str) -> float:
        """What it costs a match that the name has the word and the phrase lacks it."""
        lists = words()
        kind, usual = word in lists.set_of("kinds"), word in lists.set_of("usual")
        return self.weight[word] * (_KIND_WEIGHT if kind else _USUAL_WEIGHT if usual else _OTHER_WEIGHT)

    def _score(self, weights: Mapping[str, float], meant: Mapping[str, dict[str, float]], number: int) -> float:
        name, costs = self.names[number], self.costs[number]
        said = 0.0
        used: set[str] = set()
        for word, weight in weights.items():
            nearest, alike = "", 0.0
            for w, a in meant[word].items():
                if a > alike and w in costs:
                    nearest, alike = w, a
            if nearest:
                used.add(nearest)
                said += weight * alike
        total = sum(weights.values())
        extra = sum(cost for w, cost in costs.items() if w not in used)
        head = 1.0 if name.tokens[0] in used else 0.85
        return head * said / (total + extra) if total else 0.0


@cache
def index() -> Index:
    """The index of the packaged tables, made once."""
    return Index(_names())


def _names() -> Iterable[Name]:
    own = {tokens(name): code for name, code in words().foods.items()}
    for key, code in own.items():
        yield Name(key, code, KITCHEN)
    for row in tables.rows("food_names"):
        key = tokens(row["name"])
        if own.get(key, row["food_code"]) == row["food_code"]:
            yield Name(key, row["food_code"], KITCHEN)
    for code, food in tables.foods().items():
        yield Name(tokens(food.name), code, TABLE)
        first, *rest = (part.strip() for part in food.name.split(","))
        if rest:
            yield Name(tokens(first), code, FAMILY - 0.01 * len(rest))
        spoken = Counter(tokens(name) for names in food.names.values() for name in names)
        usual = {tokens(name) for language in ("en", "hi") for name in food.names.get(language, ())}
        for key, languages in spoken.items():
            yield Name(key, code, LOCAL if languages > 1 or key in usual else _LONE_LOCAL)
