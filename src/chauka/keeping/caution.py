"""Cautions that belong to a dish: what to do, why, and on whose word."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from chauka import tables
from chauka.keeping.foods import has_trait, keeping_of
from chauka.keeping.of_dish import has_cooked_rice, is_boiled_acid_side, is_cooked, is_dry
from chauka.kitchen import Condition, Course, Dish, Form, Lot, Person, Place, Technique, Vessel, check_whole

LOCAL = "Follow your local food-safety authority where it says otherwise."
"""Goes under every list of cautions."""

_RAW = frozenset({Form.WHOLE, Form.PICKED, Form.WASHED, Form.PEELED, Form.CUT, Form.CHOPPED, Form.GRATED, Form.GROUND})
_CUT = frozenset({Form.CUT, Form.CHOPPED, Form.GRATED, Form.GROUND})
_OILY_SHARE = 0.15
_BRINE_SALT_SHARE = 0.015
_SALT_SODIUM_MG = 20_000


@dataclass(frozen=True, slots=True)
class Caution:
    """What the cook should do, why, and the source of that advice."""

    text: str
    why: str
    source: str


@dataclass(frozen=True, slots=True)
class _Trigger:
    """A row of table `keeping_cautions`, the dishes it belongs to, and the people whom it is above all about."""

    id: str
    concerns: Callable[[Dish], bool]
    people: frozenset[Condition] = frozenset()
    only_them: bool = False


_RISK = frozenset({Condition.PREGNANT, Condition.INFANT, Condition.FRAIL})


def _has(trait: str) -> Callable[[Dish], bool]:
    return lambda dish: any(has_trait(line.food, trait) for line in dish.lines)


def _does(*techniques: Technique) -> Callable[[Dish], bool]:
    return lambda dish: any(step.technique in techniques for step in dish.steps)


def _kept_in_oil(dish: Dish) -> bool:
    """Whether fresh garlic, herbs, ginger or chillies stand in oil for days: a side put by, oil a good part of it."""
    whole = sum(line.grams.mean * line.eaten_share for line in dish.lines)
    oil = sum(
        line.grams.mean * line.eaten_share
        for line in dish.lines
        if (kept := keeping_of(line.food)) is not None and kept.kind == "oil"
    )
    fresh = any(has_trait(line.food, "aromatic") and line.form is not Form.DRY for line in dish.lines)
    return fresh and oil >= _OILY_SHARE * whole > 0 and dish.course is Course.SIDE


def _has_sprouts(dish: Dish) -> bool:
    sprouted = any(line.form is Form.SPROUTED or has_trait(line.food, "sprouts") for line in dish.lines)
    return sprouted or _does(Technique.SPROUT)(dish)


def _pressure_cooked(dish: Dish) -> bool:
    return any(
        step.vessel is Vessel.PRESSURE_COOKER or step.technique is Technique.PRESSURE_COOK for step in dish.steps
    )


def _is_preserve(dish: Dish) -> bool:
    return dish.course is Course.SIDE and dish.batch and is_boiled_acid_side(dish)


def _canned(dish: Dish) -> bool:
    """Whether its author bottles it for the cupboard, wet: a side kept out of the refrigerator for more than a day."""
    return (
        dish.kept is not None
        and dish.kept.place in (Place.CUPBOARD, Place.COUNTER)
        and dish.kept.days.high > 1
        and not is_dry(dish)
    )


def _pickled_in_oil(dish: Dish) -> bool:
    """Whether it is a side put by for days with oil and salt."""
    oil = any((kept := keeping_of(line.food)) is not None and kept.kind == "oil" for line in dish.lines)
    return dish.course is Course.SIDE and dish.batch and oil and any(_is_salt(line.food) for line in dish.lines)


def _is_salt(food: str) -> bool:
    """Whether a food is mostly table salt; sugar is kept like a mineral too, and is none."""
    sodium_mg = tables.food(food).value("NA").mean if food in tables.foods() else None
    return sodium_mg is not None and sodium_mg >= _SALT_SODIUM_MG


def _fermented(dish: Dish) -> bool:
    """Whether vegetables stand raw in salt for a day or more."""
    whole = sum(line.grams.mean for line in dish.lines)
    salt = sum(line.grams.mean for line in dish.lines if _is_salt(line.food))
    rests = any(step.technique is Technique.REST and step.minutes.high >= 24 * 60 for step in dish.steps)
    return rests and salt >= _BRINE_SALT_SHARE * whole > 0 and not is_cooked(dish)


def _baked_potato(dish: Dish) -> bool:
    return _has("potato")(dish) and _does(Technique.BAKE)(dish)


def _has_raw_leaves(dish: Dish) -> bool:
    leaves = (has_trait(line.food, "leafy") or has_trait(line.food, "herb") for line in dish.lines if line.form in _RAW)
    return any(leaves) and not is_cooked(dish)


def _is_batter(dish: Dish) -> bool:
    soaked = any(step.technique is Technique.SOAK for step in dish.steps)
    ground = any(step.technique is Technique.GRIND for step in dish.steps)
    stands = any(step.technique is Technique.REST and step.minutes.high >= 240 for step in dish.steps)
    return soaked and ground and stands


_TRIGGERS = (
    _Trigger("rice", has_cooked_rice),
    _Trigger("oil-aromatics", _kept_in_oil),
    _Trigger("pressure-cooker", _pressure_cooked),
    _Trigger("sprouts", _has_sprouts, _RISK),
    _Trigger("lectin", _has("lectin")),
    _Trigger("honey", _has("honey"), frozenset({Condition.INFANT}), only_them=True),
    _Trigger("soft-cheese", _has("soft-cheese"), _RISK),
    _Trigger("milk", _has("raw-milk-risk"), _RISK),
    _Trigger("bitter-gourd", _has("bitter-gourd")),
    _Trigger("potato", _has("potato")),
    _Trigger("broad-bean", _has("broad-bean")),
    _Trigger("cassava", _has("cassava")),
    _Trigger("preserve", _is_preserve),
    _Trigger("raw-leaves", _has_raw_leaves, _RISK),
    _Trigger("batter", _is_batter),
    _Trigger("frying", _does(Technique.DEEP_FRY)),
    _Trigger("low-acid-canning", _canned),
    _Trigger("pickle-oil", _pickled_in_oil),
    _Trigger("ferment", _fermented),
    _Trigger("foil-potato", _baked_potato),
)


@cache
def _rows() -> Mapping[str, Mapping[str, str]]:
    return MappingProxyType({row["id"]: row for row in tables.rows("keeping_cautions")})


def cautions(dish: Dish, people: Iterable[Person] = ()) -> tuple[Caution, ...]:
    """The cautions that concern a dish, those of safety first.

    With `people` given, a caution that is above all about some of them names them, and one that is
    about nobody here (honey, where there is no infant) is left out.
    """
    check_whole(dish)
    here = tuple(people)
    out = []
    for trigger in _TRIGGERS:
        if not trigger.concerns(dish):
            continue
        named = [person.name for person in here if not trigger.people.isdisjoint(person.conditions)]
        if trigger.only_them and here and not named:
            continue
        out.append(_said(_rows()[trigger.id], named))
    return tuple(out)


_OF_FOOD = (
    ("lectin", "lectin"),
    ("honey", "honey"),
    ("soft-cheese", "soft-cheese"),
    ("raw-milk-risk", "milk"),
    ("bitter-gourd", "bitter-gourd"),
    ("potato", "potato"),
    ("potato", "sprouting-potato"),
    ("broad-bean", "broad-bean"),
    ("cassava", "cassava"),
    ("sprouts", "sprouts"),
)
"""Traits of a food and the caution that goes with them whatever is cooked of it."""


def food_cautions(food: str, form: Form) -> tuple[Caution, ...]:
    """The cautions that concern a food on the shelf in a form."""
    ids = [caution for trait, caution in _OF_FOOD if has_trait(food, trait)]
    if form in _CUT and has_trait(food, "tcs-cut"):
        ids.append("cut-fruit")
    if form is Form.SPROUTED and "sprouts" not in ids:
        ids.append("sprouts")
    if form in (Form.BOILED, Form.COOKED) and has_trait(food, "rice"):
        ids.append("rice")
    return tuple(_said(_rows()[one], []) for one in ids)


def lot_cautions(lot: Lot, dish: Dish | None = None, people: Iterable[Person] = ()) -> tuple[Caution, ...]:
    """The cautions that concern a lot: of its food in its form, or of the dish that it holds."""
    if lot.food is not None:
        return food_cautions(lot.food, lot.form)
    return cautions(dish, people) if dish is not None else ()


def _said(row: Mapping[str, str], named: list[str]) -> Caution:
    above_all = f" Above all for {' and '.join(named)}." if named else ""
    remembered = " (from memory)" if row["trust"] == "from memory" else ""
    return Caution(text=row["text"] + above_all, why=row["why"], source=row["source"] + remembered)
