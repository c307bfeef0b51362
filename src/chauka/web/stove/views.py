"""Stove: the run sheet of one sitting."""

from __future__ import annotations

from datetime import date

from django.core.cache import cache
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render

from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.services import plan_days
from chauka.services import stove as service
from chauka.store import books
from chauka.web.common import now, page, whose
from chauka.web.stove.lanes import lanes

SECONDS = 4.0
"""How long a page may wait for a run sheet [s]."""

_KEEP_S = 3600


@page
def tonight(_request: HttpRequest) -> HttpResponse:
    """The sitting that a cook would ask for now."""
    moment = now()
    kept = plan_days.the_current(whose(), moment)
    sitting = service.next_sitting(kept.plan, moment)
    if sitting is None:
        raise InputError({"stove": ("the plan has nothing left to cook; plan the coming days",)})
    return redirect("stove-sitting", day=sitting.day.isoformat(), meal=str(sitting.meal))


@page
def sitting(request: HttpRequest, day: str, meal: str) -> HttpResponse:
    """The run sheet of one sitting of the plan in force. A sheet once made is kept: the same question, one answer."""
    on, which = _asked(day, meal)
    household = whose()
    kept = plan_days.the_current(household, now())
    key = f"run-sheet-{household.pk}-{kept.number}-{kept.made:%Y%m%d%H%M%S}-{day}-{meal}"
    seen = cache.get(key)
    if seen is None:
        seen = service.of_plan(books.load_book(household), kept.plan, on, which, seconds=SECONDS)
        cache.set(key, seen, _KEEP_S)
    sittings = [s for s in kept.plan.sittings if s.day == on]
    return render(
        request, "stove/sitting.html", {"seen": seen, "lanes": lanes(seen.sheet), "sittings": sittings, "meal": which}
    )


def _asked(day: str, meal: str) -> tuple[date, Meal]:
    try:
        return date.fromisoformat(day), Meal(meal)
    except ValueError:
        raise InputError({"stove": (f"{day} {meal} is no sitting; ask as in 2027-03-14/dinner",)}) from None
