"""The table: the plan of the coming days, with its proof, what each person gets, money and waste."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from chauka.kitchen import Batch, Book, Clash, Course, LeftOver, Proof, Sitting, TablePlan, as_planned
from chauka.services import advice, foods, intake, iron, plan_days
from chauka.services.advice import Advice
from chauka.services.intake import PersonIntake
from chauka.services.iron import Iron
from chauka.store import books
from chauka.store.models import Household
from chauka.store.plans import KeptPlan


@dataclass(frozen=True, slots=True)
class OnTable:
    """One dish at one sitting; `kept` means made before, `cooked` the portions made then (None: not then).

    `mild` are the people served it without the heat, `swaps` (food, in place of) what is cooked otherwise.
    """

    dish: str
    name: str
    course: Course
    portions: float
    kept: bool
    cooked: float | None
    key: str = ""
    mild: tuple[str, ...] = ()
    swaps: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class TableSitting:
    """One sitting and its dishes."""

    sitting: Sitting
    eaters: tuple[str, ...]
    dishes: tuple[OnTable, ...]


@dataclass(frozen=True, slots=True)
class TableDay:
    """One day; `market` says that it is a market day with something to buy."""

    day: date
    market: bool
    sittings: tuple[TableSitting, ...]


@dataclass(frozen=True, slots=True)
class Wasted:
    """What is expected to be binned of one lot or purchase."""

    name: str
    left: LeftOver


@dataclass(frozen=True, slots=True)
class TableView:
    """A plan ready to be read.

    `could_be_better_by` is in the smallest coin, `gap_percent` of the value; both are None where no
    search has found a bound yet.
    """

    number: int
    accepted: bool
    start: date
    days: tuple[TableDay, ...]
    currency: str
    cost: int
    budget: int | None
    proof: Proof
    could_be_better_by: float | None
    gap_percent: float | None
    waste_g: float
    waste_cost: int
    wasted: tuple[Wasted, ...]
    carried: tuple[Wasted, ...]
    intake: tuple[PersonIntake, ...]
    iron: Iron
    clashes: tuple[Clash, ...]
    advice: Advice


def view(household: Household, now: datetime) -> TableView:
    """The plan in force."""
    kept = plan_days.the_current(household, now)
    return of_plan(books.load_book(household), kept)


def of_plan(book: Book, kept: KeptPlan) -> TableView:
    """The same for a plan and a book already loaded."""
    plan = kept.plan
    binned = tuple(_wasted(left, book) for left in plan.left_over if left.binned)
    cooked = as_planned(book, plan)
    known = intake.known_of(plan, cooked)
    eaten = intake.of_plan(plan, cooked, known)
    bounded = math.isfinite(plan.proof.bound)
    return TableView(
        number=kept.number,
        accepted=kept.accepted is not None,
        start=plan.start,
        days=_days(plan, book),
        currency=book.house.currency,
        cost=plan.cost,
        budget=book.house.weekly_budget,
        proof=plan.proof,
        could_be_better_by=max(0.0, plan.proof.value - plan.proof.bound) if bounded else None,
        gap_percent=plan.proof.gap_percent if bounded else None,
        waste_g=plan.waste_g,
        waste_cost=sum(one.left.cost for one in binned),
        wasted=binned,
        carried=tuple(_wasted(left, book) for left in plan.left_over if not left.binned),
        intake=eaten,
        iron=iron.of_plan(plan, cooked, known, eaten),
        clashes=plan.clashes,
        advice=advice.of_plan(plan, book),
    )


def _days(plan: TablePlan, book: Book) -> tuple[TableDay, ...]:
    market = {p.day for p in plan.purchases if p.day.weekday() in book.house.market_weekdays}
    return tuple(
        TableDay(day, day in market, tuple(_sitting(s, plan, book) for s in of_day))
        for day, of_day in groupby(plan.sittings, lambda s: s.day)
    )


def _sitting(sitting: Sitting, plan: TablePlan, book: Book) -> TableSitting:
    names = {p.id: p.name for p in book.house.people}
    batches = {b.id: b for b in plan.batches}
    dishes = []
    for serving in plan.at(sitting.day, sitting.meal):
        batch = batches.get(serving.batch or "")
        now = batch is not None and (batch.day, batch.meal) == (sitting.day, sitting.meal)
        dishes.append(
            OnTable(
                dish=serving.dish,
                name=book.dish(serving.dish).name,
                course=serving.course,
                portions=serving.portions,
                kept=not now,
                cooked=batch.portions if batch and now else None,
                key=plan_days.serving_key(serving),
                mild=tuple(names.get(key, key) for key in serving.mild),
                swaps=_swaps(batch, book) if batch else (),
            )
        )
    order = list(Course)
    dishes.sort(key=lambda d: order.index(d.course))
    return TableSitting(sitting, tuple(names.get(key, key) for key in sitting.eaters), tuple(dishes))


def _swaps(batch: Batch, book: Book) -> tuple[tuple[str, str], ...]:
    dish = book.dish(batch.dish)
    return tuple((foods.short(s.food), foods.short(dish.line(s.line).food)) for s in batch.swaps)


def _wasted(left: LeftOver, book: Book) -> Wasted:
    dishes = {d.id: d.name for d in book.dishes}
    name = dishes.get(left.food) or foods.called(book).get(left.food) or foods.name(left.food)
    return Wasted(name, left)
