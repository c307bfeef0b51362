"""How long a finished dish keeps: as its author states, never longer than the agencies allow."""

from __future__ import annotations

from chauka.keeping import caps
from chauka.keeping.cooling import CoolingVerdict
from chauka.keeping.foods import DRY_KINDS, has_trait, keeping_of
from chauka.keeping.life import SENSES, Life, cap, days_said, smallest
from chauka.kitchen import Course, Dish, Form, House, Place, Served, Technique

UNSTATED_DAYS = 2.0
"""A dish whose author says nothing, in the refrigerator [day]."""

ACID_SIDE_DAYS = (5.0, 7.0)
"""A boiled side of sour fruit in the refrigerator [day]: common practice, no source."""

_BOILS = frozenset({Technique.BOIL, Technique.SIMMER, Technique.PRESSURE_COOK})
_SAFE_WITH_ACID = frozenset(
    {"produce", "vinegar", "water", "sauce", "spice", "mineral", "jaggery", "honey", "dried", "oil", "ghee"}
)
_SOUR_SHARE = 0.15
_DRY_WEEK = "Home-made food is planned for a week at most, however dry"
_PUTS_BY = frozenset({Place.CUPBOARD, Place.COUNTER})


def dish_life(
    dish: Dish,
    place: Place,
    house: House,
    *,
    measured_ph: float | None = None,
    aw: float | None = None,
    cooled: CoolingVerdict | None = None,
) -> Life:
    """How long a dish keeps in one place from the moment it is cooked [day].

    The smallest of what its author states and the agencies' limits: 3 days in the refrigerator,
    2 where someone is at risk or it is eaten cold, 1 with rice, 2 hours out, 7 days at the very most.
    A dish without a word on keeping counts 2 days, and is reported as not known.

    Parameters
    ----------
    measured_ph, aw
        From a meter or strip, and the water activity; they slow the growth that is reckoned with, and lengthen
        no limit of an agency.
    cooled
        How it was cooled (`cooling.judge_cooling`): what cooled too slowly is eaten now and not stored.
    """
    if cooled is not None and not cooled.keep:
        return cap(0.0, cooled.text, rule="agency limit: cooled too slowly", source=cooled.source)
    if place in _PUTS_BY and is_dry(dish) and _stated_out(dish):
        return smallest((_stated(dish), caps.week(_DRY_WEEK)))
    return smallest((_quality(dish, place, house), *_limits(dish, place, house, measured_ph, aw)))


def unknown_dish(place: Place, house: House) -> Life:
    """A dish of which nothing is known but that it is cooked."""
    return smallest((_unstated(), caps.cooked(place, house, eaten_cold=True)))


def is_dry(dish: Dish) -> bool:
    """Whether nothing wet goes in: no water, milk, vegetable or fruit that is not dried."""
    wet = (line for line in dish.lines if line.eaten_share > 0 and line.grams.mean > 0)
    return all((kept := keeping_of(line.food)) is not None and kept.kind in DRY_KINDS for line in wet)


def is_boiled_acid_side(dish: Dish) -> bool:
    """Whether it is a side of sour fruit, boiled, with nothing in it that spoils by other rules.

    Sour fruit or vinegar makes up at least 15 % of what goes in, water left out.
    """
    return (
        dish.course is Course.SIDE
        and has_trait(dish.base, "acid")
        and _sour_share(dish) >= _SOUR_SHARE
        and any(step.technique in _BOILS for step in dish.steps)
        and all(_bears_acid(line.food) for line in dish.lines)
    )


def is_cultured(dish: Dish) -> bool:
    """Whether it is milk set with curd and nothing else."""
    kinds = {kept.kind if (kept := keeping_of(line.food)) else "" for line in dish.lines}
    return kinds == {"milk", "curd"} and any(step.technique is Technique.SET for step in dish.steps)


