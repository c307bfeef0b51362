"""Labels for what stands on the shelf, on sheets to print."""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime

from chauka import publishing
from chauka.errors import InputError
from chauka.publishing.lists import Face, LabelSize, faces_pdf, until
from chauka.services import shelf, words
from chauka.services.prints import Printed, season_name
from chauka.store.models import Household

__all__ = ["LabelSize", "of_shelf"]


def of_shelf(household: Household, lots: Collection[str], size: LabelSize, now: datetime) -> Printed:
    """One label for each of the lots, in the order of the shelf. Raises `InputError` where none is named."""
    chosen = [one for one in shelf.view(household, now).lots if one.lot.id in lots]
    if not chosen:
        raise InputError({"labels": ("tick at least one thing that stands on the shelf",)})
    look = publishing.style(publishing.HOUSE_STYLE, season=season_name(now.date()))
    faces = [_face(one) for one in chosen]
    return Printed(f"labels-{size}.pdf", faces_pdf(faces, title="Shelf labels", size=size, look=look))


def _face(one: shelf.ShelfLot) -> Face:
    """The last day on which it may be planned is the day that the label says."""
    lot = one.lot
    last = datetime.combine(one.last_day, one.use_by.at.time()) if one.use_by.known else None
    return Face(
        name=one.name,
        what=f"{lot.form} · {words.weight(lot.grams)}",
        until=until(last),
        packed=f"since {words.day(lot.since.date())}, {lot.place}",
    )
