"""Bench: what to clean, soak, cut and boil ahead, and the labels of the boxes."""

from __future__ import annotations

from itertools import groupby

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from chauka.services import bench as service
from chauka.web.common import now, page, whose
from chauka.web.remember import remembered


@page
def view(request: HttpRequest) -> HttpResponse:
    """The bench list of the plan in force, by day."""
    household, moment = whose(), now()
    bench = remembered("bench", household, moment, lambda: service.view(household, moment)).bench
    days = [(day, list(of_it)) for day, of_it in groupby(bench.entries, lambda e: e.start.date())]
    return render(request, "bench/view.html", {"days": days, "labels": bench.labels})
