"""The shelf on paper: what must be used soon line by line, the store cupboard by its reasons."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date
from itertools import groupby

from chauka.cli.paper.layout import INDENT, heading, listing, noted, paragraph
from chauka.kitchen import Deed
from chauka.services import words
from chauka.services.shelf import Freshness, Logged, Shelf, ShelfLot

LONG_DAYS = 60
"""What keeps longer than this stands in the store cupboard's list."""


def view(shelf: Shelf) -> Iterator[str]:
    """Everything in the house, what must be used first at the top, each with its reason."""
    today = shelf.at.date()
    yield from heading("Shelf", f"{words.count(len(shelf.lots), 'lot')}, as of {words.moment(shelf.at)}")
    if not shelf.lots:
        yield from paragraph("The shelf is empty.")
    soon = [one for one in shelf.lots if one.days_left < LONG_DAYS]
    yield from noted(((_row(one, today), one.use_by.reason) for one in soon), "lrll")
    yield from _cupboard([one for one in shelf.lots if one.days_left >= LONG_DAYS])
    yield from _cautions(shelf.lots)


def _row(one: ShelfLot, today: date) -> tuple[str, ...]:
    return (one.name, words.weight(one.lot.grams), until(one, today), f"{one.lot.form}, {one.lot.place}")


def until(one: ShelfLot, today: date) -> str:
    """The last day, how far off it is, and a word where it is only a careful default."""
    days = (one.last_day - today).days
    far = {-1: "past since yesterday", 0: "today", 1: "tomorrow"}.get(
        days, f"past by {-days} days" if days < 0 else words.days_left(days)
    )
    careful = ", life not known" if one.freshness is Freshness.UNKNOWN else ""
    return f"{words.day(one.last_day)} ({far}{careful})"


def _cupboard(lots: Sequence[ShelfLot]) -> Iterator[str]:
    """Lots that keep for months, those of one reason together."""
    if not lots:
        return
    yield f"{INDENT}In the store cupboard"
    for reason, of_it in groupby(sorted(lots, key=lambda one: one.use_by.reason), lambda one: one.use_by.reason):
        items = [
            f"{one.name} {words.weight(one.lot.grams)} ({words.days_left(one.days_left)} yet)"
            for one in sorted(of_it, key=lambda one: one.days_left)
        ]
        yield from paragraph(f"{', '.join(items)}: {reason}.", indent=INDENT * 2, hang=INDENT * 4)


def _cautions(lots: Sequence[ShelfLot]) -> Iterator[str]:
    """Each caution once, with the lots that it is about."""
    about: dict[str, list[str]] = {}
    for one in lots:
        for caution in one.cautions:
            about.setdefault(caution, []).append(one.name)
    for caution, names in about.items():
        whom = listing(list(dict.fromkeys(names))) if len(names) <= 4 else words.count(len(names), "lot")
        yield from paragraph(f"! {whom}: {caution}", hang=INDENT * 2)


_SAID = {
    Deed.USED: "Used",
    Deed.EATEN: "Eaten:",
    Deed.BINNED: "Binned",
    Deed.MOVED: "Moved",
    Deed.OPENED: "Opened",
}


def logged(made: Logged) -> Iterator[str]:
    """One deed written down, and what is left."""
    left = f"{words.weight(made.lot.grams)} left" if made.lot.grams else "none left"
    yield f"{_SAID[made.deed]} {words.weight(made.grams)} {made.name} (lot {made.lot.id}); {left}."


def added(one: ShelfLot, today: date) -> Iterator[str]:
    """One lot put on the shelf."""
    yield f"{words.weight(one.lot.grams)} {one.name} is on the shelf as lot {one.lot.id}; use by {until(one, today)}."
    yield from paragraph(one.use_by.reason)
    for caution in one.cautions:
        yield from paragraph(f"! {caution}")
