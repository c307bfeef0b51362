"""Bench: what to clean, soak, cut and boil ahead, and the labels of the boxes."""

from __future__ import annotations

from itertools import groupby

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from chauka.services import bench as service
from chauka.web.common import now, page, whose


@page
def view(request: HttpRequest) -> HttpResponse:
    """The bench list of the plan in force, by day."""
    bench = service.view(whose(), now()).bench
    days = [(day, list(of_it)) for day, of_it in groupby(bench.entries, lambda e: e.start.date())]
    return render(request, "bench/view.html", {"days": days, "labels": bench.labels})
