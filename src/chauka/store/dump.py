"""Everything of one household in one JSON file, and back: versioned, summed, read in full before a row is written."""

from __future__ import annotations

import gc
import json
from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, fields, replace
from datetime import datetime
from pathlib import Path
from typing import Any, get_type_hints

from django.db import transaction

from chauka import __version__
from chauka.errors import InputError
from chauka.kitchen import Book, Dish, House, LedgerRow, Lot, Offer, PriceSeen, TablePlan
from chauka.store import books, bulk, codec, models, photos, plain_json, plans
from chauka.store.files import write_whole
from chauka.store.mapping import stock
from chauka.store.models import Household
from chauka.store.photos import KeptPhoto

FORMAT = "chauka book"
VERSION = 3
READABLE = (1, 2, 3)
"""Version 1 did not number actions and plans; version 2 had no photos."""

SINCE = {"photos": 3}
"""Sections that older versions had not, and the version that brought them."""

_PLANS_AT_ONCE = 50


@dataclass(frozen=True, slots=True)
class DumpedChange:
    """What one thing was before and after an action."""

    kind: str
    key: str
    before: Any
    after: Any


@dataclass(frozen=True, slots=True)
class DumpedAction:
    """One action with its ledger rows and changes."""

    at: datetime
    task: str
    note: str
    rows: tuple[LedgerRow, ...]
    changes: tuple[DumpedChange, ...]
    number: int = 0


@dataclass(frozen=True, slots=True)
class DumpedPlan:
    """One plan kept."""

    made: datetime
    accepted: datetime | None
    plan: TablePlan
    number: int = 0


@dataclass(frozen=True, slots=True)
class Dump:
    """Everything of one household; each field is one section of the file with its own sum."""

    house: House
    dishes: tuple[Dish, ...]
    offers: tuple[Offer, ...]
    lots: tuple[Lot, ...]
    gone_lots: tuple[Lot, ...]
    actions: tuple[DumpedAction, ...]
    prices: tuple[PriceSeen, ...]
    plans: tuple[DumpedPlan, ...]
    photos: tuple[KeptPhoto, ...] = ()

    @property
    def book(self) -> Book:
        """The book as the engines see it."""
        return Book(house=self.house, dishes=self.dishes, offers=self.offers, lots=self.lots)


@contextmanager
def _all_kept() -> Iterator[None]:
    """Nothing made inside is garbage before its end: looking for garbage meanwhile would take as long again."""
    was = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was:
            gc.enable()


def take(owner: Household) -> Dump:
    """Everything of the household, as it stands at one moment."""
    with books.one_moment(), _all_kept():
        book = books.load_written(owner)
        return Dump(
            house=book.house,
            dishes=book.dishes,
            offers=book.offers,
            lots=book.lots,
            gone_lots=tuple(stock.lot_of(row) for row in models.Lot.objects.of(owner).filter(gone=True)),
            actions=_actions(owner),
            prices=tuple(stock.price_of(row) for row in models.PriceSeen.objects.of(owner)),
            plans=tuple(DumpedPlan(kept.made, kept.accepted, kept.plan, kept.number) for kept in plans.every(owner)),
            photos=photos.every(owner),
        )


def _actions(owner: Household) -> tuple[DumpedAction, ...]:
    rows: defaultdict[int, list[LedgerRow]] = defaultdict(list)
    for row in models.LedgerRow.objects.of(owner):
        rows[row.action_id].append(stock.deed_of(row))
    changes: defaultdict[int, list[DumpedChange]] = defaultdict(list)
    for change in models.Change.objects.of(owner):
        changes[change.action_id].append(DumpedChange(change.kind, change.key, change.before, change.after))
    return tuple(
        DumpedAction(a.at, a.task, a.note, tuple(rows[a.pk]), tuple(changes[a.pk]), a.number)
        for a in models.Action.objects.of(owner)
    )


def write(owner: Household, path: Path, now: datetime) -> Dump:
    """Write the household's dump; the file is whole or not there."""
    dump = take(owner)
    write_whole(path, to_json(dump, now).encode())
    return dump


