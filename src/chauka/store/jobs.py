"""The plan in the making: one document a household, changed in place, seen by every process that opens the book.

It is the plan of number 0, which no plan has; it is no action, is not dumped and leaves no trace in the ledger.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date, datetime

from django.db import transaction

from chauka.store import codec, ledger, models, trouble
from chauka.store.models import Household

NUMBER = 0


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be planned: from which day, how long to search [s], what must stay and what nobody wants."""

    first: date
    now: datetime
    days: int
    seconds: float
    keep: frozenset[str] = frozenset()
    refuse: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Job:
    """What was asked for, first come first; who works on the first of it, and how far that is.

    `worker` is the mark of the process that works on it, empty where none does yet. `began` is when it took it up,
    `heard` when one was last heard of or called [s of the machine's clock]; `tries` counts those that were called for
    the first. `value` and `best_possible` are those of the best plan so far [smallest coin], None before there is one.
    """

    queue: tuple[Asked, ...] = ()
    worker: str = ""
    began: float = 0.0
    heard: float = 0.0
    tries: int = 0
    value: float | None = None
    best_possible: float | None = None
    stop: bool = False
    complaint: str = ""


NOTHING = Job()
"""Nothing is planned, and nothing is to be told."""


def read(household: Household) -> Job:
    """The household's job as it stands."""
    row = models.Plan.objects.of(household).filter(number=NUMBER).first()
    return NOTHING if row is None else codec.from_plain(Job, row.document, "the plan in the making")


def change(household: Household, how: Callable[[Job], Job]) -> Job:
    """Make the job what `how` says, with nobody else between reading and writing."""
    with ledger.in_turn(), trouble.in_words(), transaction.atomic():
        ledger.alone(household)
        before = read(household)
        after = how(before)
        if after == before:
            return after
        if after == NOTHING:
            models.Plan.objects.of(household).filter(number=NUMBER).delete()
            return after
        document = {"document": codec.to_plain(after)}
        models.Plan.objects.update_or_create(
            household=household, number=NUMBER, defaults=document, create_defaults=document | _NO_PLAN
        )
    return after


_NO_PLAN = {"made": datetime(1, 1, 1), "start": date(1, 1, 1), "days": 0}  # noqa: DTZ001 - wall time of no day at all
