"""Nutrients: INFOODS tagnames, with the unit in which every table and engine here gives them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from chauka.tables.cards import rows


@dataclass(frozen=True, slots=True)
class Nutrient:
    """One food component: its tag, its name and the unit of its amounts (`g`, `mg`, `ug`, `kJ`, `kcal`)."""

    tag: str
    name: str
    unit: str


def _read() -> Mapping[str, Nutrient]:
    found = (Nutrient(tag=row["tag"], name=row["name"], unit=row["unit"]) for row in rows("nutrients"))
    return MappingProxyType({nutrient.tag: nutrient for nutrient in found})


NUTRIENTS: Mapping[str, Nutrient] = _read()
"""Every nutrient that some table here carries, by tag, the everyday ones first."""
