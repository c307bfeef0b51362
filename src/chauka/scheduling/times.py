"""How long a step takes for so many portions, and how much of a cook it takes.

Rules of thumb throughout: common practice, no source.
"""

from __future__ import annotations

import math

from chauka.kitchen import Attention, Step, Technique, Vessel

TICKS_PER_MIN = 2
"""The grid is 30 seconds: finer grids cost solving time, and no cook works to less."""

COOK_UNITS = 4
"""What one cook can give at a time."""

BY_THE_PIECE = frozenset(
    {
        Technique.PICK, Technique.PEEL, Technique.CUT, Technique.GRATE,
        Technique.GRIDDLE, Technique.SHALLOW_FRY, Technique.DEEP_FRY,
    }
)  # fmt: skip
"""Twice the amount takes twice the time: each piece goes through the hands or the pan by itself."""

BOARD_WORK = frozenset({Technique.PICK, Technique.WASH, Technique.PEEL, Technique.CUT, Technique.GRATE})
"""Cleaning and cutting: for two dishes it is done in one go."""

BENCH_WORK = BOARD_WORK | {Technique.KNEAD, Technique.GRIDDLE, Technique.PRESS, Technique.ASSEMBLE}
"""Cutting, kneading, rolling: each takes a place at the bench."""

LOOKED_AT = frozenset({Technique.PRESSURE_COOK, Technique.BAKE})
"""Done in an open pot or a pan instead, it wants a look now and then."""

UNDIVIDED = frozenset({Technique.KNEAD, Technique.DEEP_FRY})
"""Dough on both hands, hot oil: nobody looks at another pot meanwhile."""

STIRRED = frozenset({Technique.SAUTE, Technique.ROAST, Technique.TEMPER, Technique.SHALLOW_FRY, Technique.DEEP_FRY})
"""Pans that want to be stirred often even when nobody stands over them."""

UNHURRIED = frozenset({Technique.SOAK, Technique.SPROUT, Technique.SET, Technique.REST, Technique.COOL})
"""Waiting: anything from its shortest to its longest time is right."""

WASH_MIN = {
    Vessel.PRESSURE_COOKER: 3.0,
    Vessel.WOK: 2.0,
    Vessel.GRIDDLE: 1.0,
    Vessel.POT: 2.0,
    Vessel.SAUCEPAN: 1.5,
    Vessel.LADLE: 0.5,
    Vessel.STEAMER: 2.0,
    Vessel.GRINDER: 2.0,
    Vessel.OVEN: 0.0,
    Vessel.BOWL: 1.0,
    Vessel.BOX: 1.0,
}
"""Minutes to empty a vessel and rinse it for the next dish: common practice, no source."""


def ticks(minutes: float) -> int:
    """Whole ticks, rounded up: a plan that is 20 seconds generous is better than one too tight."""
    return math.ceil(minutes * TICKS_PER_MIN - 1e-9)


def attention_units(step: Step) -> int:
    """How many of a cook's four units a step takes.

    4 where both hands and eyes are bound, 3 for any other work by hand (one pot may simmer beside it,
    two pieces of work may not), 2 for a pan that wants stirring often, 1 for a pot that wants a look
    now and then, 0 for what needs nobody.
    """
    if step.attention is Attention.HANDS_OFF:
        return 0
    if step.attention is Attention.NOW_AND_THEN:
        return 2 if step.technique in STIRRED else 1
    return 4 if step.technique in UNDIVIDED else 3


def planned_minutes(step: Step, ratio: float) -> tuple[float, float]:
    """Shortest and longest time to plan for a step [min], the dish made `ratio` times as large.

    Work by the piece grows with the amount but hardly shrinks below half a portion count; the rest
    takes as long for eight as for four. Waiting may be anything in its span; cooking lasts at least
    the middle of its span and may run to the top of it; hands-on work is planned at its middle.
    """
    factor = max(ratio, 0.4) if step.technique in BY_THE_PIECE else 1.0
    low, mid, high = (m * factor for m in (step.minutes.low, step.minutes.mid, step.minutes.high))
    if is_wait(step):
        return low, high
    return mid, mid if step.attention is Attention.HANDS_ON else high


def is_wait(step: Step) -> bool:
    """Soaking, sprouting, setting, resting, cooling: nobody stands by, and it may last a while longer."""
    return step.technique in UNHURRIED and step.attention is Attention.HANDS_OFF
