"""Everything of the house in one file, and back."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from chauka.store import dump as store_dump
from chauka.store import opening
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class Dumped:
    """A dump written or read: where, of which house, how much of each, and the copy made before."""

    path: Path
    house: str
    counts: Mapping[str, int]
    copy: Path | None = None


def dump(household: Household, path: Path, now: datetime) -> Dumped:
    """Write everything of the household to one JSON file, whole or not at all."""
    made = store_dump.write(household, path, now)
    return Dumped(path, made.house.name, store_dump.counts(made))


def restore(path: Path, *, replace: bool = False) -> Dumped:
    """Bring a dump in: read and checked in full first, then written in one transaction.

    A book file that already holds something is copied first. Raises `InputError` that names the
    place of the fault; then nothing was changed.
    """
    read = store_dump.read(path)
    copy = opening.copy_before_restore()
    store_dump.restore(read, over_another=replace)
    return Dumped(path, read.house.name, store_dump.counts(read), copy)
