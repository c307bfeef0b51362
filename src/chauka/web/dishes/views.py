"""Dishes: the dish book."""

from __future__ import annotations

from itertools import groupby

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.safestring import mark_safe

from chauka.publishing import sheet_html
from chauka.services import dishes as service
from chauka.services import page as write_ups
from chauka.web.common import page, whose


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
