"""Whether a household's book agrees with itself: the shelf with its ledger, every action whole."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator
from itertools import pairwise

from chauka.store import models, photos
from chauka.store.ledger import EMPTY_G
from chauka.store.models import Household

_NEAR_G = 1e-6


def disagreements(owner: Household) -> Iterator[tuple[str, str]]:
    """Thing and complaint, for everything that does not agree."""
    yield from _lots(owner)
    yield from _actions(owner)
    yield from _strays(owner)
    yield from _photos(owner)


def _lots(owner: Household) -> Iterator[tuple[str, str]]:
    """What a lot is must be what the last action that touched it left."""
    changes = models.Change.objects.of(owner).filter(kind="lot").order_by("pk")
    newest = dict(changes.values_list("key", "after").iterator())
    rows = {row.key: row for row in models.Lot.objects.of(owner)}
    for key, said in newest.items():
        row = rows.get(key)
        if row is None:
            if said is not None:
                yield f"lot {key}", "is in the ledger and not on the shelf"
        elif (said is None) != row.gone:
            yield f"lot {key}", f"is {'gone' if row.gone else 'there'}, and its last action says otherwise"
        elif said is not None and abs(said["grams"] - row.grams) > _NEAR_G:
            yield f"lot {key}", f"holds {row.grams:g} g, and its last action left {said['grams']:g} g"
    for row in rows.values():
        if not row.gone and row.grams < -EMPTY_G:
            yield f"lot {row.key}", f"holds {row.grams:g} g, which is less than nothing"


def _actions(owner: Household) -> Iterator[tuple[str, str]]:
    numbers = list(models.Action.objects.of(owner).order_by("pk").values_list("number", flat=True))
    if any(later <= earlier for earlier, later in pairwise(numbers)):
        yield "ledger", "its actions are not numbered in the order in which they were done"


def _strays(owner: Household) -> Iterator[tuple[str, str]]:
    """Rows of an action of another household."""
    for table in (models.LedgerRow, models.Change):
        stray = table.objects.of(owner).exclude(action__household=owner).count()
        if stray:
            yield "ledger", f"{stray} of its rows belong to actions of another household"


def _photos(owner: Household) -> Iterator[tuple[str, str]]:
    """Every photo must fit the sum by which it is known, and what is shown must be there."""
    there = set()
    for row in models.Photo.objects.of(owner).iterator(chunk_size=50):
        there.add(row.digest)
        if hashlib.sha256(bytes(row.data)).hexdigest() != row.digest:
            yield f"photo {row.digest[:12]}", "is damaged: its bytes do not fit their sum"
    for key, photo in photos.all_shown(owner, "").items():
        if photo.digest not in there:
            yield key, "should show a photo that is gone"
