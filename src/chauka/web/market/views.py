"""Market: what to buy on which day, and what was really bought."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.services import market as service
from chauka.web.common import now, page, whose


@page
def lists(request: HttpRequest) -> HttpResponse:
    """The market lists of the plan in force."""
    return render(request, "market/lists.html", {"lists": service.lists(whose(), now())})


@require_POST
@page
def buy(request: HttpRequest) -> HttpResponse:
    """Write down what was bought and paid."""
    paid = request.POST.get("paid", "")
    try:
        coins = round(float(paid) * 100)
    except (ValueError, OverflowError):
        raise InputError({"paid": (f"{paid!r} is no sum of money; write it as in 45 or 45.50",)}) from None
    service.buy(whose(), request.POST.get("food", ""), request.POST.get("amount", ""), coins, now())
    return redirect("market")
