"""House: people, equipment, measures, temperatures, money and rules, and changing them."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka import season, tables
from chauka.kitchen import Condition, Meal, RuleKind, Sex, Technique, Vessel
from chauka.services import foods, restoring
from chauka.services import house as service
from chauka.services import house_changes as changes
from chauka.services import kitchen_changes as kitchen
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
        "allergens": sorted({row["allergen"] for row in tables.rows("food_allergens")}),
        "food_names": {code: foods.short(code) for person in seen.house.people for code in person.aversions},
        "vessel_kinds": list(Vessel),
        "techniques": list(Technique),
        "cooks": [(one, [t for t in Technique if t in one.cannot]) for one in seen.house.crew],
        "regions": season.regions(),
        "meal_rows": kitchen.meal_rows(seen.house),
        "copies": len(restoring.there()),
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
def vessels(request: HttpRequest) -> HttpResponse:
    """Set the vessels, all at once."""
    said = request.POST
    rows = zip(said.getlist("kind"), said.getlist("count"), said.getlist("litres"), strict=False)
    kitchen.set_vessels(whose(), list(rows), now())
    return redirect("house")


@require_POST
@page
def cook(request: HttpRequest) -> HttpResponse:
    """Set down someone who cooks, new or changed, put one first, or take one off."""
    said, household, at = request.POST, whose(), now()
    if "remove" in said:
        kitchen.remove_cook(household, whole(said["remove"], "cook"), at)
    elif "first" in said:
        kitchen.put_cook_first(household, whole(said["first"], "cook"), at)
    else:
        number = whole(said["number"], "cook") if said.get("number") else None
        described = kitchen.read_cook(said.get("name", ""), said.get("pace", ""), said.getlist("cannot"))
        kitchen.set_cook(household, number, described, at)
    return redirect("house")


@require_POST
@page
def region(request: HttpRequest) -> HttpResponse:
    """Set whose calendar of seasons the house goes by."""
    changes.set_region(whose(), request.POST.get("region", ""), now())
    return redirect("house")


@require_POST
@page
def meals(request: HttpRequest) -> HttpResponse:
    """Set when one meal is eaten on some weekdays."""
    said = request.POST
    days = [whole(day, "weekday") for day in said.getlist("day")]
    at, minutes = said.get("at", ""), said.get("minutes", "")
    kitchen.set_meal(whose(), said.get("meal", ""), days, now(), at=at, minutes=minutes)
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
    for several in ("conditions", "allergies"):
        said[several] = "|".join(request.POST.getlist(several))
    book = books.load_book(household)
    disliked = (word.strip() for word in said.get("aversions", "").split(","))
    said["aversions"] = "|".join(foods.resolve(word, book) for word in disliked if word)
    changes.set_person(household, changes.read_person(said, book.house), now())
    return redirect("house")
