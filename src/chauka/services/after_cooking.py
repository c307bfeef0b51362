"""After the meal: what was made, how long it took, what it weighed, who liked it; one action, kept with the dish."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import datetime
from types import MappingProxyType

from chauka.errors import InputError
from chauka.kitchen import Dish, House
from chauka.publishing.times import times
from chauka.services import cooked
from chauka.store import books, ledger, marks
from chauka.store.ledger import Recorder
from chauka.store.models import Household

LIKING = ("will not eat it", "rather not", "it was all right", "liked it", "loved it")
"""What 1 to 5 mean."""

LIKED = 4
LONGEST_MIN = 24 * 60.0


@dataclass(frozen=True, slots=True)
class Said:
    """What somebody wrote down after a meal, as written; empty is "not said". `liking` is by person, 1 to 5."""

    portions: str = ""
    minutes: str = ""
    weight: str = ""
    note: str = ""
    liking: Mapping[str, str] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Cooking:
    """One time that a dish was cooked: minutes at work against the `planned_min`, the weight when done [g]; None is
    unknown. `liked_by` are names."""

    at: datetime
    portions: float
    minutes: float | None
    planned_min: float
    weight_g: float | None
    liked_by: tuple[str, ...]
    note: str


def write(household: Household, dish_id: str, said: Said, now: datetime) -> None:
    """Write down that a dish was cooked; all of it or, where something cannot be, nothing.

    Raises one `InputError` that names each thing that cannot be.
    """
    book = books.load_book(household)
    dish = book.dish(dish_id)
    portions = _number(said.portions, "portions", most=500.0) or dish.portions
    minutes = _number(said.minutes, "minutes", most=LONGEST_MIN)
    grams = cooked.read_weight(household, dish, said.weight, portions).grams if said.weight.strip() else None
    liking = _liking(said.liking, book.house)
    with ledger.action(household, now, "cook a dish", dish.name) as recorder:
        recorder.did(cooked.row(dish, now, portions=portions, grams=grams, minutes=minutes))
        cooking = {
            "at": now.isoformat(), "portions": portions, "minutes": minutes, "planned_min": times(dish).hands_on_min,
            "weight_g": grams, "liked": liking, "note": said.note.strip(),
        }  # fmt: skip
        marks.write(recorder, marks.COOKING, f"{dish.id}/{recorder.number}", cooking)
        if liking:
            _like(recorder, dish, liking)


def _number(said: str, field: str, most: float) -> float | None:
    if not said.strip():
        return None
    try:
        number = float(said.replace(",", "."))
    except ValueError:
        number = 0.0
    if not 0 < number <= most:
        raise InputError({field: (f"{said!r} cannot be right; write a number as in 4 or 35",)})
    return number


def _liking(said: Mapping[str, str], house: House) -> dict[str, int]:
    people = {p.id for p in house.people}
    found = {person: points for person, points in said.items() if points}
    if not (found.keys() <= people and set(found.values()) <= {"1", "2", "3", "4", "5"}):
        raise InputError({"liked by": ("say for somebody of this house how it was, from 1 to 5",)})
    return {person: int(points) for person, points in found.items()}


def _like(recorder: Recorder, dish: Dish, liking: Mapping[str, int]) -> None:
    """What was said last is what plans go by."""
    house = books.load_house(recorder.household)
    people = tuple(
        replace(p, liking=MappingProxyType({**p.liking, dish.id: liking[p.id]})) if p.id in liking else p
        for p in house.people
    )
    books.save_house(recorder, replace(house, people=people))


def of_dish(household: Household, dish_id: str) -> tuple[Cooking, ...]:
    """Every time that the dish was cooked and somebody said so, the newest first."""
    names = {p.id: p.name for p in books.load_book(household).house.people}
    found = marks.under(household, marks.COOKING, f"{dish_id}/")
    cookings = [
        Cooking(
            at=datetime.fromisoformat(one["at"]),
            portions=one["portions"],
            minutes=one["minutes"],
            planned_min=one["planned_min"],
            weight_g=one["weight_g"],
            liked_by=tuple(names.get(p, p) for p, points in one["liked"].items() if points >= LIKED),
            note=one["note"],
        )
        for one in found.values()
    ]
    return tuple(sorted(cookings, key=lambda c: c.at, reverse=True))
