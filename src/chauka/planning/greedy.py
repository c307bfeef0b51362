"""A first plan at once, as a careful cook makes it: sitting by sitting, the best dish that fits, then buy.

It is always valid, serves as the start of the search and as the answer when there is no time to
search, and is the baseline of the benchmarks.
"""

from __future__ import annotations

import random
from collections import defaultdict
from enum import StrEnum

from chauka.planning.index import Index
from chauka.planning.model import Choice
from chauka.planning.problem import Problem
from chauka.planning.state import Draw, State


class Manner(StrEnum):
    """By what the cook chooses."""

    COST = "least penalty"  # liking, work, money, nourishment and what saves food from the bin, together
    LIKING = "best liked"
    USE_BY = "use first what goes off first"
    RANDOM = "at random"


USED_LATER = 0.5
"""Share of an opened fresh pack that a cook may hope to use up with another dish; our own guess."""


MOST_TRIED = 30
"""So many dishes that fit are weighed for one position by what they cost in all terms, the best liked and quickest
first: a book of 500 dishes must not take longer than a cook waits."""


def greedy(problem: Problem, manner: Manner = Manner.COST, seed: int = 0, index: Index | None = None) -> Choice:
    """The first plan: locked wishes, then each sitting's positions in order."""
    kitchen, dice = State(problem, index or Index(problem)), random.Random(seed)  # noqa: S311  (a baseline)
    by_slot = _by_slot(problem)
    wished = {(w.slot, r) for w in problem.wishes for r in w.recipes}
    locked = {(w.slot, r) for w in problem.wishes for r in w.recipes if w.weight is None}
    order = [(slot, place) for slot in range(len(problem.slots)) for place in _places(problem, slot)]
    for wishes in (locked, wished) if problem.wishes else ():
        for slot in range(len(problem.slots)):
            _keep_wishes(kitchen, by_slot.get(slot, []), wishes)
    for slot, place in order:
        if (slot, place) in kitchen.free:
            _fill(kitchen, [e for e in by_slot.get(slot, ()) if place in problem.eatings[e].places], manner, dice)
    return Choice(
        cookings=frozenset(kitchen.cooked),
        eatings=frozenset(kitchen.eaten),
        packs={s: n for s, n in enumerate(kitchen.packs) if n},
    )


def _by_slot(problem: Problem) -> dict[int, list[int]]:
    """The eatings of each slot, the best liked and quickest first."""

    def own(e: int) -> int:
        eating = problem.eatings[e]
        return eating.liking + problem.minute_cost * (eating.minutes + problem.cookings[eating.cooking].minutes)

    by_slot = defaultdict[int, list[int]](list)
    for e, eating in enumerate(problem.eatings):
        by_slot[eating.slot].append(e)
    return {slot: sorted(eatings, key=own) for slot, eatings in by_slot.items()}


def _places(problem: Problem, slot: int) -> list[int]:
    places = problem.slots[slot].places
    return sorted(range(len(places)), key=lambda p: (-places[p].empty, p))


def _keep_wishes(kitchen: State, eatings: list[int], wished: set[tuple[int, int]]) -> None:
    problem = kitchen.problem
    kept = set[tuple[int, int]]()
    for e in sorted(eatings, key=lambda e: problem.eatings[e].cooking not in kitchen.cooked):
        key = (problem.eatings[e].slot, problem.cookings[problem.eatings[e].cooking].recipe)
        if key in wished and key not in kept and kitchen.fits(e):
            draws = kitchen.draws(e)
            if draws is not None:
                kitchen.take(e, draws)
                kept.add(key)


def _fill(kitchen: State, eatings: list[int], manner: Manner, dice: random.Random) -> None:
    best: tuple[float, int, list[Draw]] | None = None
    tried = 0
    for e in eatings:
        if manner is Manner.COST and tried == MOST_TRIED:
            break
        draws = kitchen.draws(e) if kitchen.fits(e) and kitchen.leaves_time(e) else None
        if draws is None:
            continue
        tried += 1
        score = _score(kitchen, e, draws, manner, dice)
        if best is None or score < best[0]:
            best = (score, e, draws)
    if best and (manner is not Manner.COST or best[0] < 0):
        kitchen.take(best[1], best[2])


def _emptiness(kitchen: State, e: int) -> int:
    eating = kitchen.problem.eatings[e]
    return sum(kitchen.problem.slots[eating.slot].places[p].empty for p in eating.places)


def _score(kitchen: State, e: int, draws: list[Draw], manner: Manner, dice: random.Random) -> float:
    problem = kitchen.problem
    eating = problem.eatings[e]
    places = len(eating.places)
    repeats = kitchen.oversteps(e)
    if manner is Manner.RANDOM:
        return dice.random()
    if manner is Manner.LIKING:
        return (eating.liking + repeats) / places
    if manner is Manner.USE_BY:
        return (eating.liking + repeats) / places - sum(_rescued(problem, d, eating.slot) for d in draws)
    cooking = problem.cookings[eating.cooking]
    minutes = eating.minutes + (0 if eating.cooking in kitchen.cooked else cooking.minutes + cooking.before_minutes)
    food = sum(_burden(problem, d) for d in draws)
    filled = _emptiness(kitchen, e) + kitchen.nourishes(e)
    return eating.liking + repeats + problem.minute_cost * minutes + food - filled


def _burden(problem: Problem, draw: Draw) -> float:
    """What taking this food costs: its price or its value; a fresh pack opened costs its rest too [coin]."""
    source = problem.sources[draw.source]
    share, waste = draw.mg / source.pack_mg, problem.waste_percent / 100 * source.worth
    if problem.outlives(source):
        return draw.packs * (source.price - source.carry) + source.carry * share
    if draw.packs:
        return source.price + (1 - USED_LATER) * waste * (draw.packs - share)
    return -waste * share


def _rescued(problem: Problem, draw: Draw, slot: int) -> float:
    """What is saved from the bin, the more the sooner it would go off [coin]."""
    source = problem.sources[draw.source]
    if draw.packs or problem.outlives(source):
        return 0.0
    return 10 * problem.waste_percent / 100 * source.worth * draw.mg / source.pack_mg / max(1, 1 + source.last - slot)
