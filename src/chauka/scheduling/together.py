"""Which steps of several dishes are done in one go: one board for all onions, one pot of dal for two dishes."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable

from chauka.kitchen import Dish, Heat, Step, Technique, Vessel, of_part
from chauka.scheduling.jobs import Part
from chauka.scheduling.times import BOARD_WORK

ONE_POT = frozenset({Technique.SOAK, Technique.PRESSURE_COOK, Technique.BOIL, Technique.STEAM})
"""Cooking that is the same pot's work for two dishes, if the same foods go in in the same way."""

_STANDING = frozenset({Technique.REST, Technique.COOL})

Key = tuple[object, ...]


def done_in_one_go(parts: Iterable[Part]) -> list[tuple[Part, ...]]:
    """The parts in groups; most groups are of one."""
    groups: dict[Key, list[Part]] = defaultdict(list)
    for part in parts:
        groups[_same_work(part.dish, part.step)].append(part)
    return [tuple(group) for group in groups.values()]


def shares_a_pot(parts: tuple[Part, ...]) -> bool:
    """Whether several dishes cook in one vessel here, which takes no longer than for one."""
    return len(parts) > 1 and parts[0].step.technique not in BOARD_WORK


def _same_work(dish: Dish, step: Step) -> Key:
    """A key that two steps share if one board and one knife, or one pot, does both at once.

    A made-ahead part that several dishes take from, or that stands on the table itself, is made in one go.
    """
    return _on_one_board(dish, step) or _in_one_pot(dish, step) or of_part(step) or (dish.id, step.id)


def _on_one_board(dish: Dish, step: Step) -> Key | None:
    lines = [dish.line(i) for i in step.lines]
    free = not step.after and step.vessel in (None, Vessel.BOWL) and step.heat is Heat.NONE
    rushed = any(a.step == step.id and a.max_lag_min is not None for s in dish.steps for a in s.after)
    shared_later = any(_in_one_pot(dish, s) for s in dish.steps if any(a.step == step.id for a in s.after))
    one_food = len({line.food for line in lines}) == 1
    if step.technique in BOARD_WORK and free and (not rushed or shared_later) and one_food:
        return step.technique, lines[0].food, lines[0].form
    return None


def _in_one_pot(dish: Dish, step: Step) -> Key | None:
    """What goes in, how it is cooked, and what was done with it before; None where the dish goes its own way."""
    if step.technique not in ONE_POT | _STANDING or step.ahead:
        return None
    if step.technique in _STANDING and not step.after:
        return None
    before = []
    for after in step.after:
        earlier = dish.step(after.step)
        key = ("ahead", earlier.technique) if earlier.ahead else _rinsed(dish, earlier) or _in_one_pot(dish, earlier)
        if key is None:
            return None
        before.append((*key, after.min_lag_min, after.max_lag_min))
    foods = frozenset((dish.line(i).food, dish.line(i).form) for i in step.lines)
    if not foods and not before:
        return None
    how = (step.technique, step.vessel, step.heat, step.attention, step.minutes, step.whistles)
    return (*how, foods, tuple(before))


def _rinsed(dish: Dish, step: Step) -> Key | None:
    """A first washing of one food; how long it may wait is no matter of the pot's."""
    foods = frozenset((dish.line(i).food, dish.line(i).form) for i in step.lines)
    if step.technique is Technique.WASH and not step.after and len(foods) == 1:
        return step.technique, foods
    return None
