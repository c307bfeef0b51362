"""A book that is still empty: the demo house in one click, or five questions and a house of one's own.

A house of one's own begins with our dish book and our market's packs, prices to be set right, and
with nothing on the shelf.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date, datetime, time

from chauka import demo
from chauka.errors import InputError
from chauka.kitchen import Book, House, Meal, MealTime, Person, Sex, Vessel, VesselStock
from chauka.services.words import COINS_PER_UNIT
from chauka.store import books, models
from chauka.store.models import Household

QUESTIONS = ("name", "people", "burners", "market", "budget")
_USUAL_VESSELS = (Vessel.PRESSURE_COOKER, Vessel.WOK, Vessel.GRIDDLE, Vessel.POT, Vessel.SAUCEPAN, Vessel.LADLE)
_USUAL_TIMES = ((Meal.BREAKFAST, time(8), 25), (Meal.LUNCH, time(13), 45), (Meal.DINNER, time(20), 60))
_SEXES = {"woman": Sex.FEMALE, "girl": Sex.FEMALE, "man": Sex.MALE, "boy": Sex.MALE}
_USUAL_KG = ((3, 14.0), (6, 20.0), (10, 30.0), (14, 45.0), (150, 60.0))
"""Weights by age until somebody is weighed; our own estimate."""


def is_empty() -> bool:
    """Whether this book holds no house yet."""
    return not models.Household.objects.exists()


def begin(said: Mapping[str, str], now: datetime) -> Household:
    """Make the house that the five answers describe. Raises one `InputError` with all that is unclear."""
    if not is_empty():
        raise InputError({"house": ("this book has a house already",)})
    bad: dict[str, tuple[str, ...]] = {}
    people = _people(said.get("people", ""), now.date(), bad)
    name = said.get("name", "").strip() or "Our house"
    burners = _whole(said, "burners", bad)
    market = tuple(sorted({int(day) for day in said.get("market", "") if day in "0123456"}))
    if not market:
        bad["market"] = ("on which weekdays do you buy?",)
    budget = _whole(said, "budget", bad) * COINS_PER_UNIT if said.get("budget", "").strip() else None
    if bad:
        raise InputError(bad)
    pattern = demo.written(now.date())
    house = House(
        name=name,
        people=tuple(people),
        burners=burners,
        vessels=tuple(VesselStock(kind) for kind in _USUAL_VESSELS),
        meal_times=tuple(MealTime(meal, day, at, hands) for day in range(7) for meal, at, hands in _USUAL_TIMES),
        market_weekdays=market,
        region=pattern.house.region,
        weekly_budget=budget,
    )
    return books.create(Book(house, pattern.dishes, pattern.offers, ()))


def _whole(said: Mapping[str, str], field: str, bad: dict[str, tuple[str, ...]]) -> int:
    text = said.get(field, "").strip()
    if not text.isascii() or not text.isdigit() or int(text) < 1:
        bad[field] = (f"{text!r} is no whole number above 0" if text else "give a number",)
        return 1
    return int(text)


def _people(text: str, today: date, bad: dict[str, tuple[str, ...]]) -> list[Person]:
    """Lines as in `Asha, woman, 34`."""
    people: dict[str, Person] = {}
    for line in filter(None, (one.strip() for one in text.splitlines())):
        parts = [part.strip() for part in line.split(",")]
        if (
            len(parts) != 3
            or parts[1].lower() not in _SEXES
            or not (parts[2].isascii() and parts[2].isdigit() and len(parts[2]) <= 3)
            or int(parts[2]) > 120
        ):
            bad["people"] = (f"{line!r}: write each on a line of its own, as in: Asha, woman, 34",)
            continue
        name, sex, age = parts[0], _SEXES[parts[1].lower()], int(parts[2])
        key = "".join(c if c.isalnum() else "-" for c in name.lower())
        if key in people:
            bad["people"] = (f"two people are called {name}; tell them apart",)
        kg = next(weight for most, weight in _USUAL_KG if age <= most)
        people[key] = Person(key, name, sex, today.replace(year=today.year - age, day=1), kg)
    if not people and "people" not in bad:
        bad["people"] = ("who eats here? Write each on a line of its own, as in: Asha, woman, 34",)
    return list(people.values())
