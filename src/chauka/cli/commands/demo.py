"""`chauka demo`: the whole job on the demo house."""

from __future__ import annotations

import shlex
import time
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

import click

from chauka.cli.paper import bench as bench_paper
from chauka.cli.paper import market as market_paper
from chauka.cli.paper import page as page_paper
from chauka.cli.paper import shelf as shelf_paper
from chauka.cli.paper import stove as stove_paper
from chauka.cli.paper import table as table_paper
from chauka.cli.paper.layout import heading, listing, paragraph
from chauka.cli.planned import DAYS, new_plan
from chauka.cli.progress import progress
from chauka.cli.session import DAY, JSON, show
from chauka.kitchen import Book
from chauka.services import bench, clock, demo_house, market, page, plan_days, shelf, stove, table, words
from chauka.store import books, location
from chauka.store.opening import open_book


@dataclass(frozen=True, slots=True)
class DemoWeek:
    """Everything that the demo prints, in its order; `seconds` is what it took in all."""

    house: str
    now: datetime
    table: table.TableView
    market: market.MarketLists
    bench: bench.BenchView
    stove: stove.StoveView | None
    shelf: shelf.Shelf
    write_up: str
    seconds: float


@click.command()
@click.option("--from", "start", type=DAY, help="First day. Default: today.")
@click.option("--days", type=click.IntRange(1, plan_days.MOST_DAYS), default=DAYS, show_default=True)
@click.option(
    "--seconds", type=click.FloatRange(0.5), default=plan_days.SECONDS, show_default=True, help="Longest planning."
)
@click.option(
    "--book",
    type=click.Path(dir_okay=False, path_type=Path),
    help="Load it into this file. Default: demo.sqlite3 in your data folder; never your own book.",
)
@JSON
def command(*, start: date | None, days: int, seconds: float, book: Path | None, as_json: bool) -> int:
    """Load the demo house afresh and print its coming days: from market list to finished write-up."""
    begun = time.monotonic()
    file = book or location.demo_path()
    now = clock.now(start or clock.now().date())
    open_book(file)
    owner = demo_house.load(now)
    kept = new_plan(owner, now.date(), now, days=days, seconds=seconds)
    plan_days.accept(owner, kept.number, now)
    whole = books.load_book(owner)
    tonight = stove.next_sitting(kept.plan, now)
    with progress("Working out tonight's run sheet", stove.SECONDS):
        sheet = stove.of_plan(whole, kept.plan, tonight.day, tonight.meal) if tonight else None
    chosen = _worth_writing_up(whole, sheet)
    week = DemoWeek(
        house=whole.house.name,
        now=now,
        table=table.of_plan(whole, plan_days.the_current(owner, now)),
        market=market.of_plan(whole, kept.plan),
        bench=bench.of_plan(whole, kept.plan),
        stove=sheet,
        shelf=shelf.of_book(whole, now),
        write_up=chosen,
        seconds=time.monotonic() - begun,
    )
    show(week, _pages(week, whole, file), as_json=as_json)
    return int(not kept.plan.servings)


def _worth_writing_up(book: Book, sheet: stove.StoveView | None) -> str:
    """The dish that takes most of tonight's work; the first of the book where nothing is cooked."""
    cooked = [dish for dish, _ in sheet.cooked] if sheet else []
    return max(cooked, key=lambda d: (len(d.steps), d.id)).id if cooked else book.dishes[0].id


def _pages(week: DemoWeek, book: Book, file: Path) -> Iterator[str]:
    yield from _head(week, book)
    yield from table_paper.plan(week.table)
    yield from market_paper.lists(week.market)
    yield from bench_paper.view(week.bench)
    if week.stove:
        yield from stove_paper.view(week.stove)
    yield from shelf_paper.view(week.shelf)
    yield from table_paper.nutrition(week.table)
    yield from table_paper.waste(week.table)
    yield from page_paper.view(page.of_book(book, week.write_up).write_up, "Page: ")
    yield from _foot(week, file)


def _head(week: DemoWeek, book: Book) -> Iterator[str]:
    house, days = book.house, len(week.table.days)
    people = [f"{p.name} ({int(p.age_years(week.now.date()))})" for p in house.people]
    holds = [
        words.count(house.burners, "burner"),
        words.count(len(book.dishes), "dish", "dishes") + " in the book",
        words.count(len(book.lots), "lot") + " on the shelf",
        words.count(len(book.offers), "pack") + " at the market",
    ]
    yield f"{week.house}: {words.count(days, 'day')} from {words.moment(week.now)}"
    yield from paragraph(f"{listing(people)}; {listing(holds)}.", indent="")


def _foot(week: DemoWeek, file: Path) -> Iterator[str]:
    yield from heading("And now")
    yield from paragraph(f"The demo took {week.seconds:.0f} s. Its book is {file}; your own is untouched.")
    yield from paragraph("Open the pages in a browser on this machine with:")
    yield f"    chauka serve --book {shlex.quote(str(file))} --today {week.now.date()}"
    yield from paragraph("and look at one thing alone with, for example:")
    yield f"    chauka shelf --book {shlex.quote(str(file))} --today {week.now.date()}"
