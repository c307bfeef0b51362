"""The one door to the other engines: what planning asks of composition, keeping, season and the tables.

Everything else in this package works on plain numbers. Tests may pass a stand-in with the same methods.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from functools import lru_cache
from typing import Protocol

from chauka import composition, keeping, season, tables
from chauka.kitchen import Dish, Form, House, Lot, Person, Place


@dataclass(frozen=True, slots=True)
class Goal:
    """A person's daily reference for one nutrient, in the nutrient's unit; a floor or a ceiling."""

    tag: str
    amount: float
    floor: bool


FLOORS = ("ENERC_KCAL", "PROCNT", "FIBTG", "FE", "CA", "ZN", "FOL", "VITA_RAE", "VITC")
"""Nutrients that a week of meals should reach; vitamin B12 is left out because plant tables do not carry it."""

CEILINGS = ("NA", composition.FREE_SUGARS)
"""Nutrients that a week of meals should not exceed."""


class Facts(Protocol):
    """What the planner needs to know about foods, dishes and people."""

    def portion_factor(self, person: Person) -> float:
        """A person's share of an adult portion."""
        ...

    def goals(self, person: Person, on: date) -> tuple[Goal, ...]:
        """Daily references of a person."""
        ...

    def nutrients(self, dish: Dish) -> Mapping[str, float]:
        """Nutrients per portion, known parts only, by tag."""
        ...

    def portion_g(self, dish: Dish) -> float:
        """What an adult portion of the finished dish weighs [g]."""
        ...

    def allergens(self, dish: Dish) -> frozenset[str]:
        """Allergen ids in a dish."""
        ...

    def traits(self, food: str) -> frozenset[str]:
        """Traits of a food."""
        ...

    def food_name(self, food: str) -> str:
        """A food's name for people."""
        ...

    def edible_fraction(self, food: str) -> float:
        """Edible share of the weight as purchased; 1 where nobody measured it."""
        ...

    def bought_life_days(self, food: str, form: Form) -> float:
        """How long a food keeps after the market in its best place [day]."""
        ...

    def lot_use_by(self, lot: Lot) -> datetime:
        """The last moment at which a lot should be eaten."""
        ...

    def dish_life_days(self, dish: Dish) -> float:
        """How long a finished dish keeps in the refrigerator [day]."""
        ...

    def is_plain_food(self, food: str) -> bool:
        """Whether a food is more than a seasoning, fat or sugar."""
        ...

    def is_hot(self, food: str) -> bool:
        """Whether a food brings the heat that children may not want."""
        ...

    def season_points(self, food: str, month: int) -> float:
        """Points of liking that a food gives away by its season; 0 at its best, leaving, and where nobody knows."""
        ...


_SEASON_POINTS = {season.SeasonState.OUT: 1.0, season.SeasonState.COMING: 0.5}
"""What is at its best or leaving soon goes first; our own estimate."""


_NO_ADDITION = frozenset({"Condiments and Spices", "Edible Oils and Fats", "Sugars", "Miscellaneous Foods"})
"""Groups of the composition table of which a dish does not simply get more."""


class HouseFacts:
    """The facts as the engines of this program give them, remembered for one house.

    `learned` are the factors by which foods keep longer in this house than predicted, by food; `weighed` what
    finished dishes weighed here, by dish.
    """

    def __init__(
        self,
        house: House,
        book_dishes: Mapping[str, Dish],
        on: date,
        learned: Mapping[str, float] | None = None,
        weighed: Mapping[str, Sequence[composition.Weighed]] | None = None,
    ) -> None:
        self.house, self._dishes, self.on, self._learned = house, book_dishes, on, learned or {}
        self._weighed = weighed or {}
        self._nutrients: dict[tuple[str, ...], Mapping[str, float]] = {}

    def portion_factor(self, person: Person) -> float:
        """See `Facts`."""
        return composition.portion_factor(person, self.on)

    def goals(self, person: Person, on: date) -> tuple[Goal, ...]:
        """See `Facts`."""
        reference = composition.reference(person, on)
        return tuple(Goal(tag, reference[tag].value, tag in FLOORS) for tag in (*FLOORS, *CEILINGS) if tag in reference)

    def nutrients(self, dish: Dish) -> Mapping[str, float]:
        """See `Facts`."""
        key = (dish.id, *(f"{line.food} {line.grams.mean:.1f}" for line in dish.lines))
        if key not in self._nutrients:
            per_portion = composition.dish_nutrients(dish).per_portion
            self._nutrients[key] = {
                tag: per_portion[tag].mean or 0.0 for tag in (*FLOORS, *CEILINGS) if tag in per_portion
            }
        return self._nutrients[key]

    def portion_g(self, dish: Dish) -> float:
        """See `Facts`; from the scale where the dish was weighed before, else reckoned from what goes in."""
        return composition.dish_nutrients(dish, weighed_before=self._weighed.get(dish.id, ())).portion_g.mean

    def allergens(self, dish: Dish) -> frozenset[str]:
        """See `Facts`."""
        return frozenset(composition.dish_allergens(dish))

    def traits(self, food: str) -> frozenset[str]:
        """See `Facts`."""
        return tables.traits(food)

    def food_name(self, food: str) -> str:
        """See `Facts`."""
        return tables.food(food).name

    def edible_fraction(self, food: str) -> float:
        """See `Facts`."""
        fraction = tables.edible_fraction(food)
        return fraction.mean if fraction else 1.0

    def bought_life_days(self, food: str, form: Form) -> float:
        """See `Facts`; the best of refrigerator, counter and cupboard."""
        return max(
            keeping.food_life(food, form, place, self.house, house_factor=self._learned.get(food, 1.0)).plan_days
            for place in (Place.FRIDGE, Place.COUNTER, Place.CUPBOARD)
        )

    def lot_use_by(self, lot: Lot) -> datetime:
        """See `Facts`."""
        factor = self._learned.get(lot.food or "", 1.0)
        dish = self._dishes.get(lot.dish) if lot.dish else None
        return keeping.lot_use_by(lot, self.house, dish, house_factor=factor).at

    def dish_life_days(self, dish: Dish) -> float:
        """See `Facts`."""
        return keeping.dish_life(dish, Place.FRIDGE, self.house).plan_days

    def is_plain_food(self, food: str) -> bool:
        """See `Facts`."""
        return tables.food(food).group not in _NO_ADDITION

    def is_hot(self, food: str) -> bool:
        """See `Facts`."""
        return tables.food(food).name.lower().startswith("chill")

    @lru_cache(maxsize=4096)  # noqa: B019  (lives as long as one plan)
    def season_points(self, food: str, month: int) -> float:
        """See `Facts`."""
        return _SEASON_POINTS.get(season.state(food, month, self.house.region), 0.0)
