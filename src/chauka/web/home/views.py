"""Today: the season wheel and one short column of what to do."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from chauka.services import today as service
from chauka.web.common import now, page, whose
from chauka.web.home.season_wheel import WheelItem, season_wheel

STATES = (("best", "At its best"), ("leaving", "Leaving"), ("coming", "Coming"))


@page
def today(request: HttpRequest) -> HttpResponse:
    """What the season has, what to use first, what is on the table today."""
    seen = service.view(whose(), now())
    wheel = [WheelItem(item.name, item.months, item.state.value) for item in seen.season if not item.all_year]
    return render(
        request,
        "home/today.html",
        {"seen": seen, "wheel": season_wheel(wheel, seen.at.date()), "states": STATES},
    )
