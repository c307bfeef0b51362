"""The shelf: what is in the house, until when and why; and what happens to it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from types import MappingProxyType

from django.utils.translation import gettext

from chauka import keeping, quantities
from chauka.errors import InputError
from chauka.kitchen import Book, Deed, Form, LedgerRow, Lot, Place
from chauka.services import foods, learned
from chauka.services.words import MONTHS
from chauka.store import books, ledger
from chauka.store.models import Household
from chauka.units import GRAMS_PER_UNIT

SOON_DAYS = 2
"""A lot whose last day is this near is to be used soon."""


class Freshness(StrEnum):
    """How a lot stands, in a word."""

    GOOD = "good"
    SOON = "use soon"
    TODAY = "use today"
    PAST = "past its day"
    UNKNOWN = "not known"


@dataclass(frozen=True, slots=True)
class ShelfLot:
    """One lot with its name, its use-by and the reason.

    `last_day` is the last day on which it may be planned, `days_left` the days from now to the
    use-by (below 0: past), `leaf` the share of its life that is left (0–1; None where its life is
    not known and the date is only a careful default). `cautions` are of its date, of the food or
    dish, and of what stands beside it.
    """

    lot: Lot
    name: str
    use_by: keeping.UseBy
    last_day: date
    days_left: float
    freshness: Freshness
    leaf: float | None
    cautions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Shelf:
    """Everything in the house, what must be used first at the top."""

    at: datetime
    lots: tuple[ShelfLot, ...]

    def at_place(self, place: Place) -> tuple[ShelfLot, ...]:
        """What stands in one place."""
        return tuple(one for one in self.lots if one.lot.place is place)


@dataclass(frozen=True, slots=True)
class Logged:
    """What was written down: the deed, the grams, and the lot as it is now."""

    deed: Deed
    grams: float
    name: str
    lot: Lot


def view(household: Household, now: datetime) -> Shelf:
    """Every lot with its use-by, first expired first."""
    book = books.load_book(household)
    return of_book(book, now, learned.factors(household, (lot.food for lot in book.lots if lot.food), book.house))


def of_book(book: Book, now: datetime, factors: Mapping[str, float] = MappingProxyType({})) -> Shelf:
    """The same for a book already loaded; `factors` are what the house has learnt, by food."""
    called = foods.called(book)
    beside = {near.lot: near.text for near in keeping.ethylene_neighbours(book.lots)}
    lots = [
        _shelf_lot(lot, book, called, now, beside=beside.get(lot.id), factor=factors.get(lot.food or "", 1.0))
        for lot in book.lots
    ]
    return Shelf(now, tuple(sorted(lots, key=lambda one: (one.use_by.at, one.name, one.lot.id))))


def _shelf_lot(
    lot: Lot, book: Book, called: dict[str, str], now: datetime, *, beside: str | None = None, factor: float = 1.0
) -> ShelfLot:
    dish = book.dish(lot.dish) if lot.dish else None
    use_by = keeping.lot_use_by(lot, book.house, dish, house_factor=factor)
    last = keeping.last_day(use_by)
    left = (use_by.at - now).total_seconds() / 86_400
    life = (use_by.at - lot.since).total_seconds() / 86_400
    return ShelfLot(
        lot=lot,
        name=_name(lot, book, called),
        use_by=use_by,
        last_day=last,
        days_left=left,
        freshness=_freshness((last - now.date()).days, known=use_by.known),
        leaf=max(0.0, min(1.0, left / life if life > 0 else 0.0)) if use_by.known else None,
        cautions=tuple(
            dict.fromkeys(
                (
                    *use_by.cautions,
                    *(f"{gettext(c.text)} ({c.source})" for c in keeping.lot_cautions(lot, dish, book.house.people)),
                    *([beside] if beside else []),
                )
            )
        ),
    )


def _freshness(days: int, *, known: bool) -> Freshness:
    if days < 0:
        return Freshness.PAST
    if days == 0:
        return Freshness.TODAY
    if not known:
        return Freshness.UNKNOWN
    return Freshness.SOON if days <= SOON_DAYS else Freshness.GOOD


def _name(lot: Lot, book: Book, called: dict[str, str]) -> str:
    if lot.dish:
        return book.dish(lot.dish).name
    food = lot.food or ""
    said = called.get(food) or foods.name(food)
    at_stall = foods.short(food)
    # Dishes say "lemon juice"; what stands whole on the shelf is a lemon.
    return at_stall if lot.form is Form.WHOLE and at_stall in said.casefold() else said


def log(
    household: Household, lot_id: str, deed: Deed, now: datetime, *, amount: str | float | None = None, why: str = ""
) -> Logged:
    """Some of a lot was used, eaten or binned: an amount in words, grams, or None for all there is.

    `why` helps to buy better next time. Raises `InputError` when there is no such lot or not so much.
    """
    before, book = ledger.lot(household, lot_id), books.load_book(household)
    with ledger.action(household, now, f"log {deed}", lot_id) as recorder:
        left = recorder.take(lot_id, _grams_taken(book, before, amount), deed, why=why)
    return Logged(deed, before.grams - left.grams, _name(before, book, foods.called(book)), left)


def log_used(household: Household, lot_id: str, amount: str | float | None, now: datetime) -> Logged:
    """So much (None: all of it) went into cooking."""
    return log(household, lot_id, Deed.USED, now, amount=amount)


def log_eaten(household: Household, lot_id: str, amount: str | float | None, now: datetime) -> Logged:
    """So much (None: all of it) was eaten as it was."""
    return log(household, lot_id, Deed.EATEN, now, amount=amount)


def log_binned(
    household: Household, lot_id: str, amount: str | float | None, now: datetime, *, why: str = ""
) -> Logged:
    """So much (None: all of it) went into the bin, and why."""
    return log(household, lot_id, Deed.BINNED, now, amount=amount, why=why)


def _grams_taken(book: Book, lot: Lot, amount: str | float | None) -> float | None:
    if not isinstance(amount, str):
        return amount
    if (bare := bare_grams(amount)) is not None:
        return bare
    if lot.food is None:
        raise InputError({"amount": (f"{amount!r} of a cooked dish must be weighed; write it as in 200 g",)})
    return _grams(amount, lot.food, lot.form, book)


def _grams(amount: str, code: str, form: Form, book: Book) -> float:
    """A whole food is weighed as bought, with what will be thrown away; any other form by what can be eaten of it."""
    if form is Form.WHOLE:
        return quantities.purchased_grams(amount, code, book.house.measures).mean
    return quantities.grams(amount, code, form.value, book.house.measures).mean


def bare_grams(amount: str) -> float | None:
    """Grams of `250`, `250 g` or `1.5 kg`; None where it is not a plain weight."""
    number, unit = amount.strip().rstrip("abcdefghijklmnopqrstuvwxyz"), amount.strip().lstrip("+-0123456789. ")
    try:
        return float(number) * GRAMS_PER_UNIT[unit or "g"]
    except (ValueError, KeyError):
        return None


def move(household: Household, lot_id: str, place: Place, now: datetime) -> Logged:
    """The lot now stands elsewhere; what it went through goes with it."""
    lot = ledger.lot(household, lot_id)
    moved = _aged(household, lot, place, now, covered=lot.covered)
    with ledger.action(household, now, "move a lot", f"{lot_id} to the {place}") as recorder:
        recorder.put(moved)
        recorder.did(_deed(moved, Deed.MOVED, now, why=f"from the {lot.place} to the {place}"))
    return Logged(Deed.MOVED, moved.grams, _name_of(household, moved), moved)


def open_lot(household: Household, lot_id: str, now: datetime) -> Logged:
    """The pack was opened: from now on it is not covered as it was bought."""
    lot = ledger.lot(household, lot_id)
    opened = _aged(household, lot, lot.place, now, covered=False)
    with ledger.action(household, now, "open a lot", lot_id) as recorder:
        recorder.put(opened)
        recorder.did(_deed(opened, Deed.OPENED, now))
    return Logged(Deed.OPENED, opened.grams, _name_of(household, opened), opened)


def _aged(household: Household, lot: Lot, place: Place, now: datetime, *, covered: bool) -> Lot:
    book = books.load_book(household)
    dish = book.dish(lot.dish) if lot.dish else None
    return keeping.moved(lot, place, book.house, now, dish, covered=covered)


def add(
    household: Household,
    food: str,
    amount: str,
    now: datetime,
    *,
    form: Form = Form.WHOLE,
    place: Place = Place.FRIDGE,
    since: datetime | None = None,
    age_days: float = 0.0,
    note: str = "",
) -> ShelfLot:
    """Put what is there on the shelf: a food by code or name, an amount in words ("2 bunches", "500 g").

    `since` is when it came in (default: now), `age_days` how old it already was then. Raises
    `InputError` for an unknown food, an amount that cannot become grams, or a lot from the future.
    """
    book = books.load_book(household)
    code = foods.resolve(food, book)
    lot = Lot(
        id=ledger.free_lot_id(household, lot_wish(foods.called(book).get(code) or foods.name(code), now)),
        grams=grams_of(amount, code, form, book),
        form=form,
        place=place,
        since=since or now,
        food=code,
        age_days=age_days,
        note=note,
    )
    lot.check_not_from_the_future(now)
    with ledger.action(household, now, "add to the shelf", lot.id) as recorder:
        recorder.put(lot)
    return _shelf_lot(lot, book, foods.called(book), now)


HEAVIEST_LOT_G = 200_000
"""Nobody carries more home at once [g]; a larger figure is a slip of the unit."""


def grams_of(amount: str, code: str, form: Form, book: Book) -> float:
    """The grams of an amount in words, refused where it is nothing or absurd."""
    grams = _grams(amount, code, form, book)
    if not 0 < grams <= HEAVIEST_LOT_G:
        raise InputError({"amount": (f"{amount!r} is {grams:g} g of {foods.name(code)}; that cannot be right",)})
    return grams


def lot_wish(name: str, now: datetime) -> str:
    """A readable id for a new lot, as in `spinach-14-mar`."""
    plain = "-".join(
        "".join(c if c.isascii() and c.isalnum() else " " for c in name.split(",", maxsplit=1)[0].lower()).split()
    )
    return f"{plain or 'lot'}-{now.day}-{MONTHS[now.month - 1].lower()}"


def _deed(lot: Lot, deed: Deed, now: datetime, why: str = "") -> LedgerRow:
    return LedgerRow(at=now, deed=deed, grams=lot.grams, lot=lot.id, food=lot.food, dish=lot.dish, why=why)


def _name_of(household: Household, lot: Lot) -> str:
    book = books.load_book(household)
    return _name(lot, book, foods.called(book))
