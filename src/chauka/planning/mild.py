"""Mild servings: whether a part of a pot can be taken out before the heat goes in, and for whom it is."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from chauka.kitchen import Dish, Person, Technique

SPLIT_MIN = 2
"""Hands-on minutes that a part served mild takes more; our own estimate."""

_AFTER_COOKING = frozenset({Technique.TEMPER, Technique.ASSEMBLE, Technique.MIX})


def can_be_served_mild(dish: Dish, is_hot: Callable[[str], bool]) -> bool:
    """Whether all heat goes in when the pot is cooked: in a tempering poured over, in a garnish, or to taste.

    What is fried or ground with its chillies cannot be split.
    """
    hot = {line.id for line in dish.lines if is_hot(line.food)}
    needed = {line.id for line in dish.lines if line.id in hot and not line.optional and not line.to_taste}
    if not needed:
        return bool(hot)
    steps = [k for k, step in enumerate(dish.steps) if needed & set(step.lines)]
    if not needed <= {key for k in steps for key in dish.steps[k].lines}:
        return False
    return all(dish.steps[k].technique in _AFTER_COOKING for k in steps) and not any(
        step.technique.cooks and step.technique is not Technique.TEMPER for step in dish.steps[steps[0] + 1 :]
    )


def who_eats_mild(dish: Dish, people: Iterable[Person], is_hot: Callable[[str], bool]) -> tuple[str, ...]:
    """The people for whom a dish is too hot as it is, where it can be served mild."""
    too_hot = tuple(p.id for p in people if dish.chilli > p.chilli)
    return too_hot if too_hot and can_be_served_mild(dish, is_hot) else ()
