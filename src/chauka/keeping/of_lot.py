"""The use-by of what stands on the shelf."""

from __future__ import annotations

from collections.abc import Sequence

from chauka.keeping.life import UseBy, use_by
from chauka.keeping.of_dish import dish_life, unknown_dish
from chauka.keeping.of_food import food_life
from chauka.keeping.rate import Stay
from chauka.kitchen import Dish, House, Lot


def lot_use_by(
    lot: Lot, house: House, dish: Dish | None = None, *, history: Sequence[Stay] = (), house_factor: float = 1.0
) -> UseBy:
    """Until when a lot should be eaten, and why.

    Parameters
    ----------
    lot
        A food or a dish. What it is older than `lot.since` is counted: for produce as time in the
        room, for everything else day for day.
    dish
        The dish that the lot holds; without it only the limits for any cooked food are known.
    history, house_factor
        For a food: known stays before `lot.since` instead of its age, and what this house has learnt.
    """
    if lot.food is not None:
        life = food_life(
            lot.food, lot.form, lot.place, house, lot.covered, lot.age_days, history=history, house_factor=house_factor
        )
    else:
        # A dish keeps the date of its cooking, wherever it was moved since.
        cooked = dish_life(dish, lot.place, house) if dish else unknown_dish(lot.place, house)
        life = cooked.less(lot.age_days)
    return use_by(life, lot.since)
