"""A plan for commands that need one: the plan in force, or a new one with progress on stderr."""

from __future__ import annotations

from datetime import date, datetime

from chauka.cli.progress import progress
from chauka.services import plan_days, words
from chauka.store.models import Household
from chauka.store.plans import KeptPlan

DAYS = 7


def plan_in_force(household: Household, now: datetime) -> KeptPlan:
    """The plan in force; made now where there is none."""
    return plan_days.current(household, now) or new_plan(household, now.date(), now)


def new_plan(
    household: Household, start: date, now: datetime, *, days: int = DAYS, seconds: float = plan_days.SECONDS
) -> KeptPlan:
    """A new proposal, with progress."""
    with progress(f"Planning {words.count(days, 'day')} from {words.day(start)}", seconds) as shown:
        return plan_days.make(household, start, now, days=days, seconds=seconds, progress=shown)
