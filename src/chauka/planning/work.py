"""Work and helpings: how long a dish takes for so many, how early it is begun, how much of it people take."""

from __future__ import annotations

import math
from dataclasses import dataclass

from chauka.kitchen import Attention, Book, Course, Dish, Swap

HELPINGS = {Course.GRAIN: (1.0, 2.0), Course.ONE_POT: (1.0, 1.5)}
"""Portions as written that people may take of a filling dish: hunger is met with bread and rice. Our own estimate."""


@dataclass(frozen=True, slots=True)
class Helping:
    """A dish (with its `swaps` made) and how many portions as written go to one adult."""

    dish: Dish
    count: float
    swaps: tuple[Swap, ...] = ()


def helpings(book: Book) -> tuple[Helping, ...]:
    """Every dish in each of its helpings."""
    return tuple(Helping(dish, count) for dish in book.dishes for count in HELPINGS.get(dish.course, (1.0,)))


LONG_LEAD_MIN = 240
BENCH_MARGIN_MIN = 120
"""Long work ahead begins in a free quarter-hour between meals, up to two hours early; our own estimate."""


def lead_min(dish: Dish) -> float:
    """Minutes from the first ahead step to the earliest start of the cooking session; 0 without ahead steps.

    Each step counts with its longest time: what may take ten hours has to be begun ten hours before.
    """
    done, lead = dict[str, float](), 0.0
    for step in dish.steps:
        began = max((done[a.step] + a.min_lag_min for a in step.after if a.step in done), default=0.0)
        if step.ahead:
            done[step.id] = began + step.minutes.high
            lead = max(lead, done[step.id])
        else:
            lead = max(lead, began)
    return lead + BENCH_MARGIN_MIN if lead >= LONG_LEAD_MIN else lead


def hands_on(dish: Dish, portions: float) -> int:
    """Hands-on minutes for so many portions: half of the work grows with the pot; our own estimate."""
    return math.ceil(dish.hands_on_min * (0.5 + 0.5 * portions / dish.portions))


def ahead_hands_on(dish: Dish) -> int:
    """Hands-on minutes of the ahead steps."""
    return math.ceil(sum(s.minutes.mid for s in dish.steps if s.ahead and s.attention is Attention.HANDS_ON))
