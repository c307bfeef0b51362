"""The use-by of what stands on the shelf."""

from __future__ import annotations

from dataclasses import replace

from chauka.keeping.life import Life, UseBy, use_by
from chauka.keeping.of_dish import dish_life, unknown_dish
from chauka.keeping.of_food import food_life
from chauka.kitchen import Dish, House, Lot


def lot_use_by(lot: Lot, house: House, dish: Dish | None = None) -> UseBy:
    """Until when a lot should be eaten, and why.

    Parameters
    ----------
    lot
        A food or a dish. What it is older than `lot.since` is counted: for produce as time in the
        room, for everything else day for day.
    dish
        The dish that the lot holds; without it only the limits for any cooked food are known.
    """
    if lot.food is not None:
        life = food_life(lot.food, lot.form, lot.place, house, lot.covered, lot.age_days)
    else:
        life = _older(dish_life(dish, lot.place, house) if dish else unknown_dish(lot.place, house), lot.age_days)
    return use_by(life, lot.since)


def _older(life: Life, age_days: float) -> Life:
    """What is left of a dish that was not fresh when it came here: a dish keeps the date of its cooking."""
    if not age_days:
        return life
    return replace(
        life,
        plan_days=max(0.0, life.plan_days - age_days),
        low_days=max(0.0, life.low_days - age_days),
        mid_days=max(0.0, life.mid_days - age_days),
        high_days=max(0.0, life.high_days - age_days),
    )
