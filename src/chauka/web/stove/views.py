"""Stove: the run sheet of one sitting."""

from __future__ import annotations

from datetime import date, datetime
from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.services import plan_days
from chauka.services import stove as service
from chauka.store import books
from chauka.store.models import Household
from chauka.web.common import now, page, whose
from chauka.web.stove.lanes import lanes

SECONDS = 4.0
"""How long a page may wait for a run sheet [s]."""

_KEPT = 12


@page
def tonight(_request: HttpRequest) -> HttpResponse:
    """The sitting that a cook would ask for now."""
    moment = now()
    kept = plan_days.the_current(whose(), moment)
    sitting = service.next_sitting(kept.plan, moment)
    if sitting is None:
        raise InputError({"stove": ("the plan has nothing left to cook; plan the coming days",)})
    return redirect("stove-sitting", day=sitting.day.isoformat(), meal=str(sitting.meal))


@lru_cache(_KEPT)
def _sheet(owner: int, number: int, made: datetime, day: date, meal: Meal) -> service.StoveView:
    """The sheet of one sitting of one plan; number and moment of the plan say which."""
    household = Household.objects.get(pk=owner)
    kept = plan_days.the_current(household, now())
    assert (kept.number, kept.made) == (number, made)  # noqa: S101 -- the caller has just read them
    return service.of_plan(books.load_book(household), kept.plan, day, meal, seconds=SECONDS)


@page
def sitting(request: HttpRequest, day: str, meal: str) -> HttpResponse:
    """The run sheet of one sitting of the plan in force. A sheet once made is kept: the same question, one answer."""
    on, which = _asked(day, meal)
    household = whose()
    kept = plan_days.the_current(household, now())
    seen = _sheet(household.pk, kept.number, kept.made, on, which)
    sittings = [s for s in kept.plan.sittings if s.day == on]
    return render(
        request, "stove/sitting.html", {"seen": seen, "lanes": lanes(seen.sheet), "sittings": sittings, "meal": which}
    )


def _asked(day: str, meal: str) -> tuple[date, Meal]:
    try:
        return date.fromisoformat(day), Meal(meal)
    except ValueError:
        raise InputError({"stove": (f"{day} {meal} is no sitting; ask as in 2027-03-14/dinner",)}) from None
