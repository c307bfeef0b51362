"""Changing what the kitchen has, who cooks and when it eats. Each change can be taken back."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time

from chauka.errors import InputError
from chauka.kitchen import Cook, House, Meal, MealTime, Technique, Vessel, VesselStock
from chauka.services.house_changes import change_house
from chauka.store.models import Household

MOST_OF_A_KIND, LARGEST_LITRES = 50, 200.0


@dataclass(frozen=True, slots=True)
class MealRow:
    """One meal at one hour on some weekdays (0 = Monday), as the house page lists it."""

    meal: Meal
    serve: time
    hands_on_min: int
    weekdays: tuple[int, ...]


def meal_rows(house: House) -> tuple[MealRow, ...]:
    """Meal times with the weekdays that share one hour and length taken together."""
    found: dict[tuple[Meal, time, int], list[int]] = {}
    for when in house.meal_times:
        found.setdefault((when.meal, when.serve, when.hands_on_min), []).append(when.weekday)
    rows = (MealRow(*key, tuple(sorted(days))) for key, days in found.items())
    return tuple(sorted(rows, key=lambda row: (row.meal.order, row.weekdays)))


def set_vessels(household: Household, said: Sequence[tuple[str, str, str]], now: datetime) -> None:
    """The vessels as kind, count and litres, in words as a form says them; a count of 0 takes one off."""
    bad: dict[str, tuple[str, ...]] = {}
    vessels = []
    for kind, count, litres in said:
        try:
            stock = VesselStock(Vessel(kind), int(count or 0), float(litres) if litres.strip() else None)
        except ValueError:
            stock = None
        if stock is None or not _can_be(stock):
            bad[kind or "vessel"] = ("say how many there are, and how much one holds in litres or nothing",)
        elif stock.count:
            vessels.append(stock)
    if bad:
        raise InputError(bad)
    change_house(household, now, "set the vessels", lambda house: replace(house, vessels=tuple(vessels)))


def _can_be(stock: VesselStock) -> bool:
    return 0 <= stock.count <= MOST_OF_A_KIND and (stock.litres is None or 0 < stock.litres <= LARGEST_LITRES)


def read_cook(name: str, pace: str, cannot: Sequence[str]) -> Cook:
    """Someone who cooks, as a form says it; an empty pace is that of the recipes. Raises `InputError` in words."""
    if not name.strip():
        raise InputError({"name": ("say what the cook is called",)})
    try:
        techniques, takes = frozenset(map(Technique, cannot)), float(pace.replace(",", ".") or 1)
    except ValueError:
        raise InputError(
            {"pace": (f"{pace!r} is no number; write 1 for as quick as a recipe, 1.5 for half as long again",)}
        ) from None
    return Cook(name.strip(), techniques, takes)


def set_cook(household: Household, number: int | None, cook: Cook, now: datetime) -> None:
    """The cook of that place in the list (None: one more) is from now on as described."""

    def change(house: House) -> House:
        at = len(house.crew) if number is None else _place(house, number)
        return replace(house, crew=(*house.crew[:at], cook, *house.crew[at + 1 :]))

    change_house(household, now, "set down a cook", change, cook.name)


def remove_cook(household: Household, number: int, now: datetime) -> None:
    """The cook of that place does not cook here any more."""

    def change(house: House) -> House:
        at = _place(house, number)
        return replace(house, crew=(*house.crew[:at], *house.crew[at + 1 :]))

    change_house(household, now, "take a cook off", change)


def put_cook_first(household: Household, number: int, now: datetime) -> None:
    """The cook of that place cooks before all others where not all cook at one time."""

    def change(house: House) -> House:
        at = _place(house, number)
        return replace(house, crew=(house.crew[at], *house.crew[:at], *house.crew[at + 1 :]))

    change_house(household, now, "put a cook first", change)


def _place(house: House, number: int) -> int:
    if not 0 <= number < len(house.crew):
        raise InputError({"cook": ("is not on the list any more",)})
    return number


def set_meal(household: Household, meal: str, weekdays: Sequence[int], now: datetime, *, at: str, minutes: str) -> None:
    """On these weekdays the meal is served `at` an hour, with so many minutes of hands; no hour: it is not eaten."""
    if not weekdays or not all(0 <= day <= 6 for day in weekdays):
        raise InputError({"days": ("name at least one weekday",)})
    try:
        which, serve = Meal(meal), time.fromisoformat(at) if at.strip() else None
        hands = int(minutes or 0)
    except ValueError:
        raise InputError({"meal": (f"{at!r} is no hour; write it as in 19:30, and the minutes as a number",)}) from None
    if serve is not None and not 0 < hands <= 300:
        raise InputError({"minutes": (f"{hands} cannot be right; give 1 to 300 minutes of hands",)})

    def change(house: House) -> House:
        others = [m for m in house.meal_times if m.meal is not which or m.weekday not in weekdays]
        new = [] if serve is None else [MealTime(which, day, serve, hands) for day in weekdays]
        return replace(house, meal_times=tuple(sorted([*others, *new], key=lambda m: (m.weekday, m.meal.order))))

    change_house(household, now, "set a meal time", change, f"{which} {at}".strip())
