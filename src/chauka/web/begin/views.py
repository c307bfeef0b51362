"""The first run: the demo house in one click, or five questions."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.services import demo_house, first_run, running
from chauka.web.common import now, page
from chauka.web.table.views import DAYS, SECONDS


@page
def ask(request: HttpRequest) -> HttpResponse:
    """The five questions; a book that has a house goes on to today."""
    return _asked(request) if first_run.is_empty() else redirect("home")


def _asked(request: HttpRequest, complaint: InputError | None = None) -> HttpResponse:
    said = {field: request.POST.get(field, "") for field in first_run.QUESTIONS}
    said["market"] = "".join(request.POST.getlist("market"))
    context = {"said": said, "complaints": complaint.fields if complaint else {}, "weekdays": range(7)}
    return render(request, "begin/ask.html", context, status=422 if complaint else 200)


@require_POST
@page
def own(request: HttpRequest) -> HttpResponse:
    """Make the house of the five answers, and begin to plan its first days."""
    said = {**request.POST.dict(), "market": "".join(request.POST.getlist("market"))}
    moment = now()
    try:
        household = first_run.begin({key: str(value) for key, value in said.items()}, moment)
    except InputError as error:
        return _asked(request, error)
    running.start(household, running.Asked(moment.date(), moment, DAYS, SECONDS))
    return redirect("table")


@require_POST
@page
def demo(_request: HttpRequest) -> HttpResponse:
    """Load the demo house into this empty book, and begin to plan its days."""
    if not first_run.is_empty():
        return redirect("home")
    moment = now()
    running.start(demo_house.load(moment), running.Asked(moment.date(), moment, DAYS, SECONDS))
    return redirect("table")
