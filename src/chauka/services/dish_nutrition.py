"""What a portion of a dish gives one person of the house, against what that person needs a day."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from chauka import composition
from chauka.composition import Amount, IronNote, Reference
from chauka.errors import InputError
from chauka.kitchen import Person
from chauka.publishing.write_up import PANEL
from chauka.services import nutrients
from chauka.store import books
from chauka.store.models import Household

GROWN_UP_YEARS = 18


@dataclass(frozen=True, slots=True)
class Row:
    """One nutrient of an adult portion and of 100 g, in its unit; `share` of the reference, None without one."""

    tag: str
    name: str
    unit: str
    portion: Amount
    per_100g: Amount
    reference: Reference | None
    share: float | None


@dataclass(frozen=True, slots=True)
class Nutrition:
    """The nutrients that a sheet prints (`chief`) and the others, for one person; `how` the cooked weight was found."""

    person: Person
    people: tuple[Person, ...]
    portion_g: float
    how: str
    chief: tuple[Row, ...]
    others: tuple[Row, ...]
    notes: tuple[str, ...]
    iron: tuple[IronNote, ...]


def of_dish(household: Household, dish_id: str, person_id: str, on: date) -> Nutrition:
    """For the person named, or the first grown-up. Raises `InputError` for somebody who does not eat here."""
    people = books.load_book(household).house.people
    person = _person(people, person_id, on)
    seen = nutrients.of_dish(household, dish_id)
    wanted = composition.reference(person, on)
    rows = [_row(line, wanted.get(line.tag)) for line in seen.nutrients if line.amount.mean or not line.amount.at_least]
    chief = {row.tag: row for row in rows if row.tag in PANEL}
    return Nutrition(
        person=person,
        people=people,
        portion_g=seen.portion_g,
        how=seen.how,
        chief=tuple(chief[tag] for tag in PANEL if tag in chief),
        others=tuple(row for row in rows if row.tag not in chief),
        notes=seen.notes,
        iron=seen.iron,
    )


def _person(people: tuple[Person, ...], person_id: str, on: date) -> Person:
    if not person_id:
        return next((p for p in people if p.age_years(on) >= GROWN_UP_YEARS), people[0])
    for person in people:
        if person.id == person_id:
            return person
    raise InputError({"for": (f"{person_id!r} does not eat here; there are {', '.join(p.name for p in people)}",)})


def _row(line: nutrients.NutrientLine, reference: Reference | None) -> Row:
    unit = line.unit.replace("ug", "µg")
    share = line.amount.mean / reference.value if reference and reference.value else None
    return Row(line.tag, line.name, unit, line.amount, line.per_100g, reference, share)
