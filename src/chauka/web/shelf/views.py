"""Shelf: what is in the house, until when and why; and what happened to it."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.kitchen import Deed, Place
from chauka.services import shelf as service
from chauka.web.common import now, page, whose


@page
def view(request: HttpRequest) -> HttpResponse:
    """Every lot by place, first expired first."""
    shelf = service.view(whose(), now())
    places = [(place, shelf.at_place(place)) for place in Place]
    return render(request, "shelf/view.html", {"places": [(p, lots) for p, lots in places if lots]})


_DEEDS = {"used": Deed.USED, "eaten": Deed.EATEN, "binned": Deed.BINNED}


@require_POST
@page
def log(request: HttpRequest, lot: str) -> HttpResponse:
    """Some of a lot was used, eaten or binned."""
    said = request.POST.get("deed", "")
    if said not in _DEEDS:
        raise InputError({"deed": (f"{said!r} is none of {', '.join(_DEEDS)}",)})
    amount = request.POST.get("amount", "").strip() or None
    service.log(whose(), lot, _DEEDS[said], now(), amount=amount, why=request.POST.get("why", "").strip())
    return redirect("shelf")
