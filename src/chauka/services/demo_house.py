"""The demo house: loaded afresh into a book of its own."""

from __future__ import annotations

from datetime import datetime

from chauka import demo
from chauka.errors import InputError
from chauka.store import dump, models
from chauka.store.models import Household


def load(now: datetime) -> Household:
    """Write the demo house into this book as it stands on that morning, in place of the one loaded before.

    Refuses a book that holds any other household: the demo never touches one's own.
    """
    book = demo.written(now.date())
    others = [h.name for h in models.Household.objects.all() if h.name != book.house.name]
    if others:
        complaint = f"this book is of {', '.join(others)}; the demo goes only into a book of its own (--book FILE)"
        raise InputError({"demo": (complaint,)})
    return dump.restore(
        dump.Dump(
            house=book.house,
            dishes=book.dishes,
            offers=book.offers,
            lots=book.lots,
            gone_lots=(),
            actions=(),
            prices=(),
            plans=(),
        )
    )
