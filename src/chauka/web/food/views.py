"""One food, as the season wheel leads to it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from chauka.services import food_page
from chauka.web.common import now, page, whose
from chauka.web.food.price_line import price_line

MONTHS = (
    "January", "February", "March", "April", "May", "June", "July", "August", "September", "October", "November",
    "December",
)  # fmt: skip


@page
def view(request: HttpRequest, code: str) -> HttpResponse:
    """Season, keeping, dishes and prices of one food."""
    seen = food_page.view(whose(), code, now())
    months = [(name, number in seen.standing.months) for number, name in enumerate(MONTHS, 1)]
    context = {"seen": seen, "months": months, "line": price_line(seen.prices, seen.currency)}
    return render(request, "food/view.html", context)
