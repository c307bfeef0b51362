"""Photos of dishes and lots: put on, taken off, and given out in the sizes that the pages ask for."""

from __future__ import annotations

import re
from collections.abc import Container, Mapping
from dataclasses import dataclass
from datetime import datetime
from functools import lru_cache

from chauka.errors import InputError
from chauka.publishing import Photograph
from chauka.services import picture
from chauka.store import books, ledger, photos
from chauka.store.models import Household
from chauka.store.photos import Photo

__all__ = [
    "SIZES", "Photo", "file", "for_print", "of_dish", "of_dishes", "of_lots", "put_on_dish", "put_on_lot",
    "take_off_dish", "take_off_lot",
]  # fmt: skip

LONGEST_WORDS = 300


@dataclass(frozen=True, slots=True)
class Size:
    """A frame on the pages: pixels of the longer side, about how many bytes it may cost; None: as it is kept."""

    side: int
    most_bytes: int


SIZES: Mapping[str, Size | None] = {"full": None, "page": Size(760, 60_000), "small": Size(176, 9_000)}

_DIGEST = re.compile(r"[0-9a-f]{64}\Z")


def put_on_dish(household: Household, dish: str, data: bytes, words: str, now: datetime) -> Photo:
    """Let a dish show this photo; `words` say what is on it, for those who do not see it (else: the dish's name).

    Raises `InputError` for a dish that is not in the book, and for what is no photo.
    """
    name = books.load_book(household).dish(dish).name
    return _put(household, _Shown(f"dish/{dish}", name), data, words.strip() or name, now)


def put_on_lot(household: Household, lot: str, data: bytes, words: str, now: datetime) -> Photo:
    """The same for a lot that is on the shelf."""
    ledger.lot(household, lot)
    return _put(household, _Shown(f"lot/{lot}", lot), data, words.strip(), now)


def take_off_dish(household: Household, dish: str, now: datetime) -> None:
    """A dish shows no photo from now on; the book keeps it, and the action can be taken back."""
    _take_off(household, _Shown(f"dish/{dish}", books.load_book(household).dish(dish).name), now)


def take_off_lot(household: Household, lot: str, now: datetime) -> None:
    """The same for a lot."""
    _take_off(household, _Shown(f"lot/{lot}", lot), now)


@dataclass(frozen=True, slots=True)
class _Shown:
    """What shows a photo: its key in the book, and its name."""

    key: str
    name: str


def _put(household: Household, of: _Shown, data: bytes, words: str, now: datetime) -> Photo:
    if len(words) > LONGEST_WORDS:
        raise InputError({"words": (f"say in {LONGEST_WORDS} letters what is on the photo",)})
    made = picture.taken(data)
    with ledger.action(household, now, "show a photo", of.name) as recorder:
        digest = photos.keep(household, made.jpeg, made.width, made.height)
        photo = Photo(digest, made.width, made.height, " ".join(words.split()))
        photos.show(recorder, of.key, photo)
    return photo


def _take_off(household: Household, of: _Shown, now: datetime) -> None:
    if photos.shown(household, of.key) is None:
        raise InputError({"photo": (f"{of.name} shows none",)})
    with ledger.action(household, now, "take a photo off", of.name) as recorder:
        photos.show(recorder, of.key, None)


def of_dish(household: Household, dish: str) -> Photo | None:
    """What the dish shows."""
    return photos.shown(household, f"dish/{dish}")


def for_print(household: Household, dish: str) -> Photograph | None:
    """What the dish shows, as a write-up carries it."""
    shown = of_dish(household, dish)
    if shown is None:
        return None
    jpeg = file(household, shown.digest, "page")
    return Photograph(jpeg, shown.words, *picture.size(jpeg))


def of_dishes(household: Household) -> Mapping[str, Photo]:
    """What every dish shows that shows something."""
    return photos.all_shown(household, "dish/")


def of_lots(household: Household, here: Container[str]) -> Mapping[str, Photo]:
    """What those lots show."""
    return {key: photo for key, photo in photos.all_shown(household, "lot/").items() if key in here}


def file(household: Household, digest: str, size: str) -> bytes:
    """The JPEG of a photo of this household in one of `SIZES`. Raises `InputError` where there is none."""
    if size not in SIZES:
        raise InputError({"photo": (f"there is no size {size!r}; there are {', '.join(SIZES)}",)})
    found = photos.jpeg(household, digest) if _DIGEST.match(digest) else None
    if found is None:
        raise InputError({"photo": ("is not in this book",)})
    frame = SIZES[size]
    return found if frame is None else _smaller(found, frame)


@lru_cache(maxsize=64)
def _smaller(jpeg: bytes, frame: Size) -> bytes:
    return picture.smaller(jpeg, frame.side, frame.most_bytes)
