"""What was done, action by action, and taking one back."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from itertools import groupby

from chauka.store import undo
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
    found = undo.newest(household, PAGE + 1, before)
    gone = undo.is_taken_back(household, {number for number, *_ in found})
    actions = [Done(number, at, task, note, number in gone) for number, at, task, note in found[:PAGE]]
    return Past(tuple(_by_day(actions)), actions[-1].number if len(found) > PAGE else None)


def _by_day(actions: list[Done]) -> Iterator[tuple[date, tuple[Done, ...]]]:
    for day, of_it in groupby(actions, lambda a: a.at.date()):
        yield day, tuple(of_it)


def take_back(household: Household, number: int, now: datetime) -> None:
    """Take one action back, whole or not at all."""
    undo.take_back(household, number, now)
