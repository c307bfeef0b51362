"""Allergens and kinds of food in a dish, from its lines."""

from __future__ import annotations

from collections.abc import Mapping
from types import MappingProxyType

from chauka import tables
from chauka.kitchen import Dish


def dish_allergens(dish: Dish) -> Mapping[str, tuple[str, ...]]:
    """The allergens of the EU's fourteen that the dish contains, each with the codes of the foods that bring it.

    Optional lines count: whoever cares must leave them out knowingly. Substitutes do not.
    """
    found: dict[str, dict[str, None]] = {}
    for line in dish.lines:
        for allergen in sorted(tables.allergens(line.food)):
            found.setdefault(allergen, {})[line.food] = None
    return MappingProxyType({allergen: tuple(foods) for allergen, foods in sorted(found.items())})


def dish_traits(dish: Dish) -> frozenset[str]:
    """The kinds of food in the dish (`onion_garlic`, `grain`, `pulse`, `dairy` …), as table `food_traits` has them."""
    return frozenset[str]().union(*(tables.traits(line.food) for line in dish.lines))
