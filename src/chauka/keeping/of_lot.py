"""The use-by of what stands on the shelf."""

from __future__ import annotations

from collections.abc import Collection, Sequence

from chauka.keeping import caps
from chauka.keeping.life import UseBy, smallest, use_by
from chauka.keeping.of_dish import dish_life, unknown_dish
from chauka.keeping.of_food import food_life, thawed_hours
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
