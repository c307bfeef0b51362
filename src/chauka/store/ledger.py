"""What really happened: every action of a person is one transaction that appends here and moves lots.

An action keeps, beside its ledger rows, what each thing it touched was before and after, so that it
can be taken back.
"""

from __future__ import annotations

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from typing import Any

from django.db import connection, transaction

from chauka.errors import InputError
from chauka.kitchen import Deed, LedgerRow, Lot, PriceSeen
from chauka.store import codec, models, trouble
from chauka.store.mapping import stock
from chauka.store.models import Household

EMPTY_G = 0.5
"""A lot that holds less than this is empty [g]: no kitchen scale of a household shows it."""

TAKES = frozenset({Deed.USED, Deed.EATEN, Deed.BINNED})
"""Deeds by which a lot gets lighter."""


@dataclass(slots=True)
class Recorder:
    """Writes one action down. Made by `action`."""

    household: Household
    row: models.Action
    at: datetime
    _count: int = field(default=0)

    @property
    def number(self) -> int:
        """The number of this action in the household's ledger."""
        return int(self.row.number)

    def did(self, deed: LedgerRow) -> None:
        """Append one ledger row."""
        stock.ledger_row(self.household, self.row, deed, self._count).save()
        self._count += 1

    def put(self, lot: Lot) -> None:
        """Put a new lot on the shelf, or change the one of that id."""
        old = _row(self.household, lot.id)
        before = codec.to_plain(stock.lot_of(old)) if old and not old.gone else None
        row = old or models.Lot(
            household=self.household, key=lot.id, position=models.Lot.objects.of(self.household).count()
        )
        stock.copy_lot(lot, row)
        row.gone = False
        row.save()
        self.changed("lot", lot.id, before, codec.to_plain(lot))

    def take(self, lot_id: str, grams: float | None, deed: Deed, *, why: str = "", dish: str | None = None) -> Lot:
        """Take so many grams from a lot (None: all there is) and append the deed; returns what is left of it.

        The cost is shared out by weight. Raises `InputError` when there is no such lot or not so much.
        """
        row = _row(self.household, lot_id)
        if row is None or row.gone:
            raise InputError({"lot": (f"{lot_id!r} is not on the shelf{_here(self.household)}",)})
        lot = stock.lot_of(row)
        taken = lot.grams if grams is None else grams
        if taken <= 0 and lot.grams > 0:
            raise InputError({f"lot {lot_id}": (f"{taken:g} g must be above zero",)})
        if taken > lot.grams + EMPTY_G:
            raise InputError(
                {f"lot {lot_id}": (f"holds {lot.grams:g} g; {taken:g} g cannot be {deed}; weigh what is there",)}
            )
        empty = lot.grams - taken < EMPTY_G
        taken = lot.grams if empty else taken
        cost = _share(lot.cost, taken / lot.grams if lot.grams else 1.0)
        left = replace(
            lot,
            grams=0.0 if empty else lot.grams - taken,
            cost=None if lot.cost is None or cost is None else lot.cost - cost,
        )
        stock.copy_lot(left, row)
        row.gone = empty
        row.save()
        self.did(
            LedgerRow(
                at=self.at, deed=deed, grams=taken, lot=lot.id, food=lot.food, dish=dish or lot.dish, cost=cost, why=why
            )
        )
        self.changed("lot", lot.id, codec.to_plain(lot), None if empty else codec.to_plain(left))
        return left

    def saw(self, price: PriceSeen) -> None:
        """Remember a price really paid."""
        stock.price_row(self.household, price).save()

    def changed(self, kind: str, key: str, before: Any, after: Any) -> None:
        """Keep what one thing was before and after; None is "was not there"."""
        models.Change(household=self.household, action=self.row, kind=kind, key=key, before=before, after=after).save()


_writing = threading.RLock()


