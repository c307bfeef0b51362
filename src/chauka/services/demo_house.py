"""The demo house: loaded afresh into a book of its own."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

from chauka import demo
from chauka.errors import InputError
from chauka.kitchen import Book
from chauka.store import dump, models
from chauka.store.models import Household


def load(now: datetime) -> Household:
    """Write the demo house into this book as it is on that day, in place of the one loaded before.

    Refuses a book that holds any other household: the demo never touches one's own.
    """
    book = on(now.date())
    others = [h.name for h in models.Household.objects.all() if h.name != book.house.name]
    if others:
        raise InputError({"demo": (f"this book is of {', '.join(others)}; the demo goes only into a book of its own",)})
    empty = {"gone_lots": (), "actions": (), "prices": (), "plans": ()}
    return dump.restore(dump.Dump(house=book.house, dishes=book.dishes, offers=book.offers, lots=book.lots, **empty))


def on(day: date) -> Book:
    """The demo book with its shelf and dated rules moved from the demo's own first day to another."""
    book = demo.book()
    shift = day - demo.START
    if not shift:
        return book
    return replace(
        book,
        lots=tuple(replace(lot, since=_later(lot.since, shift)) for lot in book.lots),
        house=replace(
            book.house,
            rules=tuple(replace(r, on=r.on + shift) if r.on else r for r in book.house.rules),
        ),
    )


def _later(at: datetime, shift: timedelta) -> datetime:
    return at + shift
