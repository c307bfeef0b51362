"""What each person gets from a plan, a day on average, against the reference intakes.

Everybody shares each dish by the size of their portion. Spread within one dish adds up over its
servings (it is the same recipe each time); the spreads of different dishes are taken as independent,
which understates the total where dishes share a food. What is eaten besides the planned sittings is
not counted.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass

from chauka import composition, tables
from chauka.kitchen import Book, Person, Sitting, TablePlan

TAGS = (
    "ENERC_KCAL", "PROCNT", "FIBTG", "FE", "CA", "ZN", "FOL", "VITA_RAE", "VITC", "NA", "FSUGAR",
)  # fmt: skip
"""Nutrients shown, in this order: those that the plan minds."""


@dataclass(frozen=True, slots=True)
class NutrientIntake:
    """One nutrient a day: mean and spread in the nutrient's unit, against its reference.

    `at_least`: some foods' content is unknown, so the mean is a lower bound; `missing` names them.
    `share` is mean ÷ reference; None where there is no reference.
    """

    tag: str
    name: str
    unit: str
    mean: float
    sd: float
    at_least: bool
    missing: tuple[str, ...]
    ceiling: bool
    reference: float | None
    source: str
    share: float | None


@dataclass(frozen=True, slots=True)
class PersonIntake:
    """One person's day on average; `sittings` of the plan that the person eats at."""

    person: str
    name: str
    sittings: int
    nutrients: tuple[NutrientIntake, ...]


def of_plan(plan: TablePlan, book: Book) -> tuple[PersonIntake, ...]:
    """Every person's intake from the plan."""
    per_portion = {d: composition.dish_nutrients(book.dish(d)).per_portion for d in {s.dish for s in plan.servings}}
    return tuple(_person(person, plan, book, per_portion) for person in book.house.people)


def _person(person: Person, plan: TablePlan, book: Book, per_portion: dict[str, object]) -> PersonIntake:
    portions = _portions(person, plan, book)
    reference = composition.reference(person, plan.start)
    return PersonIntake(
        person=person.id,
        name=person.name,
        sittings=sum(person.id in s.eaters for s in plan.sittings),
        nutrients=tuple(_nutrient(tag, portions, per_portion, plan.days, reference.get(tag)) for tag in TAGS),
    )


def _portions(person: Person, plan: TablePlan, book: Book) -> dict[str, float]:
    """Adult portions of each dish that the person eats over the plan."""
    eaten: defaultdict[str, float] = defaultdict(float)
    for sitting in plan.sittings:
        if person.id in sitting.eaters:
            share = composition.portion_factor(person) / table_size(sitting, book)
            for serving in plan.at(sitting.day, sitting.meal):
                eaten[serving.dish] += serving.portions * share
    return dict(eaten)


def table_size(sitting: Sitting, book: Book) -> float:
    """Adult portions around the table; a guest eats one."""
    return sum(composition.portion_factor(book.house.person(key)) for key in sitting.eaters) + sitting.guests


def _nutrient(
    tag: str, portions: dict[str, float], per_portion: dict[str, object], days: int, reference: object
) -> NutrientIntake:
    mean, variance, at_least, missing = 0.0, 0.0, False, set[str]()
    for dish, count in portions.items():
        amount = per_portion[dish].get(tag)
        if amount is None:
            at_least = True
            continue
        mean += (amount.mean or 0.0) * count
        variance += ((amount.sd or 0.0) * count) ** 2
        at_least |= amount.at_least
        missing |= set(amount.missing)
    value = None if reference is None else reference.value
    return NutrientIntake(
        tag=tag,
        name=tables.NUTRIENTS[tag].name,
        unit=tables.NUTRIENTS[tag].unit,
        mean=mean / days,
        sd=math.sqrt(variance) / days,
        at_least=at_least,
        missing=_names(missing),
        ceiling=reference is not None and reference.kind is composition.ReferenceKind.CEILING,
        reference=value,
        source="" if reference is None else reference.source,
        share=None if not value else mean / days / value,
    )


def _names(codes: Iterable[str]) -> tuple[str, ...]:
    return tuple(sorted(tables.food(code).name for code in codes))
