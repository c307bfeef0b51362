"""One day of the table: who comes, who is away, what the day forbids."""

from __future__ import annotations

from datetime import date

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.kitchen import DayRule, Meal, RuleKind
from chauka.services import house_changes as changes
from chauka.store import books
from chauka.web.common import now, page, whole, whose


@page
def view(request: HttpRequest, day: str) -> HttpResponse:
    """The rules that hold on a day, and a form for each kind."""
    on, house = _day(day), books.load_book(whose()).house
    meals = [when.meal for when in house.meal_times if when.weekday == on.weekday()]
    context = {
        "day": on,
        "rules": [(number, rule) for number, rule in enumerate(house.rules) if _falls_on(rule, on)],
        "people": house.people,
        "names": {person.id: person.name for person in house.people},
        "meals": sorted(meals, key=lambda meal: meal.order) or list(Meal),
        "forbids": (RuleKind.NO_ONION_GARLIC, RuleKind.FAST),
    }
    return render(request, "table/day.html", context)


@require_POST
@page
def change(request: HttpRequest, day: str) -> HttpResponse:
    """Add a rule of this one day, or take one off; the plan is made anew when the cook asks for it."""
    on, said = _day(day), request.POST
    if "remove" in said:
        changes.remove_rule(whose(), whole(said["remove"], "rule"), now())
    else:
        away = frozenset(said.getlist("away"))
        rule = changes.read_rule(
            said.get("kind", ""), on.isoformat(), said.get("meal", ""), said.get("guests", ""), away
        )
        changes.add_rule(whose(), rule, now())
    return redirect("table-day", day=on.isoformat())


def _falls_on(rule: DayRule, on: date) -> bool:
    return any(rule.holds(on, meal) for meal in Meal)


def _day(said: str) -> date:
    try:
        return date.fromisoformat(said)
    except ValueError:
        raise InputError({"day": (f"{said!r} is no day; write it as in 2027-03-14",)}) from None
