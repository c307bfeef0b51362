"""Dishes: the dish book."""

from __future__ import annotations

from itertools import groupby

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.safestring import mark_safe
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.kitchen import Attention, Course, Heat, Technique, Vessel
from chauka.publishing import sheet_html
from chauka.services import dishes as service
from chauka.services import new_dish, taught
from chauka.services import page as write_ups
from chauka.store import books
from chauka.web.common import now, page, whose


@page
def catalogue(request: HttpRequest) -> HttpResponse:
    """All dishes by course."""
    courses = [(course, list(of_it)) for course, of_it in groupby(service.catalogue(whose()), lambda d: d.dish.course)]
    return render(request, "dishes/catalogue.html", {"courses": courses})


@page
def show(request: HttpRequest, dish: str) -> HttpResponse:
    """One dish as its sheet."""
    made = write_ups.write_up(whose(), dish).write_up
    # The sheet's own template escapes everything that people wrote.
    sheet = mark_safe(sheet_html(made, bare=True))  # noqa: S308
    return render(request, "dishes/show.html", {"made": made, "sheet": sheet})


@page
def new(request: HttpRequest) -> HttpResponse:
    """Paste or tell a dish."""
    return render(request, "dishes/paste.html")


@require_POST
@page
def read(request: HttpRequest) -> HttpResponse:
    """The text as a form, with the questions that a careful editor would ask."""
    text = request.POST.get("text", "")
    try:
        form = new_dish.from_text(text, books.load_book(whose()), taught.meant(whose()))
    except InputError as error:
        context = {"text": text, "complaints": error.fields}
        return render(request, "dishes/paste.html", context, status=422)
    return _written(request, form)


_STEP_FIELDS = ("text", "minutes", "technique", "attention", "vessel", "heat", "lines", "ahead")


@require_POST
@page
def write(request: HttpRequest) -> HttpResponse:
    """Look at the form again, or keep the dish."""
    said = request.POST
    columns = zip(*(said.getlist(f"step-{field}") for field in _STEP_FIELDS), strict=False)
    steps = [dict(zip(_STEP_FIELDS, row, strict=True)) for row in columns]
    form = new_dish.from_fields({k: str(v) for k, v in said.dict().items()}, said.getlist("line"), steps)
    if said.get("do") != "keep":
        return _written(request, new_dish.looked_at(form, books.load_book(whose()), taught.meant(whose())))
    try:
        kept = new_dish.keep(whose(), form, now())
    except InputError as error:
        return _written(request, new_dish.looked_at(form, books.load_book(whose()), taught.meant(whose())), error)
    return redirect("dishes-show", dish=kept.id)


def _written(request: HttpRequest, form: new_dish.DishForm, error: InputError | None = None) -> HttpResponse:
    context = {
        "form": form,
        "complaints": error.fields if error else {},
        "courses": list(Course),
        "techniques": list(Technique),
        "attentions": list(Attention),
        "vessels": list(Vessel),
        "heats": list(Heat),
        "empty_step": new_dish.StepForm(""),
    }
    return render(request, "dishes/write.html", context, status=422 if error else 200)
