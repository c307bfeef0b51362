"""Whether chauka is well: its book answers, and whoever plans is heard of. Nothing of what is in the book."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from django.db import DatabaseError

from chauka import __version__
from chauka.services import running
from chauka.services.running import Worker
from chauka.store.models import Household

ANSWERS = "answers"
UNKNOWN = "not known"
_WORST_FIRST = (Worker.SILENT, Worker.ALIVE)


@dataclass(frozen=True, slots=True)
class Health:
    """The version; whether the book answers, or why not; and `worker`: idle, alive or silent."""

    chauka: str
    book: str
    worker: str

    @property
    def well(self) -> bool:
        """Whether the book answers. A silent worker is replaced by the next page that looks at the plan."""
        return self.book == ANSWERS


def view() -> Health:
    """How things stand, at the cost of two small queries for each house."""
    try:
        return Health(__version__, ANSWERS, _worker())
    except DatabaseError as error:
        return Health(__version__, f"does not answer ({type(error).__name__})", UNKNOWN)


def _worker() -> StrEnum:
    """The worst of all houses of the book; mostly there is one."""
    found = {running.worker(household) for household in Household.objects.all()}
    return next((state for state in _WORST_FIRST if state in found), Worker.IDLE)
