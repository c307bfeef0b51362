"""Plan the coming days: make a proposal, look at the plan in force, accept one."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator, Sequence
from dataclasses import replace
from datetime import date, datetime, time, timedelta
from typing import Any

from chauka import planning
from chauka.errors import InputError, SolverError
from chauka.kitchen import Book, Deed, Meal, Serving, TablePlan
from chauka.services import cooked, house, learned, markets_seen
from chauka.store import books, ledger, plans
from chauka.store.models import Household
from chauka.store.plans import KeptPlan

SECONDS = 20.0
"""How long a plan is improved by default [s]; a first one stands after a second."""

MOST_DAYS = 28


def make(
    household: Household,
    start: date,
    now: datetime,
    *,
    days: int = 7,
    seconds: float = SECONDS,
    keep: Collection[str] = (),
    refuse: Collection[str] = (),
    progress: Callable[..., Any] | None = None,
    cancel: Callable[[], bool] | None = None,
) -> KeptPlan:
    """Plan `days` days from `start`, staying near the plan in force, and keep the answer as a proposal.

    After three seconds the best so far is already kept as a proposal, and replaced by the better one
    at the end. What is over today stays as it was; what is bought, boxed and cooked is on the shelf.

    `keep` are servings that must stay or come (`serving_key`: those that the plan in force has not were put
    there by hand), `refuse` dishes that nobody wants in these days.

    "Nothing fits" is an answer with `clashes`, not an error. Raises `InputError` when the book
    itself is wrong (an unknown food, a lot from the future), naming each thing.
    """
    if not 1 <= days <= MOST_DAYS:
        raise InputError({"days": (f"{days} must lie between 1 and {MOST_DAYS}",)})
    if seconds <= 0:
        raise InputError({"seconds": (f"{seconds:g} must be above zero",)})
    book = books.load_book(household)
    house.refuse_if_wrong(book, now)
    before = current(household, now)
    there = before.plan.servings if before else ()
    wanted = tuple(s for s in _wanted(there, keep, book) if s.dish not in refuse and s.day >= start)
    before = before and _freed(before, there, wanted)
    shown: list[KeptPlan] = []
    try:
        plan = planning.plan(
            _without(book, refuse),
            start,
            days,
            seconds=seconds,
            previous=before.plan if before and (before.accepted or keep or refuse) else None,
            locked=wanted,
            progress=progress,
            cancel=cancel,
            early=lambda first: shown.append(plans.propose(household, first, now)),
            since=now,
            cooked=_cooked_lately(household, start),
            learned=learned.factors(household, _foods(book), book.house),
            chances=markets_seen.chances(household, now),
            weighed=cooked.of_book(household, book),
        )
    except SolverError as error:
        raise _cannot_stand(wanted, error, book) from error
    followed = current(household, now)
    if shown and followed and followed.accepted and _same_days(followed.plan, plan):
        return followed  # the first answer was accepted meanwhile, and nothing better was found
    return plans.propose(household, plan, now)


def _wanted(there: Sequence[Serving], keep: Collection[str], book: Book) -> Iterator[Serving]:
    """The servings of these keys: as they stand, or where a hand has put them."""
    standing = {serving_key(s): s for s in there}
    for key in sorted(keep):
        day, meal, dish = [*key.split("/", 2), "", ""][:3]
        if key in standing:
            yield standing[key]
        elif any(d.id == dish for d in book.dishes):
            yield Serving(date.fromisoformat(day), Meal(meal), book.dish(dish).course, dish, 0.0, None)


def _cannot_stand(wanted: Sequence[Serving], error: SolverError, book: Book) -> InputError | SolverError:
    """In words, where no plan can have what must stay."""
    if not wanted:
        return error
    names = ", ".join(f"{book.dish(s.dish).name} ({s.day:%A} {s.meal})" for s in wanted)
    why = "a day rule, the hour, or a food that cannot be had by then stands against it"
    return InputError({"table": (f"no plan can have all of: {names}; {why}. The plan stays as it was",)})


def _freed(before: KeptPlan, there: Sequence[Serving], wanted: Sequence[Serving]) -> KeptPlan:
    """The plan before, without the places that a dish put elsewhere by hand has left."""
    standing = {serving_key(s) for s in there}
    stays = {serving_key(s) for s in wanted}
    moved = {s.dish for s in wanted if serving_key(s) not in standing}
    kept = tuple(s for s in there if s.dish not in moved or serving_key(s) in stays)
    return replace(before, plan=replace(before.plan, servings=kept))


def _same_days(one: TablePlan, other: TablePlan) -> bool:
    return (one.servings, one.purchases) == (other.servings, other.purchases)


def _cooked_lately(household: Household, start: date) -> dict[str, date]:
    """The day on which each dish was last cooked, in the week before."""
    rows = ledger.rows(household, datetime.combine(start - timedelta(days=7), time()))
    return {row.dish: row.at.date() for row in rows if row.deed is Deed.COOKED and row.dish and row.at.date() < start}


def _foods(book: Book) -> set[str]:
    return {food for dish in book.dishes for food in dish.foods}


def serving_key(serving: Serving) -> str:
    """As in `2027-03-14/dinner/spinach-dal`."""
    return f"{serving.day.isoformat()}/{serving.meal}/{serving.dish}"


def _without(book: Book, refused: Collection[str]) -> Book:
    if not refused:
        return book
    return replace(
        book,
        dishes=tuple(dish for dish in book.dishes if dish.id not in refused),
        lots=tuple(lot for lot in book.lots if lot.dish not in refused),
    )


def proposal(household: Household, now: datetime) -> KeptPlan | None:
    """A proposal made after the plan in force was accepted; None where there is nothing to choose between."""
    in_force, newest = current(household, now), plans.proposal(household)
    if in_force is None or newest is None or in_force.number == newest.number:
        return None
    return newest if _has_days_left(newest, now) else None


def leave(household: Household, now: datetime) -> None:
    """Stay with the plan in force; the proposal is dropped."""
    plans.drop_proposals(household, now)


def current(household: Household, now: datetime) -> KeptPlan | None:
    """The plan in force: the one accepted last if it still has days to come, else the newest proposal."""
    kept = plans.current(household)
    if kept is not None and not _has_days_left(kept, now):
        kept = plans.proposal(household)
    return kept if kept is not None and _has_days_left(kept, now) else None


def the_current(household: Household, now: datetime) -> KeptPlan:
    """The plan in force; an `InputError` says how to make one where there is none."""
    kept = current(household, now)
    if kept is None:
        raise InputError({"plan": ("there is none for the coming days yet; `chauka table` makes one",)})
    return kept


def kept(household: Household, number: int) -> KeptPlan:
    """The plan of that number, in force or not."""
    return plans.numbered(household, number)


def accept(household: Household, number: int | None, now: datetime) -> KeptPlan:
    """Follow this plan from now on (None: the newest proposal)."""
    if number is None:
        newest = plans.proposal(household)
        if newest is None:
            raise InputError({"plan": ("there is no proposal to accept; `chauka table --new` makes one",)})
        number = newest.number
    return plans.accept(household, number, now)


def _has_days_left(kept: KeptPlan, now: datetime) -> bool:
    return kept.plan.start + timedelta(days=kept.plan.days) > now.date()
