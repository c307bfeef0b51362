"""A house and its people ↔ rows."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import fields
from types import MappingProxyType

from chauka.kitchen import Condition, House, Person, Sex
from chauka.store import codec, models


def household_document(house: House) -> dict[str, object]:
    """What stands in the household's own row: everything of the house but its people."""
    return {f.name: codec.to_plain(getattr(house, f.name)) for f in fields(house) if f.name not in ("name", "people")}


def house_of(household: models.Household, people: Iterable[models.Person]) -> House:
    """The house with its people."""
    return codec.from_plain(
        House,
        {"name": household.name, "people": [codec.to_plain(person_of(row)) for row in people], **household.document},
        f"house {household.name}",
    )


def person_row(household: models.Household, person: Person, position: int) -> models.Person:
    """The row of one person."""
    return models.Person(
        household=household,
        position=position,
        key=person.id,
        name=person.name,
        sex=person.sex.value,
        born=person.born,
        weight_kg=person.weight_kg,
        activity=person.activity,
        conditions=codec.to_plain(person.conditions),
        allergies=codec.to_plain(person.allergies),
        aversions=codec.to_plain(person.aversions),
        chilli=person.chilli,
        liking=dict(person.liking),
    )


def person_of(row: models.Person) -> Person:
    """The person of one row."""
    return Person(
        id=row.key,
        name=row.name,
        sex=Sex(row.sex),
        born=row.born,
        weight_kg=row.weight_kg,
        activity=row.activity,
        conditions=frozenset(Condition(c) for c in row.conditions),
        allergies=frozenset(row.allergies),
        aversions=frozenset(row.aversions),
        chilli=row.chilli,
        liking=MappingProxyType(row.liking),
    )
