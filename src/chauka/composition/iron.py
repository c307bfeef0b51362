"""What helps and hinders iron of plants at one sitting: notes, not figures."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import StrEnum

from chauka import tables
from chauka.composition.amount import Amount
from chauka.composition.dish import DishNutrients
from chauka.kitchen import Dish

_FROM_MEMORY = "common nutritional knowledge, from memory; no source at hand"
_HELPFUL_VITC_MG = 25.0  # in one sitting's portion; policy


class IronEffect(StrEnum):
    """What the company of the iron does to it."""

    HELPED = "helped"
    PLAIN = "not helped"
    HINDERED = "hindered"


@dataclass(frozen=True, slots=True)
class IronNote:
    """One remark with where it comes from."""

    effect: IronEffect
    text: str
    source: str = _FROM_MEMORY


def iron_notes(sitting: Iterable[tuple[Dish, DishNutrients]]) -> tuple[IronNote, ...]:
    """Remarks on the iron of what is eaten together, one adult portion of each."""
    dishes = tuple(sitting)
    vitamin_c = Amount.total(found.per_portion["VITC"] for _, found in dishes)
    return (_vitamin_c(vitamin_c), *_caffeine(dish for dish, _ in dishes))


def _vitamin_c(amount: Amount) -> IronNote:
    if amount.mean >= _HELPFUL_VITC_MG:
        known = f"About {amount.mean:.0f} mg of vitamin C with it: more of the iron of plants is taken up."
        return IronNote(IronEffect.HELPED, known)
    little = "Little vitamin C with it, as far as is known:" if amount.at_least else "Little vitamin C with it:"
    return IronNote(IronEffect.PLAIN, f"{little} a squeeze of lemon or a raw salad would help the iron of plants.")


def _caffeine(dishes: Iterable[Dish]) -> Iterator[IronNote]:
    if any("caffeine" in tables.traits(food) for dish in dishes for food in dish.foods):
        text = "Tea or coffee with the meal hinders the iron of plants; an hour apart is better."
        yield IronNote(IronEffect.HINDERED, text)
