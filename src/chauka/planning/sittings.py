"""Sittings as slots: their moments, their positions, and when the market is."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime, time, timedelta

from chauka.kitchen import Course, Dish, House, Meal, RuleKind, Sitting
from chauka.planning.problem import Place, Term

MARKET_TIME = time(10, 0)
"""When what was bought is in the house: after breakfast, before lunch."""

DAY_BEGINS = time(6, 0)
"""When the kitchen can first be at work on the first day."""

ONION_GARLIC = "onion_garlic"
NOT_ON_FAST_DAYS = frozenset({"grain", "pulse"})
"""Traits of foods that a day may be without."""

_POSITIONS = {
    Meal.BREAKFAST: ("breakfast",),
    Meal.LUNCH: ("main", "grain"),
    Meal.DINNER: ("pulse", "vegetable", "grain"),
}
_FILLS: dict[str, tuple[Course, ...]] = {
    "breakfast": (Course.BREAKFAST,),
    "main": (Course.PULSE, Course.VEGETABLE),
    "pulse": (Course.PULSE, Course.SOUP),
    "vegetable": (Course.VEGETABLE,),
    "grain": (Course.GRAIN,),
    "fast": (Course.VEGETABLE, Course.ONE_POT, Course.BREAKFAST),
    "side": (Course.SIDE, Course.SWEET, Course.DRINK),
}
SMALL = frozenset({Course.SIDE, Course.SWEET, Course.DRINK})
"""Courses that count half where liking is added up."""


def moment(sitting: Sitting) -> datetime:
    """When a sitting is served."""
    return datetime.combine(sitting.day, sitting.serve)


def positions(sitting: Sitting, house: House) -> tuple[Place, ...]:
    """The positions of a sitting: those that must be filled, and one for a side.

    A lunch or dinner without a side gives away two points of liking a head, a breakfast one: so a
    liked side is worth its work and another is not.
    """
    names = _POSITIONS[sitting.meal]
    if RuleKind.FAST in sitting.rules and sitting.meal is not Meal.BREAKFAST:
        names = ("fast",)
    heads = len(sitting.eaters) + sitting.guests
    points = 1 if sitting.meal is Meal.BREAKFAST else 2
    side = Place("side", points * house.weights.dislike_point * heads, Term.LIKING)
    return (*(Place(name, house.weights.missed_dish) for name in names), side)


def filled_by(dish: Dish, places: tuple[Place, ...]) -> tuple[int, ...]:
    """Which positions a dish fills; none where it has no place at that sitting."""
    names = [p.name for p in places]
    if dish.course is Course.ONE_POT and "grain" in names:
        return tuple(k for k, name in enumerate(names) if name != "side")
    for k, name in enumerate(names):
        if dish.course in _FILLS[name]:
            return (k,)
    return ()


_MEAL_SHARE = {Meal.BREAKFAST: 0.25, Meal.LUNCH: 0.35, Meal.DINNER: 0.40}
"""Share of the day's nutrients that a meal stands for when somebody is away; our own estimate."""


def eaten_here(house: House, held: Sequence[Sitting], person: str, start: date, days: int) -> float:
    """Share of the horizon's food that a person gets at this table."""
    here = {(s.day, s.meal) for s in held if person in s.eaters}
    all_days = [start + timedelta(days=k) for k in range(days)]
    times = {(d, m.meal) for d in all_days for m in house.meal_times if m.weekday == d.weekday()}
    whole = sum(_MEAL_SHARE[meal] for _, meal in times)
    return sum(_MEAL_SHARE[meal] for _, meal in here) / whole if whole else 0.0


def market_days(house: House, start: date, days: int, weekdays: tuple[int, ...]) -> tuple[date, ...]:
    """The days on which an offer can be bought; an offer without weekdays is there on every market day."""
    on = weekdays or house.market_weekdays
    return tuple(d for d in (start + timedelta(k) for k in range(days)) if d.weekday() in on)
