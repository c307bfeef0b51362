"""Small dishes of our own for the tests: the shapes that matter, not recipes to cook from."""

from __future__ import annotations

from datetime import date, time

from chauka.kitchen import (
    After,
    Attention,
    Course,
    Dish,
    Form,
    Heat,
    House,
    Line,
    Meal,
    MealTime,
    Person,
    Served,
    Sex,
    Step,
    Technique,
    Vessel,
    VesselStock,
)  # fmt: skip
from chauka.units import Estimate, Span

ON, OFF, NOW = Attention.HANDS_ON, Attention.HANDS_OFF, Attention.NOW_AND_THEN


def line(said: str, grams: float, form: Form = Form.WHOLE, food: str = "") -> Line:
    """A line whose id and food are its name."""
    return Line(said, food or said, said, "", Estimate(grams), form)


def step(
    name: str,
    technique: Technique,
    low: float,
    high: float | None = None,
    attention: Attention = ON,
    *,
    after: tuple[After | str, ...] = (),
    vessel: Vessel | None = None,
    heat: Heat = Heat.NONE,
    lines: tuple[str, ...] = (),
    ahead: bool = False,
) -> Step:
    """A step whose text is its name; a bare string in `after` means "any time after"."""
    afters = tuple(After(a) if isinstance(a, str) else a for a in after)
    span = Span(low, low if high is None else high)
    return Step(name, name.replace("-", " "), technique, span, attention, vessel, heat, afters, lines, ahead)


def dish(name: str, *steps: Step, lines: tuple[Line, ...] = (), served: Served = Served.HOT, hold: int = 10) -> Dish:
    """A dish for four."""
    return Dish(name, name, Course.SIDE, name, 4, lines or (line("salt", 5),), steps, served=served, hold_min=hold)


def house(burners: int = 2, cooks: int = 1, **vessels: int) -> House:
    """A house with one of everything, unless counted otherwise (`pressure_cooker=2`)."""
    counts = {v: vessels.get(v.name.lower(), 1) for v in Vessel if v not in (Vessel.BOWL, Vessel.BOX)}
    return House(
        name="test house",
        people=(Person("a", "A", Sex.FEMALE, date(1990, 1, 1), 60),),
        burners=burners,
        cooks=cooks,
        vessels=tuple(VesselStock(kind, count) for kind, count in counts.items() if count),
        meal_times=(MealTime(Meal.DINNER, 6, time(20), 60),),
        market_weekdays=(2, 6),
    )


DAL = dish(
    "dal",
    step("rinse-the-lentils", Technique.WASH, 2, lines=("lentils",)),
    step("chop-the-onion", Technique.CUT, 4, lines=("onion",)),
    step("pressure-cook", Technique.PRESSURE_COOK, 12, 15, OFF, after=("rinse-the-lentils",),
         vessel=Vessel.PRESSURE_COOKER, heat=Heat.MEDIUM),
    step("let-the-pressure-fall", Technique.REST, 10, 20, OFF, after=(After("pressure-cook", 0, 0),),
         vessel=Vessel.PRESSURE_COOKER),
    step("fry-the-onion", Technique.TEMPER, 5, 6, after=("chop-the-onion",), vessel=Vessel.LADLE, heat=Heat.HIGH),
    step("pour-over", Technique.MIX, 1, after=(After("fry-the-onion", 0, 0), "let-the-pressure-fall")),
    lines=(line("lentils", 160), line("onion", 80)),
)  # fmt: skip

GREENS = dish(
    "greens",
    step("wash-the-greens", Technique.WASH, 5, lines=("greens",)),
    step("chop-the-greens", Technique.CUT, 6, after=("wash-the-greens",), lines=("greens",)),
    step("chop-onion-for-greens", Technique.CUT, 4, lines=("onion",)),
    step("brown-the-onion", Technique.SAUTE, 6, 8, NOW, after=("chop-onion-for-greens",), vessel=Vessel.WOK,
         heat=Heat.MEDIUM),
    step("wilt", Technique.SAUTE, 8, 12, NOW, after=(After("brown-the-onion", 0, 2), "chop-the-greens"),
         vessel=Vessel.WOK, heat=Heat.MEDIUM),
    lines=(line("greens", 400), line("onion", 100)),
)  # fmt: skip

RICE = dish(
    "rice",
    step("wash-the-rice", Technique.WASH, 3, lines=("rice",)),
    step("soak-the-rice", Technique.SOAK, 15, 40, OFF, after=("wash-the-rice",)),
    step("simmer-covered", Technique.SIMMER, 14, 16, OFF, after=("soak-the-rice",), vessel=Vessel.POT, heat=Heat.LOW),
    step("stand", Technique.REST, 5, 10, OFF, after=(After("simmer-covered", 0, 0),), vessel=Vessel.POT),
    lines=(line("rice", 260),),
    hold=20,
)  # fmt: skip

ROTI = dish(
    "roti",
    step("knead", Technique.KNEAD, 8, lines=("flour",)),
    step("rest-the-dough", Technique.REST, 20, 90, OFF, after=("knead",)),
    step("roll-and-bake", Technique.GRIDDLE, 20, after=("rest-the-dough",), vessel=Vessel.GRIDDLE, heat=Heat.HIGH),
    lines=(line("flour", 320),),
    hold=5,
)  # fmt: skip

SALAD = dish(
    "salad",
    step("grate-the-radish", Technique.GRATE, 6, lines=("radish",)),
    step("dress", Technique.MIX, 1, after=("grate-the-radish",)),
    lines=(line("radish", 200),),
    served=Served.COOL,
)

DINNER = ((DAL, 4.0), (GREENS, 4.0), (RICE, 4.0), (ROTI, 4.0), (SALAD, 4.0))
