"""What a kitchen knows of a food besides its composition: edible share, kind, allergens."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from types import MappingProxyType

from chauka.tables.cards import rows
from chauka.units import Estimate

_PRESENT = {"contains", "usual"}


@cache
def _by_food(table: str) -> Mapping[str, tuple[Mapping[str, str], ...]]:
    """The rows of a table by their food code."""
    found: dict[str, list[Mapping[str, str]]] = {}
    for row in rows(table):
        found.setdefault(row["food_code"], []).append(row)
    return MappingProxyType({code: tuple(of_it) for code, of_it in found.items()})


def edible_fraction(code: str) -> Estimate | None:
    """Edible portion ÷ as purchased [g/g] with its spread from kitchen to kitchen; None where nobody says.

    Source: table `edible_portions`, row by row (`edible_source`).
    """
    found = _by_food("edible_portions").get(code, ())
    return Estimate(float(found[0]["edible_fraction"]), float(found[0]["sd"])) if found else None


def edible_source(code: str) -> str:
    """Where the edible share of a food comes from, with what is thrown away; empty where there is none."""
    found = _by_food("edible_portions").get(code, ())
    return f"{found[0]['source']} ({found[0]['refuse']})" if found else ""


def traits(code: str) -> frozenset[str]:
    """The kinds that a food belongs to: `leafy_green`, `pulse`, `dairy`, `onion_garlic` …; table `food_traits`."""
    return frozenset(word for row in _by_food("food_traits").get(code, ()) for word in row["traits"].split())


def allergens(code: str) -> frozenset[str]:
    """Allergens (the fourteen of the EU) that a food contains, or that most packets of it contain.

    Asafoetida counts as gluten because it is usually compounded with wheat flour.
    """
    return frozenset(r["allergen"] for r in _by_food("food_allergens").get(code, ()) if r["certainty"] in _PRESENT)


def possible_allergens(code: str) -> frozenset[str]:
    """Allergens that some brands or lots of a food contain: a warning, not a fact."""
    return frozenset(r["allergen"] for r in _by_food("food_allergens").get(code, ())) - allergens(code)
