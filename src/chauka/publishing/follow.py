"""Where a narration speaks of each ingredient and each step: by their words, steps in their order."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from types import MappingProxyType

from chauka.kitchen import Dish
from chauka.publishing.narration import Narration, Word

_LETTERS = re.compile(r"[^\W\d_]+")
_WINDOW = 6  # words around a mention in which the rest of an ingredient's name may stand
_DULL_WORDS = """
a an and as at by for from in into is it of off on or out the then this to up with your you we one two half that will
now next let all until some more very just after so not our their
fresh whole ground split dry dried green white red black ripe tender large small medium soft leaf seed stalk
"""
_DULL = frozenset(_DULL_WORDS.split())
"""Words that alone name no food; they count only beside one that does."""

_LEAST_STEP_SCORE = 0.18  # share of a step's telling words that must be heard near its place; policy


@dataclass(frozen=True, slots=True)
class Followed:
    """When each line is first spoken of, and when each step begins to be [s]; what is never spoken of is left out."""

    lines: Mapping[str, float]
    steps: Mapping[str, float]

    def clips(self, end_s: float) -> dict[str, tuple[float, float]]:
        """From where to where the film shows each step [s]: until the next step begins."""
        starts = sorted((at, step) for step, at in self.steps.items())
        ends = [at for at, _ in starts[1:]] + [end_s]
        return {step: (round(at, 3), round(end, 3)) for (at, step), end in zip(starts, ends, strict=True) if end > at}


def follow(dish: Dish, narration: Narration) -> Followed:
    """Find the dish in a narration. Nothing is guessed: a line or step whose words are not heard has no time."""
    words = narration.words
    heard = [stem(w.text) for w in words]
    return Followed(MappingProxyType(_lines(dish, words, heard)), MappingProxyType(_steps(dish, words, heard)))


def stem(word: str) -> str:
    """A word without its plural and without signs: `Leaves,` → `leaf`, `tomatoes` → `tomato`."""
    found = _LETTERS.findall(word.lower())
    bare = "".join(found)
    if bare == "leaves":
        return "leaf"
    for ending, stays in (("ies", "y"), ("oes", "o"), ("ss", "ss"), ("s", "")):
        if bare.endswith(ending) and len(bare) > len(ending) + 1:
            return bare[: -len(ending)] + stays
    return bare


def _terms(text: str) -> list[str]:
    return [s for s in (stem(w) for w in text.split()) if s]


def _lines(dish: Dish, words: Sequence[Word], heard: Sequence[str]) -> dict[str, float]:
    """First mention of each line: where most of its name is heard together, and at least the word that tells it."""
    places: dict[str, list[int]] = {}
    for at, term in enumerate(heard):
        places.setdefault(term, []).append(at)
    found = {}
    for line in dish.lines:
        terms = _terms(line.said)
        telling = [t for t in terms if t not in _DULL] or terms
        best = max(
            ((_share(terms, heard, at), -at) for t in telling for at in places.get(t, ())),
            default=None,
        )
        if best is not None:
            found[line.id] = words[-best[1]].start_s
    return found


def _share(terms: Sequence[str], heard: Sequence[str], at: int) -> float:
    near = set(heard[max(0, at - _WINDOW // 2) : at + _WINDOW // 2 + 1])
    return sum(t in near for t in terms) / len(terms)


def _steps(dish: Dish, words: Sequence[Word], heard: Sequence[str]) -> dict[str, float]:
    """Steps laid along the narration in their order, so that together they are heard best."""
    bags = [Counter(t for t in _terms(f"{s.technique} {s.text}") if t not in _DULL) for s in dish.steps]
    rare = _weights(bags)
    starts = _sentence_starts(words)
    spans = list(zip(starts, [*starts[1:], len(words)], strict=True))
    score = [[_heard(bag, rare, heard[a:b]) for a, b in spans] for bag in bags]
    return {
        dish.steps[i].id: words[spans[at][0]].start_s
        for i, at in enumerate(_in_order(score))
        if at is not None
    }  # fmt: skip


def _weights(bags: Sequence[Counter[str]]) -> dict[str, float]:
    """A word that few steps use tells more."""
    used = Counter(t for bag in bags for t in bag)
    return {t: math.log(1 + len(bags) / n) for t, n in used.items()}


def _sentence_starts(words: Sequence[Word]) -> list[int]:
    ends = [i for i, w in enumerate(words) if w.text[-1] in ".!?"]
    return [0, *(i + 1 for i in ends if i + 1 < len(words))] if words else []


def _heard(bag: Counter[str], rare: Mapping[str, float], heard: Sequence[str]) -> float:
    """Share of a step's telling words that a sentence has."""
    whole = sum(rare[t] for t in bag)
    there = set(heard)
    return sum(rare[t] for t in bag if t in there) / whole if whole else 0.0


def _in_order(score: Sequence[Sequence[float]]) -> list[int | None]:
    """For each step the sentence it begins at, in the order of steps, the sum of scores at its highest."""
    if not score or not score[0]:
        return [None] * len(score)
    width = len(score[0])
    best = [[0.0] * (width + 1) for _ in range(len(score) + 1)]
    for i in range(len(score) - 1, -1, -1):
        for j in range(width - 1, -1, -1):
            take = score[i][j] + best[i + 1][j + 1] if score[i][j] >= _LEAST_STEP_SCORE else 0.0
            best[i][j] = max(best[i + 1][j], best[i][j + 1], take)
    out: list[int | None] = []
    j = 0
    for i in range(len(score)):
        while j < width and best[i][j] == best[i][j + 1] and best[i][j] > best[i + 1][j]:
            j += 1
        if j < width and best[i][j] > best[i + 1][j]:
            out.append(j)
            j += 1
        else:
            out.append(None)
    return out
