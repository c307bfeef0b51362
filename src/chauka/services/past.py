"""What was done, action by action, and taking one back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby
from typing import Any

from chauka.store import undo as undo_store
from chauka.store.models import Household

PAGE = 60
"""Actions on one page."""


@dataclass(frozen=True, slots=True)
class Done:
    """One action: when, what, and whether it can still be taken back."""

    number: int
    at: datetime
    task: str
    note: str
    taken_back: bool


@dataclass(frozen=True, slots=True)
class Past:
    """Actions by day, the newest first; `older` is where the next page begins, None at the end."""

    days: tuple[tuple[date, tuple[Done, ...]], ...]
    older: int | None


def view(household: Household, before: int | None = None) -> Past:
    """The last actions, or those before an action of that number."""
    found = undo_store.newest(household, PAGE + 1, before)
    gone = undo_store.is_taken_back(household, {number for number, *_ in found})
    actions = [Done(number, at, task, note, number in gone) for number, at, task, note in found[:PAGE]]
    return Past(tuple(_by_day(actions)), actions[-1].number if len(found) > PAGE else None)


def _by_day(actions: list[Done]) -> Iterator[tuple[date, tuple[Done, ...]]]:
    for day, of_it in groupby(actions, lambda a: a.at.date()):
        yield day, tuple(of_it)


def take_back(household: Household, number: int, now: datetime) -> None:
    """Take one action back, whole or not at all."""
    undo_store.take_back(household, number, now)


def undo(household: Household, now: datetime) -> undo_store.Undone:
    """Take back the last action in force."""
    return undo_store.undo(household, now)


def redo(household: Household, now: datetime) -> undo_store.Undone:
    """Do again what was taken back last."""
    return undo_store.redo(household, now)


@dataclass(frozen=True, slots=True)
class Difference:
    """One field that an action changed; None is "was not there"."""

    place: str
    before: object
    after: object


@dataclass(frozen=True, slots=True)
class Version:
    """One change of a dish: when, by which action, and every field that it changed."""

    number: int
    at: datetime
    task: str
    differences: tuple[Difference, ...]


def of_dish(household: Household, dish: str) -> tuple[Version, ...]:
    """How a dish came to be what it is, the newest change first."""
    return tuple(
        Version(number, at, task, tuple(differences(before, after)))
        for number, at, task, before, after in undo_store.of_thing(household, "dish", dish)
    )


def differences(before: Any, after: Any, place: str = "") -> Iterator[Difference]:
    """The fields in which two plain values differ; things in lists are matched by their own ids."""
    if before == after:
        return
    if not (isinstance(before, dict | list) and isinstance(after, dict | list)):
        yield Difference(place, before, after)
        return
    old, new = _by_name(before), _by_name(after)
    for name in dict.fromkeys([*old, *new]):
        yield from differences(old.get(name), new.get(name), f"{place}.{name}" if place else name)


def _by_name(plain: dict[str, Any] | list[Any]) -> dict[str, Any]:
    """What a thing holds, by name: its plain values first; no store need keep the order in which they were written."""
    if isinstance(plain, dict):
        return dict(sorted(plain.items(), key=lambda item: (isinstance(item[1], dict | list), item[0])))
    return {str(one["id"]) if isinstance(one, dict) and "id" in one else str(i): one for i, one in enumerate(plain, 1)}
