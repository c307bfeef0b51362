"""House: people, equipment, measures, temperatures, money and rules, and changing them."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.kitchen import Condition, Meal, RuleKind, Sex
from chauka.services import house as service
from chauka.services import house_changes as changes
from chauka.store import books
from chauka.web.common import now, page, whole, whose


@page
def view(request: HttpRequest) -> HttpResponse:
    """The house as the book has it, what is wrong with the book, and a form beside each thing."""
    moment = now()
    seen = service.view(whose())
    written = changes.values(seen.house)
    context = {
        "seen": seen,
        "people": [(p, int(p.age_years(moment.date()))) for p in seen.house.people],
        "faults": service.check(whose(), moment),
        "settings": [(s, written.get(s.key, "")) for s in changes.SETTINGS],
        "weekdays": range(7),
        "kinds": list(RuleKind),
        "meals": list(Meal),
        "conditions": list(Condition),
        "sexes": list(Sex),
    }
    return render(request, "house/view.html", context)


@require_POST
@page
def numbers(request: HttpRequest) -> HttpResponse:
    """Set the numbers of the house."""
    changes.set_numbers(whose(), {key: str(value) for key, value in request.POST.dict().items()}, now())
    return redirect("house")


@require_POST
@page
def market(request: HttpRequest) -> HttpResponse:
    """Set the market days."""
    days = tuple(whole(day, "market days") for day in request.POST.getlist("day"))
    changes.set_market_days(whose(), days, now())
    return redirect("house")


@require_POST
@page
def rule(request: HttpRequest) -> HttpResponse:
    """Add a day rule, or take one off."""
    said = request.POST
    if "remove" in said:
        changes.remove_rule(whose(), whole(said["remove"], "rule"), now())
    else:
        day = said.get("on", "").strip() or said.get("weekday", "")
        away = frozenset(said.getlist("away"))
        made = changes.read_rule(said.get("kind", ""), day, said.get("meal", ""), said.get("guests", ""), away)
        changes.add_rule(whose(), made, now())
    return redirect("house")


@require_POST
@page
def person(request: HttpRequest) -> HttpResponse:
    """Set down a person, new or changed, or take one off."""
    household = whose()
    if "remove" in request.POST:
        changes.remove_person(household, request.POST["remove"], now())
        return redirect("house")
    said = {key: str(value) for key, value in request.POST.dict().items()}
    said["conditions"] = "|".join(request.POST.getlist("conditions"))
    changes.set_person(household, changes.read_person(said, books.load_house(household)), now())
    return redirect("house")
