"""What each person gets from a plan, a day on average, against the reference intakes.

Everybody shares each dish by the size of their portion. The spread of one dish adds up over its
servings (it is the same recipe each time); the spreads of different dishes are taken as independent,
which understates the total where dishes share a food. What is eaten besides the planned sittings is
not counted.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass

from chauka import composition
from chauka.composition import Amount, DishNutrients, Reference, ReferenceKind
from chauka.kitchen import Book, Person, Sitting, TablePlan
from chauka.services import foods
from chauka.services.kept import OfDish

NUTRIENTS: Mapping[str, tuple[str, str]] = {
    "ENERC_KCAL": ("energy", "kcal"),
    "PROCNT": ("protein", "g"),
    "FIBTG": ("fibre", "g"),
    "FE": ("iron", "mg"),
    "CA": ("calcium", "mg"),
    "ZN": ("zinc", "mg"),
    "FOL": ("folate", "µg"),
    "VITB12": ("vitamin B12", "µg"),
    "VITA_RAE": ("vitamin A", "µg RAE"),
    "VITC": ("vitamin C", "mg"),
    "NA": ("sodium", "mg"),
    composition.FREE_SUGARS: ("free sugar", "g"),
}
"""What is shown, in this order: what the plan minds, and vitamin B12, which plants lack."""


@dataclass(frozen=True, slots=True)
class NutrientIntake:
    """One nutrient a day: mean and spread in the nutrient's unit, against its reference.

    `at_least`: some foods' content is unknown, so the mean is a lower bound; `missing` names them.
    `share` is mean ÷ reference; None where there is no reference. `probability` is that of meeting one's own
    requirement, a lower bound where `at_least`; None where the reference does not say how requirements
    spread. `verified` is False where the reference was written down from memory.
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
    verified: bool
    note: str
    share: float | None
    probability: float | None

    @property
    def unknown(self) -> bool:
        """Whether nothing of it is known, so that its nought must not be shown as one."""
        return self.at_least and not self.mean

    @property
    def spread(self) -> float | None:
        """The spread as a share of the reference; None where there is no reference, or it would round to nothing."""
        share = self.sd / self.reference if self.reference else 0.0
        return share if share >= 0.005 else None


@dataclass(frozen=True, slots=True)
class PersonIntake:
    """One person's day on average; `sittings` of the plan that the person eats at."""

    person: str
    name: str
    sittings: int
    nutrients: tuple[NutrientIntake, ...]


def known_of(plan: TablePlan, book: Book) -> dict[str, DishNutrients]:
    """What each dish of the plan gives."""
    return {dish: _known(book.dish(dish)) for dish in {s.dish for s in plan.servings}}


_known = OfDish(composition.dish_nutrients)


def of_plan(plan: TablePlan, book: Book, known: Mapping[str, DishNutrients]) -> tuple[PersonIntake, ...]:
    """Every person's intake from the plan, by what its dishes give."""
    eaten = _portions(plan, book)
    return tuple(_person(person, plan, eaten[person.id], known) for person in book.house.people)


def _person(
    person: Person, plan: TablePlan, portions: Mapping[str, float], known: Mapping[str, DishNutrients]
) -> PersonIntake:
    eaten = composition.intake((known[dish], count) for dish, count in portions.items())
    reference = composition.reference(person, plan.start)
    return PersonIntake(
        person=person.id,
        name=person.name,
        sittings=sum(person.id in s.eaters for s in plan.sittings),
        nutrients=tuple(
            _nutrient(tag, eaten.get(tag, Amount(0.0)) * (1 / plan.days), reference.get(tag)) for tag in NUTRIENTS
        ),
    )


def _portions(plan: TablePlan, book: Book) -> dict[str, Mapping[str, float]]:
    """Adult portions of each dish that each person eats over the plan."""
    eaten: dict[str, defaultdict[str, float]] = {person.id: defaultdict(float) for person in book.house.people}
    for sitting in plan.sittings:
        sizes = _sizes(sitting, book)
        table = sum(sizes.values()) + sitting.guests  # a guest eats one adult portion
        for serving in plan.at(sitting.day, sitting.meal):
            for person, size in sizes.items():
                eaten[person][serving.dish] += serving.portions * size / table
    return dict(eaten)


def _sizes(sitting: Sitting, book: Book) -> dict[str, float]:
    """How many adult portions each eater's portion is."""
    people = {person.id: person for person in book.house.people}
    return {key: composition.portion_factor(people[key], sitting.day) for key in sitting.eaters}


def _nutrient(tag: str, a_day: Amount, reference: Reference | None) -> NutrientIntake:
    name, unit = NUTRIENTS[tag]
    return NutrientIntake(
        tag=tag,
        name=name,
        unit=unit,
        mean=a_day.mean,
        sd=a_day.sd,
        at_least=a_day.at_least,
        missing=tuple(sorted(foods.name(code) for code in a_day.missing)),
        ceiling=reference is not None and reference.kind is ReferenceKind.CEILING,
        reference=reference.value if reference else None,
        source=reference.source if reference else "",
        verified=reference is None or reference.verified,
        note=reference.note if reference else "",
        share=a_day.mean / reference.value if reference else None,
        probability=_probability(a_day, reference) if reference else None,
    )


def _probability(a_day: Amount, reference: Reference) -> float | None:
    return composition.Adequacy(reference, a_day, a_day * (1 / reference.value), 1.0).probability
