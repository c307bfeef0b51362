"""Answers that stay the same until somebody does something: computed once, kept in this process."""

from __future__ import annotations

import threading
from collections.abc import Callable, Hashable
from datetime import datetime
from typing import TypeVar

from django.db import connection
from django.utils.translation import get_language

from chauka.store import books
from chauka.store.models import Household

T = TypeVar("T")
MOST_KEPT = 32
_kept: dict[Hashable, object] = {}
_making = threading.RLock()
"""Several phones that ask for the same wait for one answer instead of working it out each."""


def remembered(what: str, household: Household, now: datetime, make: Callable[[], T]) -> T:
    """What `make` gives, kept until the household's next action or the next hour, for each language."""
    hour = now.replace(minute=0, second=0, microsecond=0)
    file = str(connection.settings_dict["NAME"])
    key = (what, file, household.pk, books.revision(household), hour, get_language())
    if connection.in_atomic_block or key[3] == 0:
        return make()
    with _making:
        if key not in _kept:
            while len(_kept) >= MOST_KEPT:
                _kept.pop(next(iter(_kept)), None)
            _kept[key] = make()
        found: T = _kept[key]  # type: ignore[assignment]
    return found
