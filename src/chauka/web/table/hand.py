"""One dish of the table in the hand: locked, refused, moved, swapped. Every choice is a button; nothing is dragged."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.services import by_hand, running
from chauka.web.common import now, page, whose
from chauka.web.table.views import DAYS

SECONDS = 8.0
"""How long a plan is looked for after a dish was moved [s]; most of the table stays as it is."""


@page
def view(request: HttpRequest, day: str, meal: str, dish: str) -> HttpResponse:
    """Why the dish stands here, and where else it may go."""
    hand = by_hand.take(whose(), f"{day}/{meal}/{dish}", now())
    return render(request, "table/hand.html", {"hand": hand, "refused_days": by_hand.REFUSED_DAYS})


@require_POST
@page
def act(request: HttpRequest, day: str, meal: str, dish: str) -> HttpResponse:
    """What the hand does with it; a dish put elsewhere is planned around, and shown before it is followed."""
    household, moment, key, said = whose(), now(), f"{day}/{meal}/{dish}", request.POST
    if "lock" in said:
        by_hand.lock(household, key, moment, locked=said["lock"] == "yes")
    elif "refuse" in said:
        by_hand.refuse(household, dish, moment)
        _plan(by_hand.wishes(household, moment).locked)
    elif "to" in said:
        _plan(by_hand.put(household, key, said["to"], moment))
    elif "swap" in said:
        _plan(by_hand.swap(household, key, said["swap"], moment))
    else:
        raise InputError({"table": ("say what to do with the dish",)})
    return redirect("table")


def _plan(keep: frozenset[str]) -> None:
    household, moment = whose(), now()
    refused = by_hand.wishes(household, moment).refused
    running.start(household, running.Asked(moment.date(), moment, DAYS, SECONDS, keep, refused))


@require_POST
@page
def welcome(request: HttpRequest) -> HttpResponse:
    """A refused dish may come again."""
    by_hand.welcome(whose(), request.POST.get("dish", ""), now())
    return redirect("table")
