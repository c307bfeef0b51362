"""What a market may lack: how often a food is missing or dear, and markets drawn by those chances."""

from __future__ import annotations

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

KEEPS_LONG_DAYS = 30
ASSUMED = "assumed"
"""Chances rest on no publication: fresh food is missing on one market day in ten (one in five when it is coming or
out of season), cupboard goods on one in fifty; it is dear on as many, by half. Our own estimate, until the house
knows better."""


@dataclass(frozen=True, slots=True)
class Chance:
    """How often a food is missing, or dear by `dear_times` its price; `why` says where that is known from."""

    missing: float
    dear: float
    dear_times: float = 1.5
    why: str = ASSUMED


def assumed(life_days: float, season_points: float) -> Chance:
    """The chance where the house has not seen enough markets."""
    share = 0.02 if life_days >= KEEPS_LONG_DAYS else 0.2 if season_points else 0.1
    return Chance(share, share)


@dataclass(frozen=True, slots=True)
class Market:
    """One market as it turned out: what was missing, and what cost how many times its price."""

    missing: frozenset[str]
    dear: Mapping[str, float]


def markets(foods: Sequence[str], chances: Mapping[str, Chance], count: int, seed: int) -> Iterator[Market]:
    """So many markets drawn by the chances of the foods."""
    dice = random.Random(seed)  # noqa: S311  (scenarios, not a secret)
    for _ in range(count):
        missing, dear = set[str](), dict[str, float]()
        for food in foods:
            draw, chance = dice.random(), chances[food]
            if draw < chance.missing:
                missing.add(food)
            elif draw < chance.missing + chance.dear:
                dear[food] = chance.dear_times
        yield Market(frozenset(missing), dear)