def has_cooked_rice(dish: Dish) -> bool:
    """Whether rice in any shape is cooked in it: grain, flakes or flour, a twentieth of the raw weight or more."""
    whole = sum(line.grams.mean for line in dish.lines)
    rice = sum(line.grams.mean for line in dish.lines if has_trait(line.food, "rice"))
    return rice >= 0.05 * whole > 0 and is_cooked(dish)


def is_cooked(dish: Dish) -> bool:
    """Whether any step uses heat, or a line goes in boiled."""
    return any(step.technique.cooks for step in dish.steps) or any(
        line.form in (Form.BOILED, Form.COOKED, Form.BLANCHED) for line in dish.lines
    )


def _sour_share(dish: Dish) -> float:
    solids = [line for line in dish.lines if (kept := keeping_of(line.food)) is None or kept.kind != "water"]
    whole = sum(line.grams.mean for line in solids)
    return sum(line.grams.mean for line in solids if has_trait(line.food, "acid")) / whole if whole else 0.0


def _bears_acid(food: str) -> bool:
    kept = keeping_of(food)
    return kept is not None and kept.kind in _SAFE_WITH_ACID and "leafy" not in kept.traits


def _stated_out(dish: Dish) -> bool:
    return dish.kept is not None and dish.kept.place in _PUTS_BY


def _stated(dish: Dish) -> Life:
    kept = dish.kept
    if kept is None:
        return _unstated()
    span = days_said(kept.days.low)
    if kept.days.high > kept.days.low:
        whole_days = kept.days.low >= 1
        span = (
            f"{kept.days.low:g} to {kept.days.high:g} days" if whole_days else f"{span} to {days_said(kept.days.high)}"
        )
    return Life(
        plan_days=kept.days.low,
        low_days=kept.days.low,
        mid_days=kept.days.mid,
        high_days=kept.days.high,
        reason=f"Its author keeps it {span} in the {kept.place}",
        rule="as stated",
        source=kept.why,
    )


def _unstated() -> Life:
    return Life(
        plan_days=UNSTATED_DAYS, low_days=UNSTATED_DAYS, mid_days=UNSTATED_DAYS, high_days=UNSTATED_DAYS,
        reason="Nobody has said how long this dish keeps: into the refrigerator within 2 hours, eaten within 2 days",
        rule="no published figure for this dish", source=caps.CUSTOM, known=False, cautions=(SENSES,),
    )  # fmt: skip


def _quality(dish: Dish, place: Place, house: House) -> Life:
    if place is Place.FREEZER:
        return _frozen(dish, house)
    if dish.kept is None and is_boiled_acid_side(dish):
        low, high = ACID_SIDE_DAYS
        return Life(
            low, low, (low + high) / 2, high, "A boiled side of sour fruit keeps about a week in the refrigerator",
            rule="household rule: boiled sour-fruit side", source=caps.CUSTOM,
        )  # fmt: skip
    return _stated(dish)


def _frozen(dish: Dish, house: House) -> Life:
    if dish.kept is not None and dish.kept.freezes:
        return caps.cooked(Place.FREEZER, house)
    chilled = dish_life(dish, Place.FRIDGE, house)
    return cap(
        chilled.plan_days,
        "Its author does not freeze it, so it counts no longer than in the refrigerator",
        rule="not said to freeze",
        source=chilled.source,
    )


def _limits(dish: Dish, place: Place, house: House, ph: float | None, aw: float | None) -> tuple[Life, ...]:
    if place is Place.FREEZER:
        return ()
    if place is Place.FRIDGE and is_boiled_acid_side(dish):
        return (
            caps.week("A boiled side of sour fruit keeps a week in the refrigerator, not more; nobody measured its pH"),
        )
    if place is Place.FRIDGE and is_dry(dish):
        return (caps.week(_DRY_WEEK),)
    if place is Place.FRIDGE and is_cultured(dish):
        return (caps.longest(place, house),)
    eaten_cold = dish.served is Served.COOL and is_cooked(dish)
    rice = has_cooked_rice(dish)
    return (caps.cooked(place, house, rice=rice, eaten_cold=eaten_cold, measured_ph=ph, aw=aw),)