def to_json(dump: Dump, now: datetime) -> str:
    """The dump as the text of its file."""
    sections = {f.name: codec.to_plain(getattr(dump, f.name)) for f in fields(Dump)}
    head = {
        "format": FORMAT,
        "version": VERSION,
        "written_by": f"chauka {__version__}",
        "written": now.isoformat(),
        "rows": {name: len(section) for name, section in sections.items() if isinstance(section, list)},
        "sha256": {name: plain_json.sum_of(section) for name, section in sections.items()},
    }
    body = ",\n".join(f'"{name}": {_in_lines(section)}' for name, section in sections.items())
    return f'{json.dumps(head, ensure_ascii=False)[:-1]},\n"sections": {{\n{body}\n}}}}\n'


def _in_lines(section: Any) -> str:
    """JSON with a line for each thing, so that two dumps can be compared line by line."""
    if not isinstance(section, list):
        return _text(section)
    return "[\n" + ",\n".join(map(_text, section)) + "\n]" if section else "[]"


def _text(plain: Any) -> str:
    return json.dumps(plain, ensure_ascii=False, allow_nan=False)


def read(path: Path) -> Dump:
    """The dump in a file, checked in full; an `InputError` names the place of the first fault."""
    try:
        return from_json(path.read_bytes(), str(path))
    except OSError as error:
        raise InputError({str(path): (f"cannot be read: {error.strerror}",)}) from None


def from_json(data: bytes, name: str = "the file") -> Dump:
    """The dump in the bytes of a file."""
    with plain_json.shallow(name), _all_kept():
        return _from_document(plain_json.parse(data, name), name)


def _from_document(document: Mapping[str, Any], name: str) -> Dump:
    if document.get("format") != FORMAT:
        plain_json.refuse(name, f'is not a dump of chauka: its "format" should be "{FORMAT}"')
    version = document.get("version")
    if version not in READABLE:
        plain_json.refuse(
            name,
            f"has version {version!r}; this chauka reads version {VERSION} and older. Use the chauka that wrote it, "
            "or a newer one",
        )
    sections, sums = document.get("sections"), document.get("sha256")
    if not isinstance(sections, dict) or not isinstance(sums, dict):
        plain_json.refuse(name, "is cut short: its sections or their sums are missing")
    hints = {s: hint for s, hint in get_type_hints(Dump).items() if SINCE.get(s, 0) <= version}
    for section, kind in hints.items():
        if section not in sections:
            plain_json.refuse(name, f"has no section {section!r}")
        if plain_json.sum_of(sections[section]) != sums.get(section):
            _check_readable(sections[section], kind, section, name)
            plain_json.refuse(name, f"section {section!r} was damaged or changed by hand: it does not fit its sum")
    return from_sections(sections, name)


def from_sections(sections: Mapping[str, Any], name: str) -> Dump:
    """The dump of sections already taken from their files, every value checked."""
    hints = get_type_hints(Dump)
    with _all_kept():
        dump = Dump(**{s: _section(hints[s], sections[s], s, name) for s in hints if s in sections})
    _check_whole(dump, name)
    return dump


def _numbered(dump: Dump) -> Dump:
    """Number what a dump of version 1 left unnumbered."""
    if all(a.number for a in dump.actions) and all(p.number for p in dump.plans):
        return dump
    actions = tuple(replace(a, number=i) for i, a in enumerate(dump.actions, start=1))
    plans = tuple(replace(p, number=i) for i, p in enumerate(dump.plans, start=1))
    return replace(dump, actions=actions, plans=plans)


def _check_readable(plain: Any, kind: Any, section: str, name: str) -> None:
    """Name the exact place where a damaged section cannot even be read."""
    _section(kind, plain, section, name)


def _section(kind: Any, plain: Any, section: str, name: str) -> Any:
    try:
        return codec.from_plain(kind, plain, section)
    except InputError as error:
        raise InputError({f"{name}: {field}": words for field, words in error.fields.items()}) from None


def _check_whole(dump: Dump, name: str) -> None:
    try:
        book = dump.book
        books.check_lots((*book.lots, *dump.gone_lots))
        _check_numbers("actions", [a.number for a in dump.actions if a.number])
        _check_numbers("plans", [p.number for p in dump.plans if p.number])
        _check_photos([photo.digest for photo in dump.photos])
    except InputError as error:
        raise InputError({f"{name}: {field}": words for field, words in error.fields.items()}) from None


def _check_numbers(section: str, numbers: list[int]) -> None:
    for number, count in Counter(numbers).items():
        if count > 1 or number < 0:
            raise InputError({section: (f"the number {number} is below zero or stands {count} times",)})


