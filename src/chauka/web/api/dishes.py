"""Dishes: the dish book, a dish from a text, its nutrients and its page data."""

from __future__ import annotations

import json

from django.http import HttpRequest, HttpResponse
from ninja import Router, Status

from chauka.services import dishes, new_dish, nutrients, page, taught
from chauka.services.dish_form import DishForm, LineForm, StepForm
from chauka.store import books
from chauka.web.api import answers, shapes
from chauka.web.api.problems import answers as problems
from chauka.web.api.problems import found
from chauka.web.common import now, whose

router = Router(tags=["dishes"])


@router.get("", response={200: list[answers.DishBrief], **problems(409)})
def catalogue(request: HttpRequest) -> list[answers.DishBrief]:
    """All dishes, by course and name."""
    return [answers.DishBrief.of(one) for one in dishes.catalogue(whose())]


@router.post("/read", response={200: answers.DishRead, **problems(409)})
def read(request: HttpRequest, said: shapes.SaidText) -> answers.DishRead:
    """Read a recipe, a narration or a web page as a dish, with an editor's questions; keeps nothing."""
    household = whose()
    form = new_dish.from_text(said.text, books.load_book(household), taught.meant(household))
    return answers.DishRead.model_validate(form, from_attributes=True)


@router.post("", response={201: answers.Dish, **problems(409)})
def add(request: HttpRequest, said: shapes.DishSaid) -> Status[answers.Dish]:
    """Put a dish into the book; what is unclear about it is told, and nothing is kept."""
    form = DishForm(
        name=said.name,
        course=said.course,
        portions=f"{said.portions:g}",
        lines=tuple(LineForm(text) for text in said.lines),
        steps=tuple(StepForm(**step.model_dump()) for step in said.steps),
    )
    household = whose()
    kept = new_dish.keep(household, form, now())
    return Status(201, answers.Dish.of(dishes.show(household, kept.id)))


@router.get("/{dish}", response={200: answers.Dish, **problems(404, 409)})
def show(request: HttpRequest, dish: shapes.Key) -> answers.Dish:
    """One dish with everything known about it."""
    return answers.Dish.of(dishes.show(whose(), _there(dish)))


@router.get("/{dish}/nutrients", response={200: answers.Nutrients, **problems(404, 409)})
def what_it_gives(request: HttpRequest, dish: shapes.Key) -> answers.Nutrients:
    """What one portion gives, with its spread."""
    return answers.Nutrients.of(nutrients.of_dish(whose(), _there(dish)))


_JSON_LD = {
    "200": {"description": "schema.org Recipe", "content": {"application/ld+json": {"schema": {"type": "object"}}}}
}


@router.get("/{dish}/page-data", response=problems(404, 409), openapi_extra={"responses": _JSON_LD})
def page_data(request: HttpRequest, dish: shapes.Key) -> HttpResponse:
    """The dish as schema.org Recipe data (JSON-LD) for a web page; chauka reads it back whole."""
    data = page.write_up(whose(), _there(dish)).data
    return HttpResponse(json.dumps(data, ensure_ascii=False, indent=1), content_type="application/ld+json")


def _there(dish: str) -> str:
    return found(dish, (one.id for one in books.load_book(whose()).dishes), "dish")
