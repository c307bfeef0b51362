"""Photos in the book: the bytes once, by their sum; which dish or lot shows which is a change of an action.

Bytes stay when a photo is taken off, so that taking back brings it back, whatever came between.
"""

from __future__ import annotations

import base64
import binascii
import hashlib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from chauka.errors import Complaints
from chauka.store import bulk, codec, marks, models
from chauka.store.ledger import Recorder
from chauka.store.models import Household

SHOWN = "photo"
"""The kind of the change by which something shows a photo; its key is `dish/…` or `lot/…`."""

_JPEG = b"\xff\xd8\xff"
_LARGEST_SIDE = 65_535


@dataclass(frozen=True, slots=True)
class Photo:
    """A photo as something shows it: the sum of its bytes, its size in pixels, and what it shows in words."""

    digest: str
    width: int
    height: int
    words: str


@dataclass(frozen=True, slots=True)
class KeptPhoto:
    """The bytes of one photo, in base 64; they are a JPEG and fit their sum."""

    digest: str
    width: int
    height: int
    data: str

    def __post_init__(self) -> None:
        bad = Complaints(f"photo {self.digest[:12]}")
        try:
            data = base64.b64decode(self.data, validate=True)
        except (binascii.Error, ValueError):
            bad.add("data", "is not written in base 64")
            data = b""
        bad.check(not data or data.startswith(_JPEG), "data", "is no JPEG")
        bad.check(hashlib.sha256(data).hexdigest() == self.digest, "data", "does not fit the sum that is its name")
        right = 0 < self.width <= _LARGEST_SIDE and 0 < self.height <= _LARGEST_SIDE
        bad.check(right, "width", f"{self.width} × {self.height} is no size of a photo")
        bad.raise_if_any()

    @property
    def jpeg(self) -> bytes:
        """The bytes themselves."""
        return base64.b64decode(self.data)


def keep(household: Household, jpeg: bytes, width: int, height: int) -> str:
    """Keep the bytes, as part of an action; returns their sum."""
    digest = hashlib.sha256(jpeg).hexdigest()
    if not models.Photo.objects.of(household).filter(digest=digest).exists():
        models.Photo(household=household, digest=digest, width=width, height=height, data=jpeg).save()
    return digest


def jpeg(household: Household, digest: str) -> bytes | None:
    """The bytes of that sum; None where this household has none."""
    found = models.Photo.objects.of(household).filter(digest=digest).values_list("data", flat=True).first()
    return None if found is None else bytes(found)


def show(recorder: Recorder, key: str, photo: Photo | None) -> None:
    """Let a dish or lot show this photo from now on, as part of an action; None takes the photo off."""
    recorder.changed(SHOWN, key, plain(recorder.household, key), codec.to_plain(photo))


def shown(household: Household, key: str) -> Photo | None:
    """What a dish or lot shows."""
    found = plain(household, key)
    return None if found is None else codec.from_plain(Photo, found)


def all_shown(household: Household, prefix: str) -> Mapping[str, Photo]:
    """What all things whose key begins so show, by the rest of their keys."""
    found = marks.under(household, SHOWN, prefix)
    return {key: codec.from_plain(Photo, after) for key, after in found.items()}


def plain(household: Household, key: str) -> Any:
    """The same as it is written in a change."""
    found = models.Change.objects.of(household).filter(kind=SHOWN, key=key).order_by("-pk").first()
    return None if found is None else found.after


def every(household: Household) -> tuple[KeptPhoto, ...]:
    """All photos ever kept, in their order."""
    return tuple(
        KeptPhoto(row.digest, row.width, row.height, base64.b64encode(bytes(row.data)).decode("ascii"))
        for row in models.Photo.objects.of(household).iterator(chunk_size=_AT_ONCE)
    )


_AT_ONCE = 50


def write(household: Household, kept: Iterable[KeptPhoto]) -> None:
    """Write photos of a dump; the caller holds the transaction."""
    bulk.insert(
        models.Photo,
        ("household", "position", "digest", "width", "height", "data"),
        ((household.pk, 0, one.digest, one.width, one.height, one.jpeg) for one in kept),
    )
