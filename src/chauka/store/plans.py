"""Table plans kept as proposals: one document each, of which the one accepted last is followed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from typing import Any

from django.db import connection
from django.db.models import Max, QuerySet

from chauka.errors import InputError
from chauka.kitchen import TablePlan
from chauka.store import books, codec, jobs, models
from chauka.store.ledger import Recorder, action
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class KeptPlan:
    """A plan with its number in the book, when it was made, and when it was accepted, if it was."""

    number: int
    made: datetime
    accepted: datetime | None
    plan: TablePlan


def _of(household: Household) -> QuerySet[models.Plan]:
    """The household's plans, without the one in the making (see `jobs`)."""
    found: QuerySet[models.Plan] = models.Plan.objects.of(household).exclude(number=jobs.NUMBER)
    return found


def propose(household: Household, plan: TablePlan, now: datetime) -> KeptPlan:
    """Keep a plan as a proposal; proposals made earlier and never accepted are dropped."""
    with action(household, now, "plan the days", f"{plan.days} days from {plan.start}") as recorder:
        _of(household).filter(accepted=None).delete()
        row = models.Plan.objects.create(
            household=household,
            number=_next_number(recorder),
            made=now,
            start=plan.start,
            days=plan.days,
            document=codec.to_plain(plan),
        )
        recorder.changed("plan", str(row.number), None, {"accepted": None})
    return _kept(row)


def _next_number(recorder: Recorder) -> int:
    """The action's own: higher than that of any plan there was, so that no tick on an old list is taken for a new."""
    last = _of(recorder.household).order_by("-number").values_list("number", flat=True).first()
    return max(recorder.number, (last or 0) + 1)


def drop_proposals(household: Household, now: datetime) -> None:
    """Forget the proposals that nobody followed."""
    with action(household, now, "leave the proposal") as recorder:
        for row in _of(household).filter(accepted=None):
            recorder.changed("plan", str(row.number), as_plain(row), None)
            row.delete()


def as_plain(row: models.Plan) -> dict[str, Any]:
    """A whole plan as it is kept with the action that drops it, so that it can come back."""
    return {
        "accepted": codec.to_plain(row.accepted),
        "made": codec.to_plain(row.made),
        "start": codec.to_plain(row.start),
        "days": row.days,
        "document": row.document,
    }


def bring_back(household: Household, number: int, plain: Mapping[str, Any]) -> None:
    """Put a dropped plan back as it was."""
    models.Plan.objects.create(
        household=household,
        number=number,
        accepted=None if plain["accepted"] is None else datetime.fromisoformat(plain["accepted"]),
        made=datetime.fromisoformat(plain["made"]),
        start=date.fromisoformat(plain["start"]),
        days=plain["days"],
        document=plain["document"],
    )


def accept(household: Household, number: int, now: datetime) -> KeptPlan:
    """From now on the house follows this plan."""
    numbered(household, number)
    row = _of(household).get(number=number)
    with action(household, now, "accept the plan", f"plan {number}") as recorder:
        before = codec.to_plain(row.accepted)
        row.accepted = _after_all_others(household, now)
        row.save()
        recorder.changed("plan", str(number), {"accepted": before}, {"accepted": codec.to_plain(row.accepted)})
    return _kept(row)


def _after_all_others(household: Household, now: datetime) -> datetime:
    """Now; or just after the plan accepted last, where the clock was set back since."""
    last = _of(household).aggregate(last=Max("accepted"))["last"]
    return now if last is None or last < now else last + timedelta(seconds=1)


def current(household: Household) -> KeptPlan | None:
    """The plan accepted last; where none was, the newest proposal; None where there is no plan at all."""
    found = _of(household)
    return _first(household, found.exclude(accepted=None).order_by("-accepted", "-pk")) or _first(
        household, found.order_by("-pk")
    )


def proposal(household: Household) -> KeptPlan | None:
    """The newest plan not accepted yet."""
    return _first(household, _of(household).filter(accepted=None).order_by("-pk"))


def numbered(household: Household, number: int) -> KeptPlan:
    """The plan of that number; an `InputError` where there is none any more."""
    kept = _first(household, _of(household).filter(number=number))
    if kept is None:
        raise InputError({"plan": (f"there is no plan {number}; it may have been replaced by a newer one",)})
    return kept


def every(household: Household) -> tuple[KeptPlan, ...]:
    """All plans kept, oldest first."""
    return tuple(_kept(row) for row in _of(household).order_by("pk"))


_MOST_READ = 8
_read: dict[tuple[str, int, int], TablePlan] = {}
"""Plans as they were last read, by database, the story it tells, and row: what a plan says never changes."""


def _first(household: Household, found: QuerySet[models.Plan]) -> KeptPlan | None:
    """The first of the plans; its document, which is large, is read once only."""
    row = found.defer("document").first()
    if row is None or connection.in_atomic_block:  # where all may still be taken back
        return None if row is None else _kept(row)
    key = (str(connection.settings_dict["NAME"]), books.story(household), row.pk)
    plan = _read.get(key)
    if plan is None:
        plan = _kept(row).plan
        while len(_read) >= _MOST_READ:
            _read.pop(next(iter(_read)), None)
        _read[key] = plan
    return KeptPlan(number=row.number, made=row.made, accepted=row.accepted, plan=plan)


def _kept(row: models.Plan) -> KeptPlan:
    return KeptPlan(
        number=row.number,
        made=row.made,
        accepted=row.accepted,
        plan=codec.from_plain(TablePlan, row.document, f"plan {row.number}"),
    )
