"""What helps and hinders iron of plants at one sitting: notes, not figures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from chauka import tables
from chauka.composition.dish import DishNutrients
from chauka.kitchen import Dish

_FROM_MEMORY = "common nutritional knowledge, from memory; no source at hand"
_HELPFUL_VITC_MG = 25.0  # in one sitting's portion; policy


@dataclass(frozen=True, slots=True)
class IronNote:
    """One remark with where it comes from."""

    text: str
    source: str


def iron_notes(sitting: Iterable[tuple[Dish, DishNutrients]]) -> tuple[IronNote, ...]:
    """Remarks on the iron of what is eaten together, one adult portion of each."""
    dishes = tuple(sitting)
    vitamin_c = sum(found.per_portion["VITC"].mean for _, found in dishes)
    notes = []
    if vitamin_c >= _HELPFUL_VITC_MG:
        notes.append(f"About {vitamin_c:.0f} mg of vitamin C with it: more of the iron of plants is taken up.")
    else:
        notes.append("Little vitamin C with it: a squeeze of lemon or a raw salad would help the iron of plants.")
    if any("caffeine" in tables.traits(food) for dish, _ in dishes for food in dish.foods):
        notes.append("Tea or coffee with the meal hinders the iron of plants; an hour apart is better.")
    return tuple(IronNote(text, _FROM_MEMORY) for text in notes)
