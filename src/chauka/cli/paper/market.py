"""The market lists on paper."""

from __future__ import annotations

from collections.abc import Iterator

from chauka.cli.paper.layout import INDENT, columns, heading, listing, paragraph, subheading
from chauka.services import words
from chauka.services.market import Bought, MarketDay, MarketLists, ToBuy

PACK_WIDTH = 34


def lists(view: MarketLists) -> Iterator[str]:
    """All lists, one a market day, sorted by stall."""
    total = f"{words.money(view.cost, view.currency)} in all"
    if view.budget is not None:
        total += f", budget {words.money(view.budget, view.currency)} a week"
    yield from heading("Market", total)
    if not view.days:
        yield from paragraph("Nothing to buy: the shelf has it all.")
    for number, day in enumerate(view.days):
        if number:
            yield ""
        yield from _day(day, view.currency)


def _day(day: MarketDay, currency: str) -> Iterator[str]:
    yield subheading(
        words.day(day.day) + ("" if day.market else " (daily stalls only)"), words.money(day.cost, currency)
    )
    for stall in day.stalls:
        yield f"{INDENT}{stall.name}"
        yield from columns((_item(item, currency) for item in stall.items), "lrrl", INDENT * 2, (PACK_WIDTH,))


def _item(item: ToBuy, currency: str) -> tuple[str, ...]:
    bought = item.purchase
    return (
        f"{bought.packs} × {bought.pack.removeprefix('1 ')}",
        words.weight(bought.grams),
        words.money(bought.cost, currency),
        f"for {listing(item.feeds)}" if item.feeds else "",
    )


def bought(made: Bought, currency: str) -> Iterator[str]:
    """One purchase written down."""
    yield (
        f"Bought {words.weight(made.lot.grams)} {made.name} for {words.money(made.paid, currency)}; "
        f"it is lot {made.lot.id}, {made.lot.form}, {_in(made.lot.place)}."
    )


def _in(place: str) -> str:
    return f"{'on' if place == 'counter' else 'in'} the {place}"
