"""Ledger: what was done, and taking it back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.services import past, weeks
from chauka.web.common import now, page, whole, whose
from chauka.web.figures.weeks_figure import weeks_figure
from chauka.web.remember import remembered


@page
def view(request: HttpRequest) -> HttpResponse:
    """The last actions, the newest first."""
    before = request.GET.get("before")
    seen = past.view(whose(), None if before is None else whole(before, "before"))
    return render(request, "ledger/view.html", {"seen": seen})


@page
def by_week(request: HttpRequest) -> HttpResponse:
    """Money and waste week by week."""
    household, moment = whose(), now()
    seen = remembered("weeks", household, moment, lambda: weeks.view(household, moment))
    return render(request, "ledger/weeks.html", {"seen": seen, "figure": weeks_figure(seen)})


@require_POST
@page
def take_back(request: HttpRequest) -> HttpResponse:
    """Take one action back."""
    past.take_back(whose(), whole(request.POST.get("number", ""), "action"), now())
    return redirect("ledger")
