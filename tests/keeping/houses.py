"""A house and a few dishes, small enough to hold in the head."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from chauka.kitchen import (
    Attention,
    Condition,
    Course,
    Dish,
    Form,
    Heat,
    House,
    Kept,
    Line,
    Person,
    Place,
    Served,
    Sex,
    Step,
    Technique,
    Vessel,
)
from chauka.units import Estimate, Span

ASHA = Person("asha", "Asha", Sex.FEMALE, date(1990, 5, 1), 58.0)
HOUSE = House("test", (ASHA,), 2, (), (), (2, 6), fridge_c=5.0, room_c=18.0)
EXPECTING = replace(HOUSE, people=(replace(ASHA, conditions=frozenset({Condition.PREGNANT})),))


def line(food: str, grams: float = 100.0, form: Form = Form.DRY, *, eaten: float = 1.0) -> Line:
    """So many grams of a food."""
    return Line(f"l-{food.lower()}-{form}", food, food, f"{grams:g} g", Estimate(grams), form, eaten_share=eaten)


def step(technique: Technique, *, vessel: Vessel | None = None, minutes: float = 10) -> Step:
    """One step of a technique."""
    heat = Heat.MEDIUM if technique.cooks else Heat.NONE
    return Step(f"s-{technique}", f"{technique}.", technique, Span(minutes, minutes), Attention.HANDS_ON, vessel, heat)


def dish(
    *lines: Line,
    does: tuple[Technique, ...] = (Technique.SIMMER,),
    course: Course = Course.VEGETABLE,
    served: Served = Served.HOT,
    kept: tuple[Place, float, float] | None = (Place.FRIDGE, 9, 9),
    freezes: bool = False,
    vessel: Vessel | None = None,
    batch: bool = False,
) -> Dish:
    """A dish of these lines; `kept` says nine days unless told, so that a limit must bind."""
    return Dish(
        id="d",
        name="D",
        course=course,
        base=lines[0].food,
        portions=4,
        lines=lines,
        steps=tuple(step(t, vessel=vessel) for t in does),
        kept=Kept(kept[0], Span(kept[1], kept[2]), "common practice, no source", freezes) if kept else None,
        served=served,
        batch=batch,
    )
