"""Shelf: what is in the house, until when and why; what came in, and what happened to it."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST

from chauka.errors import InputError
from chauka.kitchen import Deed, Place
from chauka.services import photos, shelf_labels, typed
from chauka.services import shelf as service
from chauka.services.shelf import Freshness, ShelfLot
from chauka.services.shelf_labels import LabelSize
from chauka.web.common import now, page, whose
from chauka.web.figures.shelf_figure import shelf_figure
from chauka.web.remember import remembered

ORDER = (Place.FRIDGE, Place.COUNTER, Place.CUPBOARD, Place.FREEZER)
LONG_DAYS = 45
"""What keeps longer than this is folded away: nobody looks at the salt every morning."""


@dataclass(frozen=True, slots=True)
class Standing:
    """One place: the lots that ask for attention, and those that keep for months."""

    place: Place
    near: tuple[ShelfLot, ...]
    long: tuple[ShelfLot, ...]


@page
def view(request: HttpRequest) -> HttpResponse:
    """Every lot by place, first expired first."""
    return _shown(request)


def _shown(request: HttpRequest, *, typed_in: str = "", complaint: InputError | None = None) -> HttpResponse:
    household, moment = whose(), now()
    shelf = remembered("shelf", household, moment, lambda: service.view(household, moment))
    places = [_standing(place, shelf.at_place(place)) for place in ORDER]
    context = {
        "places": [p for p in places if p.near or p.long],
        "typed": typed_in,
        "complaints": complaint.fields if complaint else {},
        "today": moment.date(),
        "figure": shelf_figure(shelf.lots, moment),
        "pictures": photos.of_lots(household, {one.lot.id for one in shelf.lots}),
    }
    return render(request, "shelf/view.html", context, status=422 if complaint else 200)


def _standing(place: Place, lots: tuple[ShelfLot, ...]) -> Standing:
    long = tuple(one for one in lots if one.days_left > LONG_DAYS and one.freshness is Freshness.GOOD)
    return Standing(place, tuple(one for one in lots if one not in long), long)


@page
def labels(request: HttpRequest) -> HttpResponse:
    """Labels of the lots that were ticked, as PDF."""
    size = request.GET.get("size", LabelSize.SMALL)
    if size not in set(LabelSize):
        raise InputError({"labels": (f"{size!r} is no size; there are {', '.join(LabelSize)}",)})
    made = shelf_labels.of_shelf(whose(), frozenset(request.GET.getlist("lot")), LabelSize(size), now())
    return HttpResponse(
        made.data, content_type="application/pdf", headers={"Content-Disposition": f'inline; filename="{made.name}"'}
    )


@require_POST
@page
def add(request: HttpRequest) -> HttpResponse:
    """Put what was typed on the shelf; what is not understood is asked about, the text kept."""
    text = request.POST.get("text", "")
    try:
        typed.add(whose(), text, now())
    except InputError as error:
        return _shown(request, typed_in=text, complaint=error)
    return redirect("shelf")


_DEEDS = {"used": Deed.USED, "eaten": Deed.EATEN, "binned": Deed.BINNED}


@require_POST
@page
def log(request: HttpRequest, lot: str) -> HttpResponse:
    """Some of a lot was used, eaten or binned; or it was opened or now stands elsewhere."""
    said = request.POST.get("deed", "")
    if said == "opened":
        service.open_lot(whose(), lot, now())
    elif said in _DEEDS:
        amount = request.POST.get("amount", "").strip() or None
        service.log(whose(), lot, _DEEDS[said], now(), amount=amount, why=request.POST.get("why", "").strip())
    elif said in {str(place) for place in Place}:
        service.move(whose(), lot, Place(said), now())
    else:
        raise InputError({"deed": (f"{said!r} is none of opened, {', '.join(_DEEDS)}",)})
    return redirect("shelf")
