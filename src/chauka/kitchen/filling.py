"""How full a step makes its vessel, and how large a vessel it therefore asks for.

A gram counts as a millilitre, leaves as wilted, dry grain as 0.7 ml: within a tenth or two for wet food.
Common practice, no source.
"""

from __future__ import annotations

from chauka import tables
from chauka.kitchen.dish import Dish, Line, Step
from chauka.kitchen.forms import Form, Technique, Vessel

FILL = {Vessel.PRESSURE_COOKER: 2 / 3, Vessel.WOK: 0.6, Vessel.POT: 0.8, Vessel.SAUCEPAN: 0.75, Vessel.GRINDER: 2 / 3}
"""How full a vessel may be; other kinds are not measured by what they hold. Pressure cooker: common instruction,
half with pulses; others common practice."""

_PULSES_UNDER_PRESSURE, _OPEN_COOKER, _WET_WOK = 0.5, 0.8, 0.75
_WET = frozenset({Technique.BOIL, Technique.SIMMER, Technique.MIX, Technique.REST})
_DRY_L_PER_KG = 0.7
"""Grain and pulses under water take less room than they weigh: common practice, no source."""


def filled_l(dish: Dish, step: Step) -> float:
    """What is in the vessel during a step, the dish as written: what goes in here and what came before [litre]."""
    before = {i for earlier in _before(dish, step) for i in earlier.lines} - set(step.lines)
    litres = sum(_litres(dish.line(i)) for i in step.lines)
    return litres + sum(_litres(line) * line.eaten_share for line in map(dish.line, before))


def _litres(line: Line) -> float:
    return line.grams.mean / 1000 * (_DRY_L_PER_KG if line.form is Form.DRY else 1.0)


def fill_share(dish: Dish, step: Step, kind: Vessel) -> float | None:
    """How full a vessel of that kind may be during this step; None where it is not measured by what it holds."""
    if kind is Vessel.PRESSURE_COOKER:
        if step.technique is not Technique.PRESSURE_COOK:
            return _OPEN_COOKER
        return _PULSES_UNDER_PRESSURE if _has_pulses(dish, step) else FILL[kind]
    if kind is Vessel.WOK and step.technique in _WET:
        return _WET_WOK
    return FILL.get(kind)


def least_l(dish: Dish, step: Step, kind: Vessel, ratio: float = 1.0) -> float:
    """The smallest vessel of that kind that will do, the dish made `ratio` times as large [litre]; 0 where any will."""
    share = fill_share(dish, step, kind)
    return 0.0 if share is None else filled_l(dish, step) * ratio / share


def _has_pulses(dish: Dish, step: Step) -> bool:
    inside = {i for one in (step, *_before(dish, step)) for i in one.lines}
    return any("pulse" in tables.traits(dish.line(i).food) for i in inside)


def _before(dish: Dish, step: Step) -> list[Step]:
    """Every step whose food ends up in this one."""
    found: dict[str, Step] = {}
    ahead_of = [step]
    while ahead_of:
        for after in ahead_of.pop().after:
            if after.step not in found:
                found[after.step] = dish.step(after.step)
                ahead_of.append(found[after.step])
    return list(found.values())
