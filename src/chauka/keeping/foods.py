"""What kind of keeping a food has: produce with its published item, or a kind of the store cupboard."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from chauka import tables

PRODUCE = "produce"
COOKABLE = frozenset({PRODUCE, "grain", "pulse", "millet", "bajra", "refined", "atta", "besan", "flour", "dried"})
"""Kinds that become cooked food, under the agency caps, when boiled."""

DRY_KINDS = frozenset(
    {
        "grain", "pulse", "millet", "bajra", "refined", "atta", "besan", "flour", "nut", "oilseed", "oil", "ghee",
        "spice", "mineral", "jaggery", "honey", "dried", "leaven", "dry-goods",
    }
)  # fmt: skip
"""Kinds that bring no water into a dish."""


@dataclass(frozen=True, slots=True)
class Keeping:
    """How a food keeps: its kind, its published item, and words that rules look for.

    Where no life is published `item` is empty: it borrows that of `like`, the nearest item, or of its `group`.
    """

    kind: str
    item: str
    like: str
    group: str
    traits: frozenset[str]


@cache
def kept_foods() -> Mapping[str, Keeping]:
    """Every food that the table `keeping_foods` knows, by code."""
    return MappingProxyType(
        {
            row["food_code"]: Keeping(
                row["kind"], row["item"], row["like"], row["group"], frozenset(row["traits"].split())
            )
            for row in tables.rows("keeping_foods")
        }
    )


def keeping_of(food: str) -> Keeping | None:
    """How a food keeps, None where nobody has said."""
    return kept_foods().get(food)


def has_trait(food: str, trait: str) -> bool:
    """Whether a food carries a word that rules look for, as in `leafy`, `acid`, `rice`."""
    found = kept_foods().get(food)
    return found is not None and trait in found.traits
