"""A household's book: found, loaded as one value, and saved."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, replace
from typing import Protocol, cast

from django.db import connection, transaction

from chauka.errors import Complaints, InputError
from chauka.kitchen import Book, Dish, House, Lot, Offer, check_parts
from chauka.store import codec, location, marks, models, trouble
from chauka.store.ledger import Recorder
from chauka.store.mapping import dishes, house, stock
from chauka.store.models import Household


class SqliteConnection(Protocol):
    """What Django's SQLite connection has beside the common interface."""

    transaction_mode: str | None


def household(name: str | None = None) -> Household:
    """The household of that name (else the one that `CHAUKA_HOUSEHOLD` names), or the only one.

    An `InputError` says which there are.
    """
    name = name or os.environ.get(location.HOUSEHOLD_VARIABLE, "").strip() or None
    with trouble.in_words():
        found = list(models.Household.objects.order_by("name"))
    if name is not None:
        found = [h for h in found if h.name == name] or _none_called(name, found)
    if not found:
        raise InputError(
            "this book is still empty: `chauka demo` shows the demo house; `chauka house restore FILE` brings a "
            "dumped book in"
        )
    if len(found) > 1:
        raise InputError(f"several households share this book: {_names(found)}; say which with --household")
    return found[0]


def _none_called(name: str, there: Iterable[Household]) -> list[Household]:
    raise InputError({"household": (f"none is called {name!r} here; there is {_names(there) or 'none at all'}",)})


def _names(households: Iterable[Household]) -> str:
    return ", ".join(repr(h.name) for h in households)


@contextmanager
def one_moment() -> Iterator[None]:
    """Everything read inside is from one moment, without keeping writers out."""
    if connection.in_atomic_block:
        yield
        return
    if connection.vendor == "sqlite":
        with _deferred(), transaction.atomic():
            yield
        return
    with transaction.atomic():
        with connection.cursor() as cursor:
            cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
        yield


@contextmanager
def _deferred() -> Iterator[None]:
    """Transactions that only read need not wait for the write lock."""
    connection.ensure_connection()
    sqlite = cast("SqliteConnection", connection)
    usual, sqlite.transaction_mode = sqlite.transaction_mode, "DEFERRED"
    try:
        yield
    finally:
        sqlite.transaction_mode = usual


def load_house(owner: Household) -> House:
    """The house and its people."""
    return house.house_of(owner, models.Person.objects.of(owner))


@dataclass(frozen=True, slots=True)
class _Read:
    """A book as it is written down, and with the made-ahead parts of its dishes put in."""

    written: Book
    whole: Book


_MOST_KEPT = 4
_kept: dict[tuple[str, int, int], _Read] = {}
"""Books as they were last read, by database, household and last action: whatever changes a book is an action."""


def load_book(owner: Household) -> Book:
    """Everything the household has written down, as it stands at this moment, each dish with its parts put in.

    A book is read anew only after an action; inside a transaction always, as that may still change it.
    """
    return _load(owner).whole


def load_written(owner: Household) -> Book:
    """The same as it is written, where a line may be taken from another dish: for changing and for handing on."""
    return _load(owner).written


def _load(owner: Household) -> _Read:
    with trouble.in_words():
        if connection.in_atomic_block:
            return _read(owner, None)
        kept = _kept.get(_key(owner))
        if kept is not None:
            return kept
        with one_moment():
            key = _key(owner)
            book = _read(owner, _settled_since(owner, key))
    if key[-1]:
        while len(_kept) >= _MOST_KEPT:
            _kept.pop(next(iter(_kept)), None)
        _kept[key] = book
    return book


def _key(owner: Household) -> tuple[str, int, int]:
    return str(connection.settings_dict["NAME"]), owner.pk, revision(owner)


def _read(owner: Household, settled: _Read | None) -> _Read:
    """The book from its rows; all but the lots is taken from a book that is settled, where there is one."""
    owner.refresh_from_db()
    lots = tuple(stock.lot_of(row) for row in models.Lot.objects.of(owner).filter(gone=False))
    if settled:
        written = replace(settled.written, lots=lots)
        same = settled.whole is settled.written
        return _Read(written, written if same else replace(settled.whole, lots=lots))
    offers = tuple(stock.offer_of(row) for row in models.Offer.objects.of(owner))
    written = Book(load_house(owner), dishes.dishes_of(owner), offers, lots)
    return _Read(written, written.whole())


def _settled_since(owner: Household, key: tuple[str, int, int]) -> _Read | None:
    """A book read before, if only lots have changed since: most actions touch no dish, house or offer."""
    *whose, now = key
    kept = [(k[-1], book) for k, book in list(_kept.items()) if [*k[:-1]] == whose]
    kept = [(then, book) for then, book in kept if then >> _STORY_BITS == now >> _STORY_BITS and then <= now]
    if not kept:
        return None
    then, book = max(kept, key=lambda pair: pair[0])
    changed = models.Change.objects.of(owner).filter(
        kind__in=("dish", "house", "offers"), action__gt=then & ((1 << _STORY_BITS) - 1)
    )
    return None if changed.exists() else book


def revision(owner: Household) -> int:
    """A number that changes with every action, and when a copy was put back; 0 where nothing was done."""
    with connection.cursor() as cursor:  # asked for by every page, several times: by hand, as one question
        cursor.execute(_REVISION[connection.vendor], [owner.pk])
        timeline, last = cursor.fetchone()
    return ((timeline << _STORY_BITS) | last) if last else 0


