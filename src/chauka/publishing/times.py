"""How long a dish takes, from its steps alone."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from chauka.kitchen import Attention, Dish, Heat, Step


@dataclass(frozen=True, slots=True)
class Times:
    """Minutes of a dish [min], middle of each step's span.

    `hands_on_min` is all work of the hands, ahead or not. `prepare_min` is hands-on work off the
    fire, `cook_min` the time in which something is on the fire. `ahead_min` is the longest run of
    steps done before the session (soaking, setting). `total_min` runs from the first step to the
    table when each step starts as soon as it may, waiting included; since one pair of hands does
    all, it is never less than preparing and cooking together.
    """

    hands_on_min: int
    prepare_min: int
    cook_min: int
    ahead_min: int
    total_min: int


def times(dish: Dish) -> Times:
    """The times of a dish."""
    ends = _ends(dish)
    starts = {s.id: ends[s.id] - s.minutes.mid for s in dish.steps}
    hands = [s for s in dish.steps if s.attention is Attention.HANDS_ON]
    prepare = sum(s.minutes.mid for s in hands if s.heat is Heat.NONE)
    cook = _covered((starts[s.id], ends[s.id]) for s in dish.steps if s.heat is not Heat.NONE)
    return Times(
        hands_on_min=round(sum(s.minutes.mid for s in hands)),
        prepare_min=round(prepare),
        cook_min=round(cook),
        ahead_min=round(max((ends[s.id] for s in dish.steps if s.ahead), default=0)),
        total_min=round(max(max(ends.values(), default=0), prepare + cook)),
    )


def session_min(dish: Dish) -> float:
    """From the first step of the cooking day to the table when each step starts as soon as it may [min]."""
    ends: dict[str, float] = {}
    for step in dish.steps:
        if not step.ahead:
            start = max((ends[a.step] + a.min_lag_min for a in step.after if a.step in ends), default=0.0)
            ends[step.id] = start + step.minutes.mid
    return max(ends.values(), default=0.0)


def waits(dish: Dish) -> tuple[Step, ...]:
    """The steps that a reader must begin before the cooking session, in order."""
    return tuple(s for s in dish.steps if s.ahead)


def tools(dish: Dish) -> tuple[str, ...]:
    """The vessels and tools that a dish takes, in the order of their first use."""
    return tuple(dict.fromkeys(str(s.vessel) for s in dish.steps if s.vessel))


def _ends(dish: Dish) -> dict[str, float]:
    """When each step ends if it starts as soon as its lags let it [min]; steps stand in a possible order."""
    ends: dict[str, float] = {}
    for step in dish.steps:
        start = max((ends[a.step] + a.min_lag_min for a in step.after), default=0.0)
        ends[step.id] = start + step.minutes.mid
    return ends


def _covered(intervals: Iterable[tuple[float, float]]) -> float:
    """Length of a union of intervals."""
    covered, reached = 0.0, float("-inf")
    for start, end in sorted(intervals):
        covered += max(0.0, end - max(start, reached))
        reached = max(reached, end)
    return covered
