"""Dishes: writing one down from any text, and changing one that is in the book."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.kitchen import Attention, Course, Heat, Place, Served, Technique, Vessel
from chauka.services import dish_form, edit_dish, new_dish, taught
from chauka.services.dish_form import DishForm, StepForm
from chauka.store import books
from chauka.web.common import now, page, whose

_STEP_FIELDS = (
    "text", "minutes", "technique", "attention", "vessel", "heat", "lines", "ahead", "until", "whistles", "origin",
)  # fmt: skip
_WORDS = {
    "courses": list(Course),
    "techniques": list(Technique),
    "attentions": list(Attention),
    "vessels": list(Vessel),
    "heats": list(Heat),
    "places": list(Place),
    "serveds": list(Served),
    "empty_step": StepForm(""),
}


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


@require_POST
@page
def write(request: HttpRequest) -> HttpResponse:
    """Look at the form again, or keep the dish."""
    form = _form(request.POST)
    if request.POST.get("do") != "keep":
        return _written(request, _rearranged(new_dish.looked_at(whose(), form), request.POST))
    try:
        kept = new_dish.keep(whose(), form, now())
    except InputError as error:
        return _written(request, new_dish.looked_at(whose(), form), error)
    return redirect("dishes-show", dish=kept.id)


def _written(request: HttpRequest, form: DishForm, error: InputError | None = None) -> HttpResponse:
    context = {"form": form, "complaints": error.fields if error else {}, **_WORDS}
    return render(request, "dishes/write.html", context, status=422 if error else 200)


@page
def edit(request: HttpRequest, dish: str) -> HttpResponse:
    """A dish of the book as a form."""
    form = edit_dish.form_of(whose(), dish)
    return _changing(request, dish, {"form": form, "mark": edit_dish.mark_of(whose(), dish)})


@require_POST
@page
def change(request: HttpRequest, dish: str) -> HttpResponse:
    """Look at the changed form again, with what it would change, or keep it."""
    form, mark = _form(request.POST), request.POST.get("mark", "")
    error = None
    if request.POST.get("do") == "keep":
        try:
            edit_dish.keep(whose(), dish, form, mark, now())
            return redirect("dishes-show", dish=dish)
        except InputError as caught:
            error = caught
    looked = edit_dish.looked_at(whose(), dish, form)
    context = {
        "form": _rearranged(looked.form, request.POST), "mark": mark, "changes": looked.changes,
        "remarks": looked.remarks, "looked": True, "complaints": error.fields if error else {},
    }  # fmt: skip
    return _changing(request, dish, context, 422 if error else 200)


def _changing(request: HttpRequest, dish: str, context: dict[str, Any], status: int = 200) -> HttpResponse:
    name = books.load_book(whose()).dish(dish).name
    return render(
        request, "dishes/write.html", {"complaints": {}, **_WORDS, **context, "dish": dish, "was": name}, status=status
    )


def _form(said: QueryDict) -> DishForm:
    columns = zip(*(said.getlist(f"step-{field}") for field in _STEP_FIELDS), strict=False)
    steps = [dict(zip(_STEP_FIELDS, row, strict=True)) for row in columns]
    rows = zip(said.getlist("line"), said.getlist("line-origin"), strict=False)
    lines = [{"text": text, "origin": origin} for text, origin in rows]
    words = {k: str(v) for k, v in said.dict().items()}
    return dish_form.from_fields(words, lines, steps, said.getlist("question"))


def _rearranged(form: DishForm, said: QueryDict) -> DishForm:
    """A step moved up, or room made below one, where a button asked for it."""
    what, _, number = said.get("do", "").partition(" ")
    if not (number.isascii() and number.isdigit() and len(number) <= 4):
        return form
    if what == "up":
        return dish_form.moved_up(form, int(number))
    return dish_form.with_step_below(form, int(number)) if what == "below" else form
