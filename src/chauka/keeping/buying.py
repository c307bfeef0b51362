"""How much to buy at once: no more than is used while it is good."""

from __future__ import annotations

from dataclasses import dataclass

from chauka.keeping.foods import DRY_KINDS, keeping_of
from chauka.keeping.life import Life, days_said
from chauka.keeping.of_food import food_life
from chauka.kitchen import Form, House, Place


@dataclass(frozen=True, slots=True)
class BuyingAdvice:
    """The days for which to buy at most, the grams where the daily use is known, where to keep it, and why."""

    days: float
    grams: float | None
    place: Place
    text: str
    life: Life


def buy_at_most(
    food: str, house: House, form: Form | None = None, *, grams_per_day: float | None = None
) -> BuyingAdvice:
    """What to buy of a food at most: as much as is used while it is still good, planned with the careful end.

    `form` None means as it is bought: dry goods dry, everything else whole; GROUND is flour milled from it.

    What is dry stands in the cupboard unless the refrigerator makes it keep twice as long and the cupboard
    less than two months (bajra flour, nuts); everything else goes where it keeps longer.
    """
    kept = keeping_of(food)
    dry = kept is not None and kept.kind in DRY_KINDS
    form = form or (Form.DRY if dry else Form.WHOLE)
    out = food_life(food, form, Place.CUPBOARD, house)
    cold = food_life(food, form, Place.FRIDGE, house)
    better = cold.plan_days > out.plan_days * (2 if dry else 1) and (not dry or out.plan_days < 60)
    place, life = (Place.FRIDGE, cold) if better else (Place.CUPBOARD, out)
    days = life.plan_days
    grams = None if grams_per_day is None else grams_per_day * days
    amount = "" if grams is None else f", about {grams:.0f} g"
    where = f"in the refrigerator at {house.fridge_c:g} °C" if better else f"in the cupboard at {house.room_c:g} °C"
    other = f" ({days_said(out.plan_days)} in the cupboard)" if better and out.plan_days > 0 else ""
    text = f"Buy at most what you use in {days_said(days)}{amount}, kept {where}{other}."
    if not life.known:
        text += " No life is published for it, so this is careful."
    return BuyingAdvice(days, grams, place, text, life)
