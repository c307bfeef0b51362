"""Dishes that can be held in the head, of real foods."""

from __future__ import annotations

from collections.abc import Sequence

from chauka.kitchen import After, Attention, Course, Dish, Form, Heat, Line, Step, Technique, Vessel
from chauka.units import Estimate, Span

SPINACH, POTATO, ONION, TOMATO, RICE, MOONG, RAJMA = "C033", "F006", "G017", "D076", "A015", "B010", "B020"
ATTA, MILK, GHEE, MUSTARD_OIL, SALT, WATER, SUGAR = "A019", "L002", "T506", "T006", "G528", "K505", "I502"
CUMIN, CORIANDER, UNKNOWN_GREENS = "G025", "G009", "X901"


def line(
    food: str,
    grams: float,
    form: Form = Form.DRY,
    *,
    sd: float = 0.0,
    eaten: float = 1.0,
    name: str = "",
    **changes: bool,
) -> Line:
    """A line named after its food."""
    return Line(
        name or food.lower(), food, food, f"{grams:g} g", Estimate(grams, sd), form, eaten_share=eaten, **changes
    )


def step(
    step_id: str, technique: Technique, minutes: float, lines: Sequence[str] = (), *, after: Sequence[str] = (),
    heat: Heat = Heat.MEDIUM, vessel: Vessel | None = Vessel.POT, ahead: bool = False, whistles: int | None = None,
) -> Step:  # fmt: skip
    """A step with no slack."""
    return Step(
        step_id, f"{technique} it", technique, Span(minutes, minutes), Attention.HANDS_ON, vessel=vessel,
        heat=heat if technique.cooks else Heat.NONE, after=tuple(After(a) for a in after), lines=tuple(lines),
        ahead=ahead, whistles=whistles,
    )  # fmt: skip


def dish(lines: Sequence[Line], steps: Sequence[Step], *, portions: float = 4, yield_g: Estimate | None = None) -> Dish:
    """A dish of these lines and steps."""
    return Dish(
        "test-dish", "Test dish", Course.VEGETABLE, lines[0].food, portions, tuple(lines), tuple(steps), yield_g=yield_g
    )


def dal() -> Dish:
    """Moong dal with spinach, cumin bloomed in ghee, raw coriander strewn over."""
    return dish(
        [
            line(MOONG, 200, sd=5),
            line(WATER, 900, Form.LIQUID, sd=60),
            line(SALT, 5, sd=0.6),
            line(SPINACH, 300, Form.CHOPPED, sd=10),
            line(GHEE, 14, Form.LIQUID, sd=1.5),
            line(CUMIN, 2.5, sd=0.4),
            line(CORIANDER, 10, Form.CHOPPED, sd=3),
        ],
        [
            step("boil", Technique.PRESSURE_COOK, 14, ["b010", "k505", "g528"], whistles=3),
            step("simmer", Technique.SIMMER, 5, ["c033"], after=["boil"]),
            step("temper", Technique.TEMPER, 3, ["t506", "g025"], vessel=Vessel.LADLE),
            step("pour", Technique.MIX, 1, ["g009"], after=["simmer", "temper"]),
        ],
    )


def salad(*lines: Line) -> Dish:
    """Lines that are put together and never heated."""
    return dish(lines, [step("mix", Technique.ASSEMBLE, 3, [x.id for x in lines])])


def boiled(*lines: Line, minutes: float = 15, heat: Heat = Heat.MEDIUM) -> Dish:
    """Lines that are simmered together."""
    return dish(lines, [step("simmer", Technique.SIMMER, minutes, [x.id for x in lines], heat=heat)])
