"""Bench: what to clean, soak, cut and boil ahead, and the labels of the boxes."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST

from chauka.services import bench_ticks
from chauka.web.common import now, page, ticked, whole, whose
from chauka.web.remember import remembered


@page
def view(request: HttpRequest) -> HttpResponse:
    """The bench list of the plan in force, by day."""
    household, moment = whose(), now()
    bench = remembered("bench", household, moment, lambda: bench_ticks.view(household, moment))
    return render(request, "bench/view.html", {"bench": bench})


@require_POST
@page
def tick(request: HttpRequest) -> HttpResponse:
    """A line is done, or is not after all."""
    return ticked(request, _tick, "bench")


def _tick(request: HttpRequest) -> None:
    said = request.POST
    key = said.get("tick") or said.get("untick", "")
    bench_ticks.tick(whose(), whole(said.get("plan", ""), "plan"), key, now(), done="tick" in said)
