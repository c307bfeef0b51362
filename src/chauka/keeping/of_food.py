"""How long a food keeps in one form and one place."""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache, lru_cache

from chauka import tables
from chauka.keeping import caps, neighbours, policy, produce
from chauka.keeping.foods import COOKABLE, PRODUCE, Keeping, keeping_of
from chauka.keeping.life import SENSES, Life, days_said, smallest
from chauka.keeping.rate import Stay
from chauka.kitchen import Form, House, Lot, Place

MARKET_AGE_DAYS = 1.0
"""How old market produce is taken to be when it comes home [day]."""

MOST_LOST_PER_DAY = 1 / 3
"""Before it came home a day costs at most this share of a life. On the curve of `rate` a day at 25 °C
would use up a leaf's whole life, yet amaranth leaves and coriander in humid air kept 3 to 4 days there
(Nyaura et al. 2014; evaporative cool chamber study, Pasighat)."""

UNKNOWN_DAYS = 1.0
"""A raw food that no table knows, in the refrigerator [day]."""

_COOKED = frozenset({Form.BOILED, Form.BLANCHED, Form.COOKED})
_CUT = frozenset({Form.PEELED, Form.CUT, Form.CHOPPED, Form.GRATED, Form.GROUND})
_WHOLE = frozenset({Form.WHOLE, Form.FROZEN, Form.DRY})
_MODELLED = frozenset({Form.WHOLE, Form.PICKED, Form.WASHED, Form.PEELED, Form.CUT, Form.CHOPPED, Form.GRATED})


def temperature_c(place: Place, house: House) -> float:
    """The temperature of a place in a house [°C]."""
    match place:
        case Place.FRIDGE:
            return house.fridge_c
        case Place.FREEZER:
            return house.freezer_c
        case _:
            return house.room_c


def is_fresh(food: str, form: Form) -> bool:
    """Whether a food in a form is fresh produce, which is a day old when it comes home."""
    keeping = keeping_of(food)
    return keeping is not None and keeping.kind == PRODUCE and form in _MODELLED


def food_life(  # noqa: PLR0917  (the contract between the rooms)
    food: str,
    form: Form,
    place: Place,
    house: House,
    covered: bool = True,
    age_days: float | None = None,
    *,
    history: Sequence[Stay] = (),
    house_factor: float = 1.0,
    beside: Collection[str] = (),
) -> Life:
    """How long a food keeps from the moment it came into this form and place [day].

    Parameters
    ----------
    food
        Food code.
    covered
        Bagged or boxed, so that it does not lose water.
    age_days
        How old it already was [day], spent at the temperature of the room; None for the usual age
        of the kind: a day for market produce, nothing for the rest.
    history
        What is known of the time before instead of an age: stays at their temperatures.
    house_factor
        How much longer it keeps in this house than elsewhere (`learning.house_factor`); it lengthens
        no rule and no agency's limit.
    beside
        Food codes of what stands with it: ripe fruit halves the life of what feels its ethylene.

    Notes
    -----
    The smallest of the model, the household's rules and the agencies' limits; the answer names it.
    """
    case = _case(food, form, place, temperature_c(place, house), covered)
    if history:
        quality = _after(case, history)
    else:
        if age_days is None:
            age_days = MARKET_AGE_DAYS if case.reference else 0.0
        quality = _aged(case, age_days, house.room_c)
    if beside and case.reference is not None and neighbours.harmed(food, beside):
        quality = quality.times(
            neighbours.ETHYLENE_SHARE,
            f"{quality.reason}; beside ripe fruit it keeps half as long ({neighbours.SOURCE})",
        )
    if house_factor != 1.0:
        quality = quality.times(house_factor, f"{quality.reason}; in this house × {house_factor:.2f}")
    limits = _limits(case.keeping, form, place, house)
    return smallest((quality, *limits)) if limits else quality


@dataclass(frozen=True, slots=True)
class _Case:
    """A fresh food in one form and place; for produce also how it ages, and its whole life at 0 °C [day]."""

    keeping: Keeping | None
    life: Life
    reference: produce.Reference | None = None
    whole_0c: float = 0.0


