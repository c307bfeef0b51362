"""Dishes: the dish book, and one dish with everything that is known about it."""

from __future__ import annotations

from itertools import groupby
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.http import urlencode
from django.views.decorators.http import require_POST

from chauka.kitchen import Course
from chauka.services import after_cooking, dish_changes, dish_nutrition, dish_page, nutrients, photos
from chauka.services import dishes as service
from chauka.services.after_cooking import LIKING, Said
from chauka.web.common import now, page, whose
from chauka.web.remember import remembered

SHOWN_AT_ONCE = 160
"""A book of more dishes shows the first few of each course, until somebody looks for one."""
FEW = 12


@page
def catalogue(request: HttpRequest) -> HttpResponse:
    """All dishes by course, or those that some words mean."""
    return render(request, "dishes/catalogue.html", _found(request))


@page
def found(request: HttpRequest) -> HttpResponse:
    """The dishes that some words mean, to be put into the page while they are typed."""
    answer = render(request, "dishes/found.html", _found(request))
    answer["HX-Replace-Url"] = f"{reverse('dishes')}?{request.GET.urlencode()}" if request.GET else reverse("dishes")
    return answer


def _found(request: HttpRequest) -> dict[str, Any]:
    words, course = request.GET.get("q", "").strip(), request.GET.get("course", "")
    household = whose()
    all_of_it = remembered("dishes", household, now(), lambda: service.to_look_through(household))
    here = [one.line for one in all_of_it if course in ("", one.line.dish.course) and service.is_meant(one, words)]
    few = len(here) > SHOWN_AT_ONCE and not course
    courses = [
        (Course(name), dishes[:FEW] if few else dishes, len(dishes) - FEW if few else 0)
        for name, dishes in ((name, list(of_it)) for name, of_it in groupby(here, lambda d: d.dish.course))
    ]
    photographed = photos.of_dishes(household)
    return {
        "courses": courses, "q": words, "course": course, "count": len(here), "all": len(all_of_it),
        "every_course": list(Course), "photographed": photographed,
    }  # fmt: skip


@page
def show(request: HttpRequest, dish: str) -> HttpResponse:
    """One dish: for as many as eat, what it gives, what it looks like, how it went and how it came to be."""
    household, moment = whose(), now()
    seen = _for_so_many(request, dish)
    context = {
        "seen": seen,
        "photo": photos.of_dish(household, dish),
        "allergens": dish_page.allergens(seen.made),
        "remarks": remembered(f"remarks {dish}", household, moment, lambda: dish_page.remarks(household, dish)),
        "cookings": after_cooking.of_dish(household, dish),
        "versions": dish_changes.of_dish(household, dish),
        "liking": tuple(enumerate(LIKING, 1))[::-1],
        **_nutrition(request, dish),
    }
    return render(request, "dishes/show.html", context)


@page
def scaled(request: HttpRequest, dish: str) -> HttpResponse:
    """What goes in and what is done for other portions, to be put into the page."""
    answer = render(request, "dishes/scaled.html", {"seen": _for_so_many(request, dish)})
    asked = {name: request.GET[name] for name in ("portions", "line", "have") if request.GET.get(name)}
    where = reverse("dishes-show", args=[dish])
    answer["HX-Replace-Url"] = f"{where}?{urlencode(asked)}" if asked else where
    return answer


def _for_so_many(request: HttpRequest, dish: str) -> dish_page.DishView:
    household = whose()
    portions, line, have = (request.GET.get(name, "")[:40] for name in ("portions", "line", "have"))
    return remembered(
        f"dish {dish} {portions}/{line}/{have}", household, now(),
        lambda: dish_page.view(household, dish, portions, line, have),
    )  # fmt: skip


@page
def nutrition(request: HttpRequest, dish: str) -> HttpResponse:
    """What a portion gives against another person's needs, to be put into the page."""
    return render(request, "dishes/nutrition.html", _nutrition(request, dish))


def _nutrition(request: HttpRequest, dish: str) -> dict[str, Any]:
    household, moment, person = whose(), now(), request.GET.get("for", "")[:80]
    gives = remembered(
        f"nutrition {dish} {person}", household, moment,
        lambda: dish_nutrition.of_dish(household, dish, person, moment.date()),
    )  # fmt: skip
    return {"gives": gives, "dish_id": dish}


@page
def why(request: HttpRequest, dish: str, tag: str) -> HttpResponse:
    """Where one nutrient comes from: a page of its own, or a row opened in its place, or closed again."""
    place = request.GET.get("row", "")
    if place not in ("open", "closed"):
        return render(request, "dishes/why_page.html", {"why": nutrients.why(whose(), dish, tag), "dish_id": dish})
    context = _nutrition(request, dish)
    rows = (*context["gives"].chief, *context["gives"].others)
    reasons = nutrients.why(whose(), dish, tag)
    context |= {"row": next((row for row in rows if row.tag == reasons.tag), None)}
    context |= {"why": reasons} if place == "open" else {}
    return render(request, "dishes/nutrient.html", context)


@require_POST
@page
def cooked(request: HttpRequest, dish: str) -> HttpResponse:
    """Write down how it went."""
    said = request.POST
    liking = {key.removeprefix("liking-"): str(said[key]) for key in said if key.startswith("liking-")}
    after_cooking.write(
        whose(), dish,
        Said(said.get("portions", ""), said.get("minutes", ""), said.get("weight", ""), said.get("note", ""), liking),
        now(),
    )  # fmt: skip
    return redirect("dishes-show", dish=dish)
