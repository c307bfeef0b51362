"""Food words → a food of the tables, with a score, the runners-up, and "not known".

A name is looked up whole first: in what the house has taught, then among the kitchen's names, then
among the names of the tables in every language. Then it is tried with less and less of what it says:
without words of form ("boiled potato"), without words of part ("saffron strands"), without words of
grinding ("ginger paste"), the first of two foods offered, the name in brackets. Only where none is
equal are names compared word by word: a word counts by how rare it is among all names, a near
spelling counts almost as much as an equal one, and a word of kind that one side has and the other
lacks (powder, oil, juice, dal …) weighs heavily, since "lemon" is not "lemon juice".

A name that fits several foods of the tables is certain only where the kitchen's list chose one for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from chauka.reading.food_index import index
from chauka.reading.food_words import plain, tokens, without, without_forms
from chauka.reading.words import words

SURE = 0.82
"""From this score on a match is taken without asking."""

LIKELY = 0.45
"""Below this score a food is "not known"; between the two the cook is asked."""

_LONGEST_NAME = 120  # characters that are looked at: no food's name is longer
_NOT_SURE = 0.80
_LIKE = 0.90


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
    said = said[:_LONGEST_NAME]
    for name, code in (taught or {}).items():
        if plain(name) in (plain(said), without_forms(plain(said))):
            return FoodMatch(said, (Candidate(code, 1.0),))
    if frying_fat and is_any_fat(said):
        return FoodMatch(said, (Candidate(frying_fat, 1.0),))
    return FoodMatch(said, _ranked(said)[:limit])


def is_any_fat(said: str) -> bool:
    """Whether the words mean whatever fat the house cooks in."""
    fats = words().set_of("plain_fats")
    outside = plain(re.sub(r"\(.*?\)", " ", said))
    return outside in fats or without_forms(outside) in fats


@lru_cache(maxsize=20_000)
def _ranked(said: str) -> tuple[Candidate, ...]:
    found: dict[str, float] = {}
    for phrases, factor in _phrases(said):
        equal = [_equal(phrase) for phrase in phrases]
        agreed = len({next(iter(e), "") for e in equal}) == 1
        for number, codes in enumerate(equal):
            for code, trust in codes.items():
                score = trust * factor - 0.01 * number
                found[code] = max(found.get(code, 0.0), score if agreed else min(score, _NOT_SURE - 0.01 * number))
        if max(found.values(), default=0.0) >= LIKELY:
            break
    top = max(found.values(), default=0.0)
    for code, score in _alike(said).items():
        found.setdefault(code, min(score, SURE - 0.01, top * 0.99 if top >= _NOT_SURE - 0.1 else 1.0))
    ranked = sorted(found.items(), key=lambda item: (-item[1], item[0]))
    return tuple(Candidate(code, round(score, 4)) for code, score in ranked[:12])


def _phrases(said: str) -> Iterator[tuple[tuple[str, ...], float]]:
    """The whole; what stands outside brackets, parted where two foods are offered; what stands inside."""
    outside = _BRACKET.sub(" ", said)
    inside = [p for group in _BRACKET.findall(said) for p in _LISTED.split(group.strip("()[] "))]
    if not _OFFERED.search(outside):
        yield (said,), 1.0
        yield (outside,), 0.99
    yield _with_shared_head([p for p in _OFFERED.split(outside) if plain(p)]), 0.97
    yield tuple(p for p in inside if plain(p)), 0.93


def _with_shared_head(offered: list[str]) -> tuple[str, ...]:
    """ "Olive/refined oil" offers olive oil and refined oil: a lone first word takes the last one's head."""
    last = offered[-1].split() if offered else []
    if len(offered) < 2 or len(last) < 2:
        return tuple(offered)
    names = index()

    def whole(one: str) -> str:
        joined = f"{one} {last[-1]}"
        return joined if len(one.split()) == 1 and names.equal(names.spelt(joined)) else one

    return (*map(whole, offered[:-1]), offered[-1])


_BRACKET = re.compile(r"[(\[].*?(?:[)\]]|$)")
_OFFERED = re.compile(r"\s*/\s*|,?\s+or\s+|\s+and/or\s+", re.IGNORECASE)
_LISTED = re.compile(rf"{_OFFERED.pattern}|\s*,\s*", re.IGNORECASE)


def _equal(phrase: str) -> dict[str, float]:
    """Foods that bear the phrase as their name, the phrase saying less and less; the first that are found."""
    names, best = index(), dict[str, float]()
    seen: set[str] = set()
    for reading, cost, spices_only in _plainer(phrase):
        if not reading or reading in seen:
            continue
        seen.add(reading)
        codes = names.equal(names.spelt(reading))
        if spices_only:
            codes = {c: t for c, t in codes.items() if c.startswith("G")}
        if codes:
            open_ = tokens(reading) in _open_names()
            best = {c: min(t * cost, _NOT_SURE) if open_ else t * cost for c, t in codes.items()}
            break
    return dict(sorted(best.items(), key=lambda item: -item[1]))


@lru_cache(maxsize=1)
def _open_names() -> frozenset[tuple[str, ...]]:
    """Names that fit foods which differ too much for any default to be certain."""
    return frozenset(tokens(name) for name in words().lists["open_names"])


def _plainer(phrase: str) -> Iterator[tuple[str, float, bool]]:
    """The phrase with less and less of what it says, what that costs, and whether it holds of spices only."""
    whole, lists = plain(phrase), words()
    yield whole, 1.0, False
    first = plain(phrase.split(",", maxsplit=1)[0])
    yield first, 0.98, False
    bare = without_forms(first)
    yield bare, 0.97, False
    part = without(bare, lists.set_of("parts"))
    yield part, 0.95, False
    soft = without(part, lists.set_of("soft"))
    yield soft, 0.93, False
    pure = without(soft, lists.set_of("brands"))
    yield pure, 0.92, False
    yield without(pure, lists.set_of("ground_to")), 0.88, False
    yield without(pure, lists.set_of("powdered_to")), 0.86, True
    yield without(pure, lists.set_of("telling")), 0.78, False
    yield without(pure, lists.set_of("telling") | lists.set_of("kinds") | lists.set_of("ground_to")), 0.5, False


def _alike(said: str) -> dict[str, float]:
    """Foods with names like the phrase, where none is equal."""
    names = index()
    outside = re.split(r"[(\[/]", said)[0] or said
    phrase = plain(outside) or plain(said)
    bare = without(without_forms(phrase), words().set_of("parts"))
    wanted = dict.fromkeys(names.spelt(phrase), 0.45) | dict.fromkeys(names.spelt(bare), 1.0)
    return {code: score * _LIKE for code, score in names.similar(wanted).items()}