def _aged(case: _Case, age_days: float, room_c: float) -> Life:
    """The life that is left after `age_days` in the room: produce by share, everything else day for day."""
    life = case.life
    if not age_days:
        return life
    if case.reference is None:
        return life.less(age_days)
    return _without(life, age_days * _lost_a_room_day(case.reference, case.whole_0c, room_c))


def _after(case: _Case, history: Sequence[Stay]) -> Life:
    """The life that is left after known stays; shares add up, however a stay is split."""
    if case.reference is None:
        return case.life.less(thawed_hours(history) / 24)
    return _without(
        case.life, sum(stay.hours / 24 * case.reference.rate(stay.temp_c) for stay in history) / case.whole_0c
    )


def room_days(lot: Lot, place: Place, house: House, now: datetime, *, covered: bool) -> float:
    """The age with which a lot of food comes to a place: days in the room that cost as much as all it went through.

    Produce loses the share of its planned life that it stood where it was, so that moving it there and
    back neither gains nor loses a day.
    """
    old = _case(lot.food or "", lot.form, lot.place, temperature_c(lot.place, house), lot.covered)
    new = _case(lot.food or "", lot.form, place, temperature_c(place, house), covered)
    days = max(0.0, (now - lot.since).total_seconds() / 86_400)
    if new.reference is None or not old.life.plan_days:
        return lot.age_days + (0.0 if temperature_c(lot.place, house) <= policy.FROZEN_C else days)
    lost = days / old.life.plan_days
    return lot.age_days + lost / _lost_a_room_day(new.reference, new.whole_0c, house.room_c)


def _lost_a_room_day(reference: produce.Reference, whole_0c: float, room_c: float) -> float:
    return min(reference.rate(room_c) / whole_0c, MOST_LOST_PER_DAY)


def thawed_hours(history: Sequence[Stay]) -> float:
    """The hours of a history that count: freezing stops the clock (Minnesota and North Carolina, food_rules)."""
    return sum(stay.hours for stay in history if stay.temp_c > policy.FROZEN_C)


def _without(life: Life, lost: float) -> Life:
    """A life less the share of it that is lost."""
    left = max(0.0, 1.0 - lost)
    gone = f"{100 * lost:.0f} % of that" if left else "all of it"
    return life.times(left, f"{life.reason}; {gone} was used up before it came here")


@lru_cache(maxsize=16_384)
def _case(food: str, form: Form, place: Place, temp_c: float, covered: bool) -> _Case:
    keeping = keeping_of(food)
    if keeping is None:
        return _Case(None, _unknown(f"{food} is in no keeping table", place))
    if keeping.kind in COOKABLE and form in _COOKED:
        return _Case(keeping, _cooked_quality(form, place, temp_c))
    if keeping.kind == PRODUCE:
        return _produce_case(keeping, form, place, temp_c, covered)
    return _Case(keeping, _stated(keeping.kind, form, place, temp_c))


def _produce_case(keeping: Keeping, form: Form, place: Place, temp_c: float, covered: bool) -> _Case:
    resting = policy.conditions_for(keeping.item, form, temp_c) if keeping.item and place is not Place.FRIDGE else ()
    if temp_c <= policy.FROZEN_C or form not in _MODELLED:
        if form is Form.FROZEN and temp_c > policy.FROZEN_C:
            return _Case(keeping, caps.thawed(place))
        return _Case(keeping, _stated(PRODUCE, form, place, temp_c))
    if resting:
        return _Case(keeping, _from_conditions(resting, temp_c))
    reference = (
        produce.item_reference(keeping.item)
        or produce.like_reference(keeping.like)
        or produce.group_reference(keeping.group)
    )
    if reference is None:
        return _Case(keeping, _unknown("No life is published for its group", place))
    open_to_dry_air = not covered and "dries" in keeping.traits
    factor = _form_factor(form, keeping) * (produce.DRY_AIR_FACTOR if open_to_dry_air else 1.0)
    if form is Form.WASHED and not covered:
        factor *= 0.5 / 0.8
    whole_0c = reference.mid_0c * (produce.DRY_AIR_FACTOR if open_to_dry_air else 1.0)
    life = _from_reference(reference, form, temp_c, factor=factor, dry_air=open_to_dry_air)
    return _Case(keeping, life, reference, whole_0c)


