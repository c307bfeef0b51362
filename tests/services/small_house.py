"""A house small enough to hold in the head: two people, three dishes, four packs, three lots."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from chauka.kitchen import (
    After,
    Attention,
    Book,
    Course,
    Dish,
    Form,
    Heat,
    House,
    Kept,
    Line,
    Lot,
    Meal,
    MealTime,
    Offer,
    Person,
    Place,
    Sex,
    Step,
    Technique,
    Vessel,
    VesselStock,
)
from chauka.units import Estimate, Span

NOW = datetime.fromisoformat("2027-03-14T07:00")
SPINACH, RICE, CURD, MOONG = "C033", "A015", "L520", "B010"


def _step(key: str, text: str, how: Technique, minutes: float, attention: Attention, **more: object) -> Step:
    return Step(key, text, how, Span(minutes, minutes), attention, **more)  # type: ignore[arg-type]


def _line(key: str, food: str, said: str, amount: str, *, grams: float, form: Form) -> Line:
    return Line(key, food, said, amount, Estimate(grams, grams / 20), form)


BOILED_RICE = Dish(
    id="boiled-rice",
    name="Boiled rice",
    course=Course.GRAIN,
    base=RICE,
    portions=2.0,
    lines=(_line("rice", RICE, "rice", "1 cup", grams=190, form=Form.DRY),),
    steps=(
        _step("soak", "Soak the rice.", Technique.SOAK, 20, Attention.HANDS_OFF, vessel=Vessel.BOWL, ahead=True),
        _step(
            "boil",
            "Boil it.",
            Technique.BOIL,
            15,
            Attention.NOW_AND_THEN,
            vessel=Vessel.POT,
            heat=Heat.MEDIUM,
            lines=("rice",),
            after=(After("soak", 0, 600),),
        ),
    ),
    yield_g=Estimate(520.0, 30.0),
    kept=Kept(Place.FRIDGE, Span(1, 1), "common practice, no source"),
)
WILTED_SPINACH = Dish(
    id="wilted-spinach",
    name="Wilted spinach",
    course=Course.VEGETABLE,
    base=SPINACH,
    portions=2.0,
    lines=(_line("spinach", SPINACH, "palak", "1 bunch", grams=300, form=Form.PICKED),),
    steps=(
        _step("pick", "Pick and wash the leaves.", Technique.PICK, 8, Attention.HANDS_ON),
        _step(
            "wilt",
            "Wilt them in a wok.",
            Technique.SAUTE,
            6,
            Attention.HANDS_ON,
            vessel=Vessel.WOK,
            heat=Heat.HIGH,
            lines=("spinach",),
            after=(After("pick"),),
        ),
    ),
)
PLAIN_DAL = Dish(
    id="plain-dal",
    name="Plain moong dal",
    course=Course.PULSE,
    base=MOONG,
    portions=2.0,
    lines=(_line("dal", MOONG, "moong dal", "½ cup", grams=100, form=Form.DRY),),
    steps=(
        _step(
            "cook",
            "Simmer until soft.",
            Technique.SIMMER,
            30,
            Attention.NOW_AND_THEN,
            vessel=Vessel.SAUCEPAN,
            heat=Heat.LOW,
            lines=("dal",),
        ),
    ),
)
HOUSE = House(
    name="Small house",
    people=(
        Person("asha", "Asha", Sex.FEMALE, date(1990, 5, 1), 55.0, liking={"plain-dal": 5}),
        Person("ravi", "Ravi", Sex.MALE, date(1988, 2, 1), 65.0),
    ),
    burners=2,
    vessels=(VesselStock(Vessel.POT), VesselStock(Vessel.WOK), VesselStock(Vessel.SAUCEPAN)),
    meal_times=tuple(MealTime(Meal.DINNER, weekday, time(19, 30), 60) for weekday in range(7)),
    market_weekdays=(2, 6),
    weekly_budget=100_000,
)
BOOK = Book(
    house=HOUSE,
    dishes=(BOILED_RICE, WILTED_SPINACH, PLAIN_DAL),
    offers=(
        Offer(SPINACH, "bunch of 400 g", 400.0, 2500, "greens"),
        Offer(RICE, "1 kg bag", 1000.0, 9000, "grocer"),
        Offer(MOONG, "500 g packet", 500.0, 7000, "grocer"),
    ),
    lots=(
        Lot("spinach-1", 400.0, Form.WHOLE, Place.FRIDGE, NOW - timedelta(days=1), food=SPINACH, cost=2500),
        Lot("rice-1", 2000.0, Form.DRY, Place.CUPBOARD, NOW - timedelta(days=20), food=RICE, cost=18000),
        Lot("curd-1", 300.0, Form.SET, Place.FRIDGE, NOW - timedelta(hours=12), food=CURD),
    ),
)
