"""The stove: the timed run sheet of one sitting."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from chauka import publishing, scheduling
from chauka.errors import InputError
from chauka.kitchen import Book, Dish, House, Meal, Proof, Serving, Sitting, TablePlan, as_planned
from chauka.publishing.calendar import cooking_event, feed, step_events
from chauka.publishing.lanes import lanes_svg
from chauka.services import plan_days, words
from chauka.store import books
from chauka.store.models import Household

SECONDS = 10.0
"""How long a run sheet is improved by default [s]."""


@dataclass(frozen=True, slots=True)
class StoveView:
    """One sitting's run sheet, what it cooks, and what only comes from the fridge."""

    sitting: Sitting
    cooked: tuple[tuple[Dish, float], ...]
    ready: tuple[tuple[Dish, float], ...]
    sheet: scheduling.RunSheet


@dataclass(frozen=True, slots=True)
class Tonight:
    """What is other than usual at one sitting: when it is served, how many cook, how many burners work.

    `steady` begins earlier, so that a slow evening is seldom late.
    """

    serve: time | None = None
    cooks: int | None = None
    burners: int | None = None
    steady: bool = False


AS_USUAL = Tonight()


def run_sheet(
    household: Household,
    day: date,
    meal: Meal,
    now: datetime,
    *,
    tonight: Tonight = AS_USUAL,
    seconds: float = SECONDS,
) -> StoveView:
    """The run sheet of one sitting of the plan in force."""
    kept = plan_days.the_current(household, now)
    return of_plan(books.load_book(household), kept.plan, day, meal, tonight=tonight, seconds=seconds)


def of_plan(
    book: Book,
    plan: TablePlan,
    day: date,
    meal: Meal,
    *,
    tonight: Tonight = AS_USUAL,
    seconds: float = SECONDS,
) -> StoveView:
    """The run sheet of one sitting of a plan."""
    book = as_planned(book, plan)
    sitting = _sitting(plan, day, meal)
    sitting = replace(sitting, serve=tonight.serve or sitting.serve)
    batches = {b.id: b for b in plan.batches}
    cooked, ready = list[tuple[Dish, float]](), list[tuple[Dish, float]]()
    for serving in plan.at(day, meal):
        dish = book.dish(serving.dish)
        if _cooked_now(serving, plan):
            cooked.append((dish, batches[serving.batch or ""].portions))
        else:
            ready.append((dish, serving.portions))
    serve = datetime.combine(day, sitting.serve)
    return StoveView(
        sitting=sitting,
        cooked=tuple(cooked),
        ready=tuple(ready),
        sheet=_sheet(cooked, book.house, serve, tonight, seconds),
    )


def _sheet(
    cooked: list[tuple[Dish, float]], house: House, serve: datetime, tonight: Tonight, seconds: float
) -> scheduling.RunSheet:
    """The run sheet; an empty one where everything is made already."""
    if not cooked:
        return scheduling.RunSheet(serve, (), Proof(0.0, 0.0, 0.0, "nothing to cook"))
    return scheduling.run_sheet(
        cooked, house, serve, cooks=tonight.cooks, burners=tonight.burners, steady=tonight.steady, seconds=seconds
    )


def next_sitting(plan: TablePlan, now: datetime) -> Sitting | None:
    """The sitting that a cook would ask for now: tonight's main one, else the next with something to cook."""
    to_come = [s for s in plan.sittings if datetime.combine(s.day, s.serve) > now and plan.at(s.day, s.meal)]
    tonight = [s for s in to_come if s.day == now.date()]
    return max(tonight, key=lambda s: s.serve) if tonight else next(iter(to_come), None)


def _cooked_now(serving: Serving, plan: TablePlan) -> bool:
    if serving.batch is None:
        return False
    batch = plan.batch(serving.batch)
    return (batch.day, batch.meal) == (serving.day, serving.meal)


def _sitting(plan: TablePlan, day: date, meal: Meal) -> Sitting:
    for sitting in plan.sittings:
        if (sitting.day, sitting.meal) == (day, meal):
            return sitting
    there = ", ".join(str(s.meal) for s in plan.sittings if s.day == day)
    if there:
        raise InputError({"sitting": (f"the plan has no {meal} on {words.day(day)}; it has {there}",)})
    last = plan.start + timedelta(days=plan.days - 1)
    reach = f"it runs from {words.day(plan.start)} to {words.day(last)}"
    raise InputError({"sitting": (f"the plan does not reach {words.day(day)}; {reach}",)})


def chart(seen: StoveView, look: str = publishing.HOUSE_STYLE) -> bytes:
    """The run sheet as lanes, an SVG that stands alone. Raises `InputError` where there is no sheet."""
    return lanes_svg(_sheet_of(seen), publishing.style(look)).encode()


def calendar(seen: StoveView, house: str, now: datetime) -> bytes:
    """The run sheet as a calendar whose entries ring when a step begins. Raises `InputError` where there is none."""
    sheet, meal = _sheet_of(seen), str(seen.sitting.meal)
    return feed(house, (cooking_event(sheet, meal), *step_events(sheet, meal)), now)


def _sheet_of(seen: StoveView) -> scheduling.RunSheet:
    if not seen.sheet.entries:
        raise InputError(
            {"stove": (f"there is nothing to cook for {seen.sitting.meal}, so there is no sheet to write",)}
        )
    return seen.sheet