def _from_reference(reference: produce.Reference, form: Form, temp_c: float, *, factor: float, dry_air: bool) -> Life:
    found = produce.life_at(reference, temp_c, factor=factor)
    said = "It" if form is Form.WHOLE else f"{form.value.capitalize()}, it"
    low, high, minimum = days_said(found.low), days_said(found.high), reference.chills_below_c
    reason = f"{said} keeps about {days_said(found.mid)} at {temp_c:g} °C ({low} to {high}), planned with care"
    if reference.borrowed:
        reason = f"No life is published for it, so it counts as {reference.name}. {reason}"
    if dry_air:
        reason += "; open to dry air it wilts in half the time"
    return Life(
        plan_days=found.plan,
        low_days=found.low,
        mid_days=found.mid,
        high_days=found.high,
        reason=reason,
        rule="group life" if reference.borrowed else "storage life",
        source=reference.source,
        cautions=(f"Colder than {minimum:g} °C it may pit or go soft; use it soon.",) if found.chilled else (),
    )


@cache
def _factors() -> Mapping[str, tuple[float, float]]:
    return {row["form"]: (float(row["factor"]), float(row["leaf_factor"])) for row in tables.rows("keeping_forms")}


def _form_factor(form: Form, keeping: Keeping) -> float:
    factor, leaf_factor = _factors()[form.value]
    return leaf_factor if keeping.group in ("leaf", "herb") else factor


def _stated(kind: str, form: Form, place: Place, temp_c: float) -> Life:
    conditions = policy.conditions_for(kind, form.value, temp_c)
    if not conditions:
        return _unknown(f"Nothing is stated for {kind} in this form at {temp_c:g} °C", place)
    return _from_conditions(conditions, temp_c)


def _from_conditions(conditions: tuple[policy.Condition, ...], temp_c: float) -> Life:
    low, high = policy.days_at(conditions, temp_c)
    return Life(
        plan_days=low,
        low_days=low,
        mid_days=(low + high) / 2,
        high_days=high,
        reason=f"It keeps {days_said(low)} to {days_said(high)} at {temp_c:g} °C, planned with the careful end",
        rule="stated life",
        source=policy.nearest(conditions, temp_c).source,
    )


def _cooked_quality(form: Form, place: Place, temp_c: float) -> Life:
    """Boiled or blanched food is good for as long as the agencies let it; frozen, what policy states."""
    if temp_c <= policy.FROZEN_C:
        return _stated(PRODUCE, form, place, temp_c)
    return Life(
        2.0, 2.0, 2.5, 3.0, "Boiled food is at its best for 2 days in the refrigerator",
        rule="household rule: boiled food", source=caps.CUSTOM,
    )  # fmt: skip


def _unknown(why: str, place: Place) -> Life:
    days = UNKNOWN_DAYS if place in (Place.FRIDGE, Place.FREEZER) else caps.OUT_DAYS
    return Life(
        plan_days=days, low_days=days, mid_days=days, high_days=days,
        reason=f"{why}, so it counts as perishable: {days_said(days)}",
        rule="unknown food", source=caps.CUSTOM, known=False, cautions=(SENSES,),
    )  # fmt: skip


def _limits(keeping: Keeping | None, form: Form, place: Place, house: House) -> tuple[Life, ...]:
    """The household's rules and the agencies' limits for a food in a form and place."""
    if keeping is None or place is Place.FREEZER:
        return ()
    if keeping.kind in COOKABLE and form in _COOKED:
        limits = [caps.cooked(place, house, rice="rice" in keeping.traits)]
    elif keeping.kind == PRODUCE and form not in _WHOLE:
        limits = _raw_limits(keeping, form, place, house)
    elif keeping.kind == PRODUCE and "tcs" in keeping.traits and place is not Place.FRIDGE:
        limits = [caps.raw_out()]
    else:
        return ()
    if "leafy" in keeping.traits and place is Place.FRIDGE:
        limits.append(caps.picked_greens())
    return tuple(limits)


def _raw_limits(keeping: Keeping, form: Form, place: Place, house: House) -> list[Life]:
    """Rules for raw produce that has been worked on."""
    if form not in _CUT:
        return []
    risky = "tcs-cut" in keeping.traits
    if place is not Place.FRIDGE:
        return [caps.raw_out() if risky else caps.cut_produce(place)]
    return [caps.cut_produce(place), caps.longest(place, house)] if risky else [caps.cut_produce(place)]
