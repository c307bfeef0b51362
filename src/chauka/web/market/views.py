"""Market: what to buy on which day, and what was really bought."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST

from chauka.services import good_now, ticks, words
from chauka.web.common import coins, now, page, ticked, whole, whose
from chauka.web.remember import remembered


@page
def lists(request: HttpRequest) -> HttpResponse:
    """The market lists of the plan in force, and what is good at the market now."""
    household, moment = whose(), now()
    seen = remembered("market", household, moment, lambda: ticks.lists(household, moment))
    listed = frozenset(item.food for day in seen.days for item in day.items)
    good = remembered("good now", household, moment, lambda: good_now.view(household, moment, listed))
    context = {
        "lists": seen,
        "good_now": good,
        "spent": seen.spent,
        "coin": words.sign(seen.currency),
    }
    return render(request, "market/lists.html", context)


@require_POST
@page
def tick(request: HttpRequest) -> HttpResponse:
    """An item was bought, as listed or otherwise, or was not after all; sent twice it counts once."""
    return ticked(request, _tick, "market")


def _tick(request: HttpRequest) -> None:
    said = request.POST
    plan = whole(said.get("plan", ""), "plan")
    if "untick" in said:
        ticks.unbuy(whose(), plan, said["untick"], now())
        return
    paid = said.get("paid", "").strip()
    ticks.buy(
        whose(),
        plan,
        said.get("tick", ""),
        now(),
        amount=said.get("amount", "").strip(),
        paid=coins(paid, "paid") if paid else None,
        instead=said.get("instead", ""),
    )
