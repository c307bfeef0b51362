"""The shelf filled by typing as one speaks: "2 bunches spinach, 1 kg potatoes from Sunday in the cupboard"."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from chauka.errors import InputError
from chauka.kitchen import Book, Deed, Form, LedgerRow, Lot, Place
from chauka.reading import read_line
from chauka.reading.foods import match_food
from chauka.services import foods, taught
from chauka.services.market import bought_form, usual_place
from chauka.services.shelf import grams_of, lot_wish
from chauka.store import books, ledger
from chauka.store.models import Household

_BETWEEN = re.compile(r"\s*(?:[;\n]+|,(?!\d)|\band\b(?=\s*[\d½¼¾]))\s*")
_PLACE = re.compile(
    r"\s*\b(?:in|on|into|onto)\s+(?:the\s+)?(fridge|refrigerator|freezer|cupboard|larder|counter)\b", re.IGNORECASE
)
_DAYS = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")
_WHEN = re.compile(
    rf"\s*\b(?:from|since|bought|of)\s+(?:on\s+)?(?:(today|yesterday|{'|'.join(_DAYS)})|(\d{{1,4}})\s+days?\s+ago)\b",
    re.IGNORECASE,
)
_COUNTED = re.compile(r"(\d+) ([a-z].*)")
_PLACES = {"refrigerator": Place.FRIDGE, "larder": Place.CUPBOARD} | {str(p): p for p in Place}
_AS_LIKELY = 0.1
"""Of foods whose names fit about as well, the one that this house buys is meant."""

LONGEST_TEXT = 2_000
"""Letters that are taken at once: the shopping of a week, said thing by thing."""

_MORNING = time(10)
"""When what came in on an earlier day is taken to have come in."""


@dataclass(frozen=True, slots=True)
class _Said:
    text: str
    food: str
    amount: str
    place: Place | None
    since: datetime


def add(household: Household, text: str, now: datetime) -> tuple[str, ...]:
    """Put everything that the text names on the shelf, all of it or nothing; returns the new lots' ids.

    Raises `InputError` with one complaint for each part that is not understood for certain.
    """
    if len(text) > LONGEST_TEXT:
        raise InputError({"shelf": (f"that is more than {LONGEST_TEXT} letters; say it in several goes",)})
    book = books.load_book(household)
    own = taught.meant(household)
    bad: dict[str, tuple[str, ...]] = {}
    lots: list[tuple[str, Lot]] = []
    for part in parts(text):
        try:
            said = _read(part, book, now, own)
            lots.append((foods.short(said.food), _lot(said, book)))
        except InputError as error:
            bad[part] = tuple(words for complaints in error.fields.values() for words in complaints)
    if bad or not lots:
        raise InputError(bad or {"shelf": ("say what there is, as in: 2 bunches spinach, 1 kg potatoes from Sunday",)})
    with ledger.action(household, now, "add to the shelf", text.strip()[:200]) as recorder:
        return tuple(_put(recorder, name, lot, now) for name, lot in lots)


def parts(text: str) -> Iterator[str]:
    """The things that a text names, one by one."""
    yield from (part for part in _BETWEEN.split(text.strip()) if part)


def _read(part: str, book: Book, now: datetime, own: Mapping[str, str]) -> _Said:
    rest, place, since = part, None, now
    if found := _PLACE.search(rest):
        place = _PLACES[found[1].lower()]
        rest = rest.replace(found[0], " ")
    if found := _WHEN.search(rest):
        since = _since(found, now)
        rest = rest.replace(found[0], " ")
    line = read_line(rest.strip(" ."))
    if line.low is None:
        raise InputError({"": ("how much is it? Write it as in 2 bunches, 500 g or 3",)})
    return _Said(part, _food(line.food, book, own), _amount(line.low, line.high, line.unit), place, since)


def _amount(low: float, high: float | None, unit: str | None) -> str:
    mean = (low + (high or low)) / 2
    return f"{mean:g} {unit or ''}".strip()


def _since(found: re.Match[str], now: datetime) -> datetime:
    word, ago = (found[1] or "").lower(), found[2]
    day: date = now.date()
    if ago:
        day -= timedelta(days=int(ago))
    elif word == "yesterday":
        day -= timedelta(days=1)
    elif word in _DAYS:
        day -= timedelta(days=(day.weekday() - _DAYS.index(word)) % 7)
    return min(now, datetime.combine(day, _MORNING))


def _food(said: str, book: Book, own: Mapping[str, str]) -> str:
    known = {_thing_of(offer.pack): offer.food for offer in book.offers} | dict(own)
    match = match_food(said, taught=known, frying_fat=book.house.frying_fat)
    if match.best is not None and match.sure:
        here = {offer.food for offer in book.offers} | {lot.food for lot in book.lots}
        alike = [c.code for c in match.candidates if c.score >= match.best.score - _AS_LIKELY and c.code in here]
        return alike[0] if alike else match.best.code
    near = ", ".join(foods.name(c.code) for c in match.candidates[:3])
    hint = f"; did you mean {near}?" if near else "; write it by another name"
    raise InputError({"": (f"which food is {said!r}?{hint}" if said else "which food is it?",)})


def _lot(said: _Said, book: Book) -> Lot:
    place = said.place
    form = Form.FROZEN if place is Place.FREEZER else bought_form(said.food, book)
    return Lot(
        id="new",
        grams=_as_sold(said, book) or grams_of(said.amount, said.food, form, book),
        form=form,
        place=place or usual_place(said.food, form, book),
        since=said.since,
        food=said.food,
    )


def _as_sold(said: _Said, book: Book) -> float | None:
    """Grams of so many bunches or pieces as this house's market hands them over; None where no pack says it."""
    count, _, unit = said.amount.partition(" ")
    for offer in book.offers:
        sold = _COUNTED.match(offer.pack)
        if offer.food == said.food and sold and _unit_of(sold[2]) == unit:
            return offer.grams * float(count) / float(sold[1])
    return None


def _unit_of(pack: str) -> str:
    """`bunch` of a `bunch of spinach`; nothing for plain pieces, as in `lemons`."""
    return pack.partition(" of ")[0] if " of " in pack else ""


def _thing_of(pack: str) -> str:
    """What a pack holds, as its stall says it: `lemons` of `4 lemons`, `spinach` of `1 bunch of spinach`."""
    count = _COUNTED.match(pack)
    return pack.partition(" of ")[2] or (count[2] if count else pack)


def _put(recorder: ledger.Recorder, name: str, lot: Lot, now: datetime) -> str:
    key = ledger.free_lot_id(recorder.household, lot_wish(name, lot.since))
    recorder.put(Lot(id=key, grams=lot.grams, form=lot.form, place=lot.place, since=lot.since, food=lot.food))
    recorder.did(LedgerRow(at=now, deed=Deed.BOUGHT, grams=lot.grams, lot=key, food=lot.food, why="typed in"))
    return key
