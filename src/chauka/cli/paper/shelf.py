"""The shelf on paper."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import columns, heading, paragraph
from chauka.kitchen import Deed
from chauka.services import words
from chauka.services.shelf import Logged, Shelf, ShelfLot


def view(shelf: Shelf) -> Iterator[str]:
    """Everything in the house, what must be used first at the top, each with its reason."""
    yield from heading("Shelf", f"{words.count(len(shelf.lots), 'lot')}, as of {words.moment(shelf.at)}")
    if not shelf.lots:
        yield from paragraph("The shelf is empty.")
    yield from columns((_row(one) for one in shelf.lots), "lrlll")
    for caution in dict.fromkeys(c for one in shelf.lots for c in one.use_by.cautions):
        yield from paragraph(f"! {caution}")


def _row(one: ShelfLot) -> tuple[str, ...]:
    return (
        one.name,
        words.weight(one.lot.grams),
        _until(one),
        f"{one.lot.form}, {one.lot.place}",
        one.use_by.reason,
    )


def _until(one: ShelfLot) -> str:
    if one.days_left is None:
        return "not known"
    left = words.days_left(one.days_left)
    if one.days_left >= 60:
        return f"{left} yet"
    return f"{words.day(one.use_by.at.date())} ({left})"


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


def added(one: ShelfLot) -> Iterator[str]:
    """One lot put on the shelf."""
    yield f"{words.weight(one.lot.grams)} {one.name} is on the shelf as lot {one.lot.id}; use by {_until(one)}."
    yield from paragraph(one.use_by.reason)
    for caution in one.use_by.cautions:
        yield from paragraph(f"! {caution}")
