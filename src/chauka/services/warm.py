"""Read the large tables before the first page is asked for, so that nobody waits for them."""

from __future__ import annotations

from datetime import datetime

from django.db import connection

from chauka.errors import ChaukaError
from chauka.services import ticks, today
from chauka.store import books


def warm(now: datetime) -> None:
    """Do once what the first pages need: food tables, the book, the season, the shelf, the market list.

    What cannot be done yet (an empty book, no plan) is no fault here; the page itself says so.
    """
    try:
        household = books.household()
        today.view(household, now)
        ticks.lists(household, now)
    except ChaukaError:
        pass
    finally:
        connection.close()
