"""The cook's own hand on the table: a dish locked, refused, moved to another sitting, or swapped with one.

Locks and refusals are marks of the ledger: they hold for every plan made from now on, and are taken back
like anything else. A dish put elsewhere is planned around, and the new plan is shown before it is followed.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from chauka import planning
from chauka.errors import InputError
from chauka.kitchen import Book, Dish, Serving, Sitting, TablePlan
from chauka.planning.sittings import filled_by, positions
from chauka.services import foods, plan_days
from chauka.services.plan_days import serving_key
from chauka.store import books, ledger, marks
from chauka.store.models import Household

REFUSED_DAYS = 14
"""So long a dish that nobody wants now stays off the table [day]; our own choice."""


@dataclass(frozen=True, slots=True)
class Spot:
    """A sitting to which a dish may go: what it would stand beside, and the dish of its kind that it would replace."""

    sitting: Sitting
    beside: tuple[str, ...]
    replaces: tuple[tuple[str, str], ...]

    @property
    def value(self) -> str:
        """As in `2027-03-14/dinner`, for a form."""
        return f"{self.sitting.day.isoformat()}/{self.sitting.meal}"


@dataclass(frozen=True, slots=True)
class InHand:
    """One dish at one sitting, taken in the hand: why it stands there, and where else it may go."""

    key: str
    dish: Dish
    serving: Serving
    why: tuple[str, ...]
    locked: bool
    spots: tuple[Spot, ...]


@dataclass(frozen=True, slots=True)
class Wishes:
    """What every plan from now on has to respect: servings that stay (by key), and dishes that nobody wants (by id)."""

    locked: frozenset[str]
    refused: frozenset[str]


def wishes(household: Household, now: datetime) -> Wishes:
    """The locks and refusals that hold today."""
    today = now.date().isoformat()
    locks = marks.under(household, marks.LOCK, "")
    refused = marks.under(household, marks.REFUSED, "")
    return Wishes(
        frozenset(key for key in locks if key >= today),
        frozenset(dish for dish, until in refused.items() if until >= today),
    )


def take(household: Household, key: str, now: datetime) -> InHand:
    """Take a dish of the plan in force in the hand."""
    book, plan = books.load_book(household), plan_days.the_current(household, now).plan
    serving = _serving(plan, key)
    dish = book.dish(serving.dish)
    why = planning.why_dish(plan, book, serving.batch, foods.short) if serving.batch else ()
    return InHand(
        key, dish, serving, why, key in wishes(household, now).locked, _spots(plan, book, dish, serving, now.date())
    )


def _serving(plan: TablePlan, key: str) -> Serving:
    found = next((s for s in plan.servings if serving_key(s) == key), None)
    if found is None:
        raise InputError({"table": ("that dish does not stand there any more; look at the table again",)})
    return found


def _spots(plan: TablePlan, book: Book, dish: Dish, serving: Serving, today: date) -> tuple[Spot, ...]:
    """The sittings to come at which there is a place for such a dish."""
    names = {d.id: d.name for d in book.dishes}
    out = []
    for sitting in plan.sittings:
        there = plan.at(sitting.day, sitting.meal)
        here = (sitting.day, sitting.meal) == (serving.day, serving.meal)
        places = positions(sitting, book.house)
        mine = set(filled_by(dish, places))
        if here or sitting.day < today or not mine or any(s.dish == dish.id for s in there):
            continue
        out.append(
            Spot(
                sitting,
                tuple(names[s.dish] for s in there),
                tuple(
                    (serving_key(s), names[s.dish]) for s in there if mine & set(filled_by(book.dish(s.dish), places))
                ),
            )
        )
    return tuple(out)


def put(household: Household, key: str, where: str, now: datetime) -> frozenset[str]:
    """The keys that hold once the dish stands at another sitting (`2027-03-14/dinner`)."""
    hand = take(household, key, now)
    if where not in {spot.value for spot in hand.spots}:
        raise InputError({"table": (f"there is no place for {hand.dish.name} at that sitting",)})
    return _kept(household, now, without={key}) | {f"{where}/{hand.dish.id}"}


def swap(household: Household, key: str, other: str, now: datetime) -> frozenset[str]:
    """The keys that hold once two dishes have changed their places."""
    hand = take(household, key, now)
    if other not in {k for spot in hand.spots for k, _ in spot.replaces}:
        raise InputError({"table": (f"{hand.dish.name} cannot change places with that dish",)})
    (here, mine), (there, its) = key.rsplit("/", 1), other.rsplit("/", 1)
    return _kept(household, now, without={key, other}) | {f"{there}/{mine}", f"{here}/{its}"}


def _kept(household: Household, now: datetime, without: set[str]) -> frozenset[str]:
    return wishes(household, now).locked - without


def lock(household: Household, key: str, now: datetime, *, locked: bool) -> None:
    """This dish stays where it stands whatever is planned anew; or may move again."""
    hand = take(household, key, now)
    if hand.locked != locked:
        with ledger.action(household, now, "lock a dish" if locked else "unlock a dish", hand.dish.name) as recorder:
            marks.write(recorder, marks.LOCK, key, True if locked else None)


def refuse(household: Household, dish_id: str, now: datetime) -> None:
    """Nobody wants this dish for two weeks; where it was locked it is so no more."""
    dish = books.load_book(household).dish(dish_id)
    until = now.date() + timedelta(days=REFUSED_DAYS)
    with ledger.action(household, now, "refuse a dish", dish.name) as recorder:
        marks.write(recorder, marks.REFUSED, dish.id, until.isoformat())
        for key in wishes(household, now).locked:
            if key.rsplit("/", 1)[-1] == dish.id:
                marks.write(recorder, marks.LOCK, key, None)


def welcome(household: Household, dish_id: str, now: datetime) -> None:
    """The dish may be planned again."""
    if marks.read(household, marks.REFUSED, dish_id) is not None:
        name = books.load_book(household).dish(dish_id).name
        with ledger.action(household, now, "welcome a dish again", name) as recorder:
            marks.write(recorder, marks.REFUSED, dish_id, None)