def _check_photos(digests: list[str]) -> None:
    for digest, count in Counter(digests).items():
        if count > 1:
            raise InputError({"photos": (f"the photo {digest[:12]} stands {count} times",)})


def restore(dump: Dump, *, over_another: bool = False) -> Household:
    """Write a dump into this database: all of it or nothing.

    A household of the same name is replaced. Another one is replaced only if `over_another`, and only
    if it is the only one there.
    """
    dump = _numbered(dump)
    with transaction.atomic(), _all_kept():
        there = list(models.Household.objects.all())
        same = [h for h in there if h.name == dump.house.name]
        if there and not same:
            if not over_another or len(there) > 1:
                raise InputError(_other_house(dump, there))
            same = there
        for old in same:
            bulk.delete_household(old)
        owner = books.create(dump.book)
        _write_gone(owner, dump)
        _write_actions(owner, dump.actions)
        bulk.insert(
            models.PriceSeen,
            ("household", "position", "food", "on", "grams", "price"),
            ((owner.pk, 0, p.food, p.on, p.grams, p.price) for p in dump.prices),
        )
        models.Plan.objects.bulk_create((_plan_row(owner, kept) for kept in dump.plans), batch_size=_PLANS_AT_ONCE)
        photos.write(owner, dump.photos)
    return owner


def _other_house(dump: Dump, there: list[Household]) -> dict[str, tuple[str]]:
    names = ", ".join(repr(h.name) for h in there)
    complaint = (
        f"this book is of {names}, the dump is of {dump.house.name!r}; restore it into a book of its own "
        "(--book FILE), or replace this one (--replace)"
    )
    return {"restore": (complaint,)}


def _write_gone(owner: Household, dump: Dump) -> None:
    names = (
        "household", "position", "gone", "key", "food", "dish", "grams", "form", "place", "since", "age_days",
        "covered", "cost", "note",
    )  # fmt: skip
    bulk.insert(
        models.Lot,
        names,
        (
            (
                owner.pk, position, True, lot.id, lot.food, lot.dish, lot.grams, lot.form.value, lot.place.value,
                lot.since, lot.age_days, lot.covered, lot.cost, lot.note,
            )
            for position, lot in enumerate(dump.gone_lots, start=len(dump.lots))
        ),
    )  # fmt: skip


def _write_actions(owner: Household, actions: tuple[DumpedAction, ...]) -> None:
    keyed = list(zip(bulk.fresh_ids(models.Action, len(actions)), actions, strict=True))
    bulk.insert(
        models.Action,
        ("id", "household", "position", "number", "at", "task", "note"),
        ((key, owner.pk, 0, a.number, a.at, a.task, a.note) for key, a in keyed),
    )
    names = (
        "household", "position", "action", "at", "deed", "grams", "lot", "food", "dish", "cost", "minutes", "why",
    )  # fmt: skip
    bulk.insert(
        models.LedgerRow,
        names,
        (
            (
                owner.pk, i, key, row.at, row.deed.value, row.grams, row.lot, row.food, row.dish, row.cost,
                row.minutes, row.why,
            )
            for key, a in keyed
            for i, row in enumerate(a.rows)
        ),
    )  # fmt: skip
    bulk.insert(
        models.Change,
        ("household", "position", "action", "kind", "key", "before", "after"),
        ((owner.pk, 0, key, c.kind, c.key, c.before, c.after) for key, a in keyed for c in a.changes),
    )


def _plan_row(owner: Household, kept: DumpedPlan) -> models.Plan:
    plan = kept.plan
    return models.Plan(
        household=owner,
        number=kept.number,
        made=kept.made,
        accepted=kept.accepted,
        start=plan.start,
        days=plan.days,
        document=codec.to_plain(plan),
    )


def counts(dump: Dump) -> Mapping[str, int]:
    """How much of each there is, for a word to the user."""
    return {
        "people": len(dump.house.people),
        "dishes": len(dump.dishes),
        "offers": len(dump.offers),
        "lots": len(dump.lots),
        "actions": len(dump.actions),
        "ledger rows": sum(len(a.rows) for a in dump.actions),
        "prices": len(dump.prices),
        "plans": len(dump.plans),
        "photos": len(dump.photos),
    }
