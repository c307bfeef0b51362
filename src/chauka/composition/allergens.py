"""Allergens and kinds of food in a dish, from its lines."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from enum import StrEnum
from types import MappingProxyType

from chauka import tables
from chauka.kitchen import Dish, check_whole

_CODEX = frozenset({"gluten", "crustaceans", "eggs", "fish", "peanuts", "soya", "milk", "nuts", "sulphites"})


ALLERGENS = _CODEX | {"celery", "mustard", "sesame", "lupin", "molluscs"}
"""Ids of the EU's fourteen; every other list is a part of these."""


class Regime(StrEnum):
    """Whose list of allergens a label follows; table `allergen_regimes` has the lists with their sources."""

    EU = "EU"
    CODEX = "Codex"
    CODEX_2024 = "Codex 2024 revision"
    FSSAI = "India (FSSAI)"
    FDA = "US (FDA 9)"


_LISTED = {
    Regime.CODEX: _CODEX,
    Regime.CODEX_2024: _CODEX | {"sesame"},
    Regime.FSSAI: _CODEX,
    # "gluten" stands for the FDA's wheat: barley and oats without wheat are told apart in `declared_allergens`.
    Regime.FDA: frozenset({"milk", "eggs", "fish", "crustaceans", "nuts", "peanuts", "gluten", "soya", "sesame"}),
}


def declared_allergens(dish: Dish, regime: Regime, may_contain: Iterable[str] = ()) -> Mapping[str, tuple[str, ...]]:
    """What a regime wants declared, with the foods that bring it.

    `may_contain` are allergen ids that the cook says may be there (a shared mill, a nut jar); they
    are listed under `may contain …` with no food. Nothing is guessed.
    """
    found = dish_allergens(dish)
    if regime is not Regime.EU:
        found = MappingProxyType({a: foods for a, foods in found.items() if a in _LISTED[regime]})
    if regime is Regime.FDA and "gluten" in found:
        wheat = tuple(food for food in found["gluten"] if _of_wheat(food))
        rest = {a: foods for a, foods in found.items() if a != "gluten"}
        found = MappingProxyType(rest | ({"wheat": wheat} if wheat else {}))
    return MappingProxyType({**found, **{f"may contain {a}": () for a in may_contain if a not in found}})


def _of_wheat(food: str) -> bool:
    rows = tables.rows("food_allergens")
    return any(r["food_code"] == food and r["allergen"] == "gluten" and "wheat" in r["why"] for r in rows)


_FLAGS = ("onion_garlic", "root", "egg", "dairy")


def diet_flags(dish: Dish) -> frozenset[str]:
    """What a diet may forbid and the dish holds: `onion_garlic`, `root` (tubers too), `egg`, `dairy`, `gluten`."""
    kinds = dish_traits(dish)
    found = {flag for flag in _FLAGS if flag in kinds} | ({"root"} if "tuber" in kinds else set())
    return frozenset(found | ({"gluten"} if "gluten" in dish_allergens(dish) else set()))


def dish_allergens(dish: Dish) -> Mapping[str, tuple[str, ...]]:
    """The allergens of the EU's fourteen that the dish contains, each with the codes of the foods that bring it.

    Optional lines count: whoever cares must leave them out knowingly. Substitutes do not.
    """
    check_whole(dish)
    found: dict[str, dict[str, None]] = {}
    for line in dish.lines:
        for allergen in sorted(tables.allergens(line.food)):
            found.setdefault(allergen, {})[line.food] = None
    return MappingProxyType({allergen: tuple(foods) for allergen, foods in sorted(found.items())})


def dish_traits(dish: Dish) -> frozenset[str]:
    """The kinds of food in the dish (`onion_garlic`, `grain`, `pulse`, `dairy` …), as table `food_traits` has them."""
    check_whole(dish)
    return frozenset[str]().union(*(tables.traits(line.food) for line in dish.lines))
