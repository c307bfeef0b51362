"""Today: the season wheel and one short column of what to do."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import get_language
from django.utils.translation import gettext_lazy as _

from chauka.services import foods
from chauka.services import today as service
from chauka.web.common import now, page, whose
from chauka.web.home.season_wheel import WheelItem, season_wheel
from chauka.web.remember import remembered

STATES = (("best", _("At its best")), ("leaving", _("Leaving")), ("coming", _("Coming")))


SEASONAL_MONTHS = 6
"""What the market has for half a year or less stands on the wheel; the rest would only crowd it."""


@page
def today(request: HttpRequest) -> HttpResponse:
    """What the season has, what to use first, what is on the table today."""
    household, moment = whose(), now()
    seen = remembered("today", household, moment, lambda: service.view(household, moment))
    wheel = [
        WheelItem(
            foods.in_language(i.food, get_language() or "en", i.name),
            i.months,
            i.state.value,
            reverse("food", args=[i.food]),
        )
        for i in seen.season
        if len(i.months) <= SEASONAL_MONTHS
    ]
    return render(
        request,
        "home/today.html",
        {"seen": seen, "wheel": season_wheel(wheel, seen.at.date()), "states": STATES},
    )
