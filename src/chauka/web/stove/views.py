"""Stove: the run sheet of one sitting."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from functools import lru_cache

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.publishing.lanes import lanes_svg
from chauka.services import evening, plan_days
from chauka.services import stove as service
from chauka.services.evening_anew import planned_anew
from chauka.store import books
from chauka.store.models import Household
from chauka.store.plans import KeptPlan
from chauka.web.common import kitchen_clock, now, page, whole, whose
from chauka.web.templatetags.said import where

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


def sheet_of(household: Household, kept: KeptPlan, day: date, meal: Meal) -> service.StoveView:
    """The run sheet of one sitting of the plan in force. Once made it is kept: the same question, one answer."""
    return _sheet(household.pk, kept.number, kept.made, day, meal)


@page
def sitting(request: HttpRequest, day: str, meal: str) -> HttpResponse:
    """The run sheet of one sitting of the plan in force."""
    on, which = _asked(day, meal)
    household = whose()
    kept = plan_days.the_current(household, now())
    seen = sheet_of(household, kept, on, which)
    context = {
        "seen": seen,
        "lanes": mark_safe(lanes_svg(seen.sheet, say=where)),  # noqa: S308 -- the writer escapes what the book says
        "sittings": [s for s in kept.plan.sittings if s.day == on],
        "meal": which,
    }
    return render(request, "stove/sitting.html", context | _live(household, on, which))


def _live(household: Household, on: date, meal: Meal) -> dict[str, object]:
    """Context of the part that moves: the evening as it stands, or None before it has begun."""
    begun = evening.current(household, on, meal)
    at = kitchen_clock()
    return {"live": begun and evening.retime(begun, at), "on": on, "meal": meal}


@page
def live(request: HttpRequest, day: str, meal: str) -> HttpResponse:
    """The part that moves, for a page that is open."""
    on, which = _asked(day, meal)
    return render(request, "stove/live.html", _live(whose(), on, which))


@require_POST
@page
def deed(request: HttpRequest, day: str, meal: str) -> HttpResponse:
    """The cook began to cook, began or did a step, or needs longer for it."""
    on, which = _asked(day, meal)
    household, said, at = whose(), request.POST.get("deed", ""), _when(request)
    if said == "cook":
        kept = plan_days.the_current(household, now())
        evening.begin(household, on, which, sheet_of(household, kept, on, which).sheet, at)
    elif said == "leave":
        evening.end(household, on, which, at)
    else:
        did, _, step = said.partition(" ")
        number = whole(step or "0", "step")
        evening.did(household, on, which, at, deed=did, number=number, again=_anew(household, on, which))
    if request.headers.get("HX-Request"):
        return render(request, "stove/live.html", _live(household, on, which))
    return redirect("stove-sitting", day=day, meal=meal)


LONGEST_WAIT_S = 6 * 3600
"""A tap that a phone kept for longer than this [s] is taken as of now."""


def _when(request: HttpRequest) -> datetime:
    """When the cook tapped: a phone without a network says how many seconds ago that was."""
    ago = whole(request.POST.get("ago", "0"), "ago")
    return kitchen_clock() - timedelta(seconds=ago if ago <= LONGEST_WAIT_S else 0)


def _anew(household: Household, on: date, meal: Meal) -> Callable[[evening.Evening, float], evening.Evening]:
    """How the rest is planned anew after a tap; the order stays where the plan has gone."""
    kept = plan_days.current(household, now())
    if kept is None or not any((s.day, s.meal) == (on, meal) for s in kept.plan.sittings):
        return lambda going, _at: going
    sheet = sheet_of(household, kept, on, meal).sheet
    return lambda going, at: planned_anew(going, sheet, at)


def _asked(day: str, meal: str) -> tuple[date, Meal]:
    try:
        return date.fromisoformat(day), Meal(meal)
    except ValueError:
        raise InputError({"stove": (f"{day} {meal} is no sitting; ask as in 2027-03-14/dinner",)}) from None
