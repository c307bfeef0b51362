"""The use-by of what stands on the shelf."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import datetime

from chauka.keeping import caps
from chauka.keeping.life import UseBy, smallest, use_by
from chauka.keeping.of_dish import dish_life, unknown_dish
from chauka.keeping.of_food import food_life, room_days, temperature_c, thawed_hours
from chauka.keeping.policy import FROZEN_C
from chauka.keeping.rate import Stay
from chauka.kitchen import Dish, House, Lot, Place


def lot_use_by(
    lot: Lot,
    house: House,
    dish: Dish | None = None,
    *,
    history: Sequence[Stay] = (),
    house_factor: float = 1.0,
    beside: Collection[str] = (),
) -> UseBy:
    """Until when a lot should be eaten, and why.

    Parameters
    ----------
    lot
        A food or a dish. What it is older than `lot.since` is counted: for produce as time in the
        room, for everything else day for day.
    dish
        The dish that the lot holds; without it only the limits for any cooked food are known.
    history
        Known stays before `lot.since`, instead of its age. Hours in a freezer do not count; a dish that
        was frozen and is so no longer is planned for a day.
    house_factor, beside
        For a food: what this house has learnt, and the foods that stand beside it.
    """
    if lot.food is not None:
        life = food_life(
            lot.food, lot.form, lot.place, house, lot.covered, lot.age_days,
            history=history, house_factor=house_factor, beside=beside,
        )  # fmt: skip
    else:
        # A dish keeps the date of its cooking, wherever it was moved since.
        cooked = dish_life(dish, lot.place, house) if dish else unknown_dish(lot.place, house)
        life = cooked.less(thawed_hours(history) / 24 if history else lot.age_days)
        if lot.place is not Place.FREEZER and any(stay.temp_c <= FROZEN_C for stay in history):
            life = smallest((life, caps.thawed(lot.place)))
    return use_by(life, lot.since)


def moved(
    lot: Lot, place: Place, house: House, now: datetime, dish: Dish | None = None, *, covered: bool = True
) -> Lot:
    """The lot as it comes to another place, or is opened where it stands; what it went through before goes with it.

    Its age is told as `lot_use_by` counts it: for produce as time in the room, for everything else the
    days since it was fresh, those in a freezer left out. What was frozen and is so no longer is planned
    for a day, however fresh it went in.
    """
    if lot.food is not None:
        age = room_days(lot, place, house, now, covered=covered)
        return replace(lot, place=place, since=now, age_days=age, covered=covered)
    frozen = temperature_c(lot.place, house) <= FROZEN_C
    age = lot.age_days + (0.0 if frozen else max(0.0, (now - lot.since).total_seconds() / 86_400))
    if frozen and temperature_c(place, house) > FROZEN_C:
        cooked = dish_life(dish, place, house) if dish else unknown_dish(place, house)
        age = max(age, cooked.plan_days - caps.thawed(place).plan_days)
    return replace(lot, place=place, since=now, age_days=age, covered=covered)
