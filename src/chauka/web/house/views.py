"""House: people, equipment, measures, temperatures, money and rules."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from chauka.services import house as service
from chauka.web.common import now, page, whose


@page
def view(request: HttpRequest) -> HttpResponse:
    """The house as the book has it, and what is wrong with the book."""
    moment = now()
    seen = service.view(whose())
    people = [(p, int(p.age_years(moment.date()))) for p in seen.house.people]
    return render(
        request, "house/view.html", {"seen": seen, "people": people, "faults": service.check(whose(), moment)}
    )