def story(owner: Household) -> int:
    """A number that changes when a copy was put back in place of the book."""
    return revision(owner) >> _STORY_BITS


def foods_touched(owner: Household, then: int, now: int) -> frozenset[str] | None:
    """Foods of whose lots anything was done, logged or forgotten between two revisions; None where the book was put
    back in between.
    """
    if then >> _STORY_BITS != now >> _STORY_BITS or then > now:
        return None
    since = then & ((1 << _STORY_BITS) - 1)
    # By the actions alone: asked for the household's rows besides, SQLite reads all of these.
    of_these = {"action__in": models.Action.objects.of(owner).filter(pk__gt=since).order_by().values("pk")}
    logged = models.LedgerRow.objects.filter(**of_these).order_by().values_list("food", flat=True)
    changes = models.Change.objects.filter(**of_these).order_by().values_list("kind", "key", "before", "after")
    touched = {*logged}
    for kind, key, *lots in changes:
        if kind == marks.FORGOTTEN:
            touched.add(key)
        elif kind == "lot":
            touched.update(lot["food"] for lot in lots if lot is not None)
    return frozenset(touched - {None})


_STORY_BITS = 40
_LAST_ACTION = "(SELECT max(id) FROM store_action WHERE household_id = %s)"
_REVISION = {
    "sqlite": f"SELECT user_version, {_LAST_ACTION} FROM pragma_user_version",  # noqa: S608 - our own words
    "postgresql": f"SELECT 0, {_LAST_ACTION}",
}
"""Which story the file tells, and its last action: a copy put back begins another story, whose actions may get the
same numbers."""


def create(book: Book) -> Household:
    """Write a new household with this book."""
    _check_name(book.house.name)
    with transaction.atomic():
        owner = Household.objects.create(name=book.house.name, document={})
        save_book(owner, book)
    return owner


def save_book(owner: Household, book: Book) -> None:
    """Make the household's book this one. The ledger, prices and plans stay as they are."""
    check_lots(book.lots)
    _kept.clear()
    with transaction.atomic():
        _write_house(owner, book.house)
        models.Dish.objects.of(owner).delete()
        rows = dishes.DishRows()
        for position, dish in enumerate(book.dishes):
            rows.add(owner, dish, position)
        rows.write()
        _write_offers(owner, book.offers)
        models.Lot.objects.of(owner).delete()
        models.Lot.objects.bulk_create(stock.lot_row(owner, lot, i) for i, lot in enumerate(book.lots))


def save_house(recorder: Recorder, new: House) -> None:
    """Change the house and its people, as part of an action."""
    owner = recorder.household
    before = codec.to_plain(load_house(owner))
    _write_house(owner, new)
    recorder.changed("house", owner.name, before, codec.to_plain(new))


def save_dish(recorder: Recorder, new: Dish) -> None:
    """Add a dish, or change the one of the same id in its place, as part of an action."""
    owner = recorder.household
    old = models.Dish.objects.of(owner).filter(key=new.id).first()
    there = {dish.id: dish for dish in dishes.dishes_of(owner)}
    before = codec.to_plain(there.get(new.id))
    _check_parts(there | {new.id: new}, new.id)
    position = old.position if old else len(there)
    if old:
        old.delete()
    rows = dishes.DishRows()
    rows.add(owner, new, position)
    rows.write()
    recorder.changed("dish", new.id, before, codec.to_plain(new))


def remove_dish(recorder: Recorder, dish_id: str) -> None:
    """Take a dish out of the book, as part of an action; refused while another is made from it."""
    owner = recorder.household
    there = {dish.id: dish for dish in dishes.dishes_of(owner)}
    before = codec.to_plain(there.pop(dish_id, None))
    _check_parts(there, dish_id)
    models.Dish.objects.of(owner).filter(key=dish_id).delete()
    recorder.changed("dish", dish_id, before, None)


def _check_parts(after: Mapping[str, Dish], dish_id: str) -> None:
    """Refuse a change of one dish that leaves any without a part, or with one that needs itself."""
    bad = Complaints(f"dish {dish_id}")
    check_parts(tuple(after.values()), bad)
    bad.raise_if_any()


def save_offers(recorder: Recorder, new: Iterable[Offer]) -> None:
    """Change what the market offers, as part of an action."""
    owner, offers = recorder.household, tuple(new)
    before = [codec.to_plain(stock.offer_of(row)) for row in models.Offer.objects.of(owner)]
    _write_offers(owner, offers)
    recorder.changed("offers", "", before, codec.to_plain(offers))


def _write_house(owner: Household, new: House) -> None:
    if new.name != owner.name:
        _check_name(new.name)
    owner.name, owner.document = new.name, house.household_document(new)
    owner.save()
    models.Person.objects.of(owner).delete()
    models.Person.objects.bulk_create(house.person_row(owner, person, i) for i, person in enumerate(new.people))


def _write_offers(owner: Household, new: Iterable[Offer]) -> None:
    models.Offer.objects.of(owner).delete()
    models.Offer.objects.bulk_create(stock.offer_row(owner, offer, i) for i, offer in enumerate(new))


def _check_name(name: str) -> None:
    if models.Household.objects.filter(name=name).exists():
        raise InputError({"house": (f"another household here is already called {name!r}; choose another name",)})


def check_lots(lots: Iterable[Lot]) -> None:
    """Refuse two lots of one id."""
    bad = Complaints("book")
    for key, count in Counter(lot.id for lot in lots).items():
        bad.check(count == 1, "lots", f"the lot id {key!r} stands {count} times")
    bad.raise_if_any()
