"""Which steps a line passes on its way into the dish, and which of them heat it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from chauka import tables
from chauka.kitchen import Dish, Form, Line, Step, Technique, Vessel

WATER_FOODS = frozenset({"K505"})
"""Codes of plain water."""

_BRINGS_ITS_OWN = frozenset({Technique.TEMPER, Technique.ROAST})
_IN_WATER = frozenset({Technique.BOIL, Technique.BLANCH, Technique.PRESSURE_COOK, Technique.SIMMER})

_WETS_ONLY = frozenset({Technique.SOAK, Technique.WASH, Technique.SPROUT})


@dataclass(frozen=True, slots=True)
class Passage:
    """The steps that heat one line, in order, and those of them whose cooking water is poured away."""

    line: Line
    heated_by: tuple[Step, ...]
    drained: frozenset[str]
    rested_between: bool  # a boiled food that waits (made ahead) before it is cooked again


def passages(dish: Dish) -> Mapping[str, Passage]:
    """For each line, the steps that heat it.

    A line enters at the steps that name it and passes through every step that comes after those. A
    tempering or a dry roast that brings lines of its own heats only these: what came before it waits
    in another pot. A line that no step names is taken as not heated.
    """
    reached = {step.id: reach(dish, step.id) for step in dish.steps}
    drained = frozenset(step.id for step in dish.steps if _is_drained(dish, step, reached))
    return {line.id: _passage(dish, line, reached, drained) for line in dish.lines}


def reach(dish: Dish, step_id: str) -> frozenset[str]:
    """The step and all that come after it, directly or through others."""
    reached = {step_id}
    for step in dish.steps:
        if any(after.step in reached for after in step.after):
            reached.add(step.id)
    return frozenset(reached)


def _passage(dish: Dish, line: Line, reached: Mapping[str, frozenset[str]], drained: frozenset[str]) -> Passage:
    entered = [step.id for step in dish.steps if line.id in step.lines]
    passed = frozenset[str]().union(*(reached[s] for s in entered))
    heated = tuple(s for s in dish.steps if s.id in passed and s.technique.cooks and heats(s, line))
    rested = len(heated) > 1 and heated[0].ahead and not heated[-1].ahead
    return Passage(line, heated, drained & {s.id for s in heated}, rested)


def heats(step: Step, line: Line) -> bool:
    """Whether a cooking step that the line passes really has the line in its pot."""
    own_pot = step.technique in _BRINGS_ITS_OWN or step.vessel is Vessel.LADLE
    return line.id in step.lines or not (own_pot and step.lines)


def _is_drained(dish: Dish, step: Step, reached: Mapping[str, frozenset[str]]) -> bool:
    """Whether the cooking water of a step is poured away.

    Blanching always is. Boiling is where the dish lists its water with less than half of it eaten,
    or lists no liquid at all: nobody writes down water that goes down the drain.
    """
    if step.technique is Technique.BLANCH:
        return True
    if step.technique not in _IN_WATER:
        return False
    entered = [s for s in dish.steps if step.id in reached[s.id] and s.technique not in _WETS_ONLY]
    in_pot = [dish.line(line_id) for s in entered for line_id in s.lines]
    water = [line for line in in_pot if line.food in WATER_FOODS]
    if water:
        return sum(w.grams.mean * w.eaten_share for w in water) < 0.5 * sum(w.grams.mean for w in water)
    wet = any(line.form in (Form.LIQUID, Form.SET) and "fat" not in tables.traits(line.food) for line in in_pot)
    return step.technique is not Technique.SIMMER and not wet
