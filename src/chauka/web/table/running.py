"""Planning beside the pages: one thread a household, with its progress, and a way to stop it.

The best plan so far is kept as a proposal when the thread ends, also when it was stopped. A plan in
the making does not survive a restart of the server; nothing that was kept is lost by that.
"""

from __future__ import annotations

import threading
import time
from dataclasses import dataclass, field
from datetime import date, datetime

from django.db import connection

from chauka.errors import ChaukaError
from chauka.services import plan_days
from chauka.store.models import Household


@dataclass(slots=True)
class Planning:
    """One plan in the making; `value` and `bound` are those of the best plan so far [coin], None before the first."""

    seconds: float
    began: float = field(default_factory=time.monotonic)
    value: float | None = None
    bound: float | None = None
    complaint: str = ""
    done: bool = False
    stop: threading.Event = field(default_factory=threading.Event)

    @property
    def elapsed_s(self) -> float:
        """How long it has run [s]."""
        return time.monotonic() - self.began

    def heard(self, _seconds: float, value: float | None, bound: float | None) -> None:
        """What the planner reports as it goes."""
        self.value, self.bound = value, bound


_running: dict[int, Planning] = {}
_lock = threading.Lock()


@dataclass(frozen=True, slots=True)
class Asked:
    """What is to be planned: from which day, how long to search, what must stay and what nobody wants."""

    first: date
    now: datetime
    days: int
    seconds: float
    keep: frozenset[str] = frozenset()
    refuse: frozenset[str] = frozenset()


def start(household: Household, asked: Asked) -> Planning:
    """Begin to plan, or join the planning that already runs for this household."""
    with _lock:
        there = _running.get(household.pk)
        if there is not None and not there.done:
            return there
        planning = _running[household.pk] = Planning(asked.seconds)
    threading.Thread(target=_plan, args=(planning, household, asked), name=f"plan-{household.pk}", daemon=True).start()
    return planning


def current(household: Household) -> Planning | None:
    """The planning of this household, running or just done; None where there was none."""
    return _running.get(household.pk)


def clear(household: Household) -> None:
    """Forget a planning that is done and was shown."""
    with _lock:
        there = _running.get(household.pk)
        if there is not None and there.done:
            del _running[household.pk]


def _plan(planning: Planning, household: Household, asked: Asked) -> None:
    try:
        plan_days.make(
            household,
            asked.first,
            asked.now,
            days=asked.days,
            seconds=asked.seconds,
            keep=asked.keep,
            refuse=asked.refuse,
            progress=planning.heard,
            cancel=planning.stop.is_set,
        )
    except ChaukaError as error:
        planning.complaint = str(error)
    finally:
        planning.done = True
        connection.close()
