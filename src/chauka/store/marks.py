"""Marks: small documents of the pages (an item ticked, an evening at the stove), kept as changes of an action.

The newest change of a key is what holds, so a mark is undone like anything else, and two phones
that look at one book see the same.
"""

from __future__ import annotations

from collections.abc import Mapping
from operator import itemgetter
from typing import Any

from django.db.models import QuerySet

from chauka.store import models
from chauka.store.ledger import Recorder
from chauka.store.models import Household

TICK = "tick"
"""An item of a market list that was bought."""

EVENING = "evening"
"""A sitting that is being cooked."""

DONE = "bench"
"""A line of the bench list that is done."""

NAME = "name"
"""A name that the house taught; its key is the name, what it says the food's code."""

FORGOTTEN = "forgotten"
"""A food whose logged days count no more up to a moment; its key is the food's code, what it says the moment."""

LOCK = "lock"
"""A dish of the table that stays; its key is day, meal and dish, as in `2027-03-14/dinner/spinach-dal`."""

REFUSED = "refused"
"""A dish that nobody wants for now; its key is the dish, what it says the last such day."""

COOKING = "cooking"
"""A time that a dish was cooked; its key is the dish and the action's number, as in `spinach-dal/214`."""

KINDS = frozenset({COOKING, LOCK, REFUSED, TICK, EVENING, DONE, NAME, FORGOTTEN})


def read(household: Household, kind: str, key: str) -> Any:
    """What the mark says; None where there is none or it was taken back."""
    found = models.Change.objects.of(household).filter(kind=kind, key=key).order_by("-pk").first()
    return None if found is None else found.after


def under(household: Household, kind: str, prefix: str) -> Mapping[str, Any]:
    """All marks whose key begins with `prefix`, without it; those taken back are left out."""
    found = models.Change.objects.of(household).filter(kind=kind, key__startswith=prefix)
    return {key.removeprefix(prefix): after for key, after in newest(found).items() if after is not None}


def newest(found: QuerySet[models.Change]) -> dict[str, Any]:
    """What the newest of the changes says of each key, in the order in which they were made."""
    rows = found.order_by().values_list("pk", "key", "after")  # put in order here: asked for it, SQLite reads all rows
    return {key: after for _, key, after in sorted(rows, key=itemgetter(0))}


def write(recorder: Recorder, kind: str, key: str, after: Any) -> None:
    """Set a mark, as part of an action; None takes it away."""
    recorder.changed(kind, key, read(recorder.household, kind, key), after)