@contextmanager
def in_turn() -> Iterator[None]:
    """Writers of this process wait for each other here: SQLite's own waiting sleeps up to a tenth of a second."""
    if connection.in_atomic_block or connection.vendor != "sqlite":
        yield
        return
    with _writing:
        yield


@contextmanager
def action(household: Household, at: datetime, task: str, note: str = "") -> Iterator[Recorder]:
    """One action of a person: all of what is done inside, or nothing.

    Raises `InputError` in words where the book cannot be written (full, read-only, locked).
    """
    with in_turn(), trouble.in_words(), transaction.atomic():
        alone(household)
        number = next_number(household)
        row = models.Action(household=household, number=number, at=at, task=task, note=note)
        row.save()
        yield Recorder(household, row, at)


def alone(household: Household) -> None:
    """One writer of a household at a time, so that its actions are numbered in the order of their commits."""
    if connection.vendor != "sqlite":  # there the transaction has the file to itself from its beginning
        models.Household.objects.select_for_update().get(pk=household.pk)


def next_number(household: Household) -> int:
    """The number of the household's next action; no number is ever given twice."""
    last = models.Action.objects.of(household).order_by("-number").values_list("number", flat=True).first()
    return (last or 0) + 1


def record(household: Household, deed: LedgerRow, *, task: str = "", lot: Lot | None = None) -> None:
    """Append one deed and adjust its lot, in one transaction.

    USED, EATEN and BINNED take `deed.grams` from the lot named; BOUGHT and COOKED put `lot` on the
    shelf; OPENED and MOVED set the lot to what `lot` says. A deed without a lot is only appended.
    """
    with action(household, deed.at, task or str(deed.deed)) as recorder:
        if deed.deed in TAKES and deed.lot is not None:
            recorder.take(deed.lot, deed.grams, deed.deed, why=deed.why, dish=deed.dish)
            return
        if lot is not None:
            recorder.put(lot)
        recorder.did(deed)


def rows(household: Household, since: datetime | None = None) -> tuple[LedgerRow, ...]:
    """The ledger, oldest first."""
    found = models.LedgerRow.objects.of(household)
    return tuple(stock.deed_of(row) for row in (found.filter(at__gte=since) if since else found))


def prices(
    household: Household, food: str | None = None, since: date | None = None, newest: int | None = None
) -> tuple[PriceSeen, ...]:
    """Prices really paid, oldest first; of one food, since a day, or so many of the newest, where that is said."""
    found = models.PriceSeen.objects.of(household)
    found = found.filter(food=food) if food else found
    found = found.filter(on__gte=since) if since else found
    rows = found if newest is None else reversed(found.order_by("-pk")[:newest])
    return tuple(map(stock.price_of, rows))


def lot(household: Household, lot_id: str) -> Lot:
    """The lot of that id that is on the shelf; an `InputError` names what there is."""
    row = models.Lot.objects.of(household).filter(key=lot_id, gone=False).first()
    if row is None:
        raise InputError({"lot": (f"{lot_id!r} is not on the shelf{_here(household)}",)})
    return stock.lot_of(row)


def free_lot_id(household: Household, wish: str) -> str:
    """`wish`, or `wish-2`, `wish-3` … when lots of that id have been on the shelf."""
    taken = set(models.Lot.objects.of(household).filter(key__startswith=wish).values_list("key", flat=True))
    number, key = 1, wish
    while key in taken:
        number += 1
        key = f"{wish}-{number}"
    return key


def _share(cost: int | None, share: float) -> int | None:
    return None if cost is None else round(cost * share)


def _row(household: Household, lot_id: str) -> models.Lot | None:
    found: models.Lot | None = models.Lot.objects.of(household).select_for_update().filter(key=lot_id).first()
    return found


def _here(household: Household) -> str:
    here = list(models.Lot.objects.of(household).filter(gone=False).values_list("key", flat=True))
    return f"; there is {', '.join(here)}" if here else ": it is empty"
