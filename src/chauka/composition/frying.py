"""Oil for deep frying: most of it stays in the pan."""

from __future__ import annotations

from dataclasses import replace

from chauka import tables
from chauka.kitchen import Dish, Line, Step, Technique, check_whole
from chauka.units import Estimate

UPTAKE = Estimate(0.10, 0.04)
"""Oil that deep-fried food takes up [g per g of what goes into the oil]; common practice, no source."""

_A_BATH = 0.5  # less oil than this share of what is fried is not a bath: all of it is eaten


def as_eaten(dish: Dish) -> Dish:
    """The dish with the oil that is eaten, where a bath of frying oil stands in it as if all were.

    An `eaten_share` below 1 is the author's word and is kept.
    """
    check_whole(dish)
    uptake = {bath.id: _taken_up(dish, step) for step in dish.steps for bath in _baths(dish, step)}
    if not uptake:
        return dish
    lines = tuple(_shared(line, uptake[line.id]) if line.id in uptake else line for line in dish.lines)
    return replace(dish, lines=lines)


def _baths(dish: Dish, step: Step) -> list[Line]:
    """Lines of frying fat that no author gave an eaten share."""
    if step.technique is not Technique.DEEP_FRY:
        return []
    fried = _fried_g(dish, step)
    fats = [dish.line(i) for i in step.lines if _is_fat(dish.line(i))]
    return [fat for fat in fats if fat.eaten_share == 1 and 0 < fried * _A_BATH < fat.grams.mean]


def _is_fat(line: Line) -> bool:
    return "fat" in tables.traits(line.food)


def _fried_g(dish: Dish, step: Step) -> float:
    """What goes into the oil: the lines of the step and of all steps before it, the fat left out."""
    before = {step.id}
    for earlier in reversed(dish.steps):
        if earlier.id in before:
            before.update(after.step for after in earlier.after)
    ids = {i for s in dish.steps if s.id in before for i in s.lines}
    lines = [dish.line(i) for i in ids]
    return sum(line.grams.mean * line.eaten_share for line in lines if not _is_fat(line))


def _taken_up(dish: Dish, step: Step) -> Estimate:
    return UPTAKE * _fried_g(dish, step)


def _shared(line: Line, uptake: Estimate) -> Line:
    """The line with so much of it eaten; the spread of the uptake is that of its grams."""
    share = min(1.0, uptake.mean / line.grams.mean)
    return replace(line, eaten_share=share, grams=Estimate(line.grams.mean, line.grams.mean * uptake.cv))
