"""What a new proposal would change against the plan in force, and what it would gain, before it is accepted."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime

from chauka import planning
from chauka.kitchen import Book, Meal, Sitting, TablePlan
from chauka.services import foods, plan_days
from chauka.store import books
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class ChangedSitting:
    """One sitting that would be different: the dishes that go and those that come, and why those come."""

    day: date
    meal: Meal
    gone: tuple[str, ...]
    come: tuple[str, ...]
    why: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Term:
    """One thing that the house minds, by how much the proposal costs less (below 0) or more [smallest coin]."""

    name: str
    more: float


@dataclass(frozen=True, slots=True)
class Change:
    """The whole difference; `better_by` in the smallest coin of all that the house minds (below 0: worse)."""

    number: int
    sittings: tuple[ChangedSitting, ...]
    terms: tuple[Term, ...]
    better_by: float
    cost: int
    waste_g: float
    currency: str


def view(household: Household, now: datetime) -> Change | None:
    """What the newest proposal changes; None where there is nothing to choose between."""
    proposed = plan_days.proposal(household, now)
    in_force = plan_days.current(household, now)
    if proposed is None or in_force is None:
        return None
    book = books.load_book(household)
    return between(proposed.number, in_force.plan, proposed.plan, book)


def between(number: int, old: TablePlan, new: TablePlan, book: Book) -> Change:
    """The difference of two plans, over the days that both have."""
    terms = [
        Term(n, new.proof.terms.get(n, 0) - old.proof.terms.get(n, 0)) for n in {*old.proof.terms, *new.proof.terms}
    ]
    return Change(
        number=number,
        sittings=tuple(_sittings(old, new, book)),
        terms=tuple(sorted((t for t in terms if abs(t.more) >= 1), key=lambda t: (t.more, t.name))),
        better_by=old.proof.value - new.proof.value,
        cost=new.cost - old.cost,
        waste_g=new.waste_g - old.waste_g,
        currency=book.house.currency,
    )


def _sittings(old: TablePlan, new: TablePlan, book: Book) -> Iterator[ChangedSitting]:
    names = {dish.id: dish.name for dish in book.dishes}
    for sitting in new.sittings:
        before = {s.dish for s in old.at(sitting.day, sitting.meal)}
        after = {s.dish for s in new.at(sitting.day, sitting.meal)}
        planned_before = any((s.day, s.meal) == (sitting.day, sitting.meal) for s in old.sittings)
        if before != after and planned_before:
            gone, come = (
                tuple(sorted(names.get(key, key) for key in some)) for some in (before - after, after - before)
            )
            why = _why(new, book, sitting, after - before)
            yield ChangedSitting(sitting.day, sitting.meal, gone, come, why)


def _why(new: TablePlan, book: Book, sitting: Sitting, come: set[str]) -> tuple[str, ...]:
    """The first reason for each dish that comes."""
    lines: list[str] = []
    for serving in new.at(sitting.day, sitting.meal):
        if serving.dish in come and serving.batch is not None:
            lines += planning.why_dish(new, book, serving.batch, foods.short)[:1]
    return tuple(dict.fromkeys(lines))
