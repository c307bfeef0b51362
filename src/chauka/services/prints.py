"""What is printed for the house as a whole: lists and labels, the calendar feed, a season's booklet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from chauka import publishing, scheduling, season
from chauka.errors import InputError
from chauka.kitchen import Book, Dish
from chauka.publishing.booklet import Booklet, booklet, booklet_pdf
from chauka.publishing.calendar import bench_events, cooking_starts, feed, plan_events, use_by_events
from chauka.publishing.epub import booklet_epub
from chauka.publishing.lists import bench_pdf, labels_pdf, market_pdf, run_sheet_pdf
from chauka.season import SeasonState
from chauka.services import cooked, plan_days, shelf, stove
from chauka.store import books
from chauka.store.files import write_whole
from chauka.store.models import Household

LISTS = ("market", "bench", "labels", "run-sheet")
_RUN_SHEET_SECONDS = 5.0
_SEASONS = {2: "spring", 3: "spring", 4: "spring", 5: "summer", 6: "summer", 7: "rains", 8: "rains", 9: "rains",
            10: "autumn", 11: "autumn"}  # fmt: skip
"""Months of the seasons as north India knows them; the others are winter (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Printed:
    """A file that was made: its name and its bytes."""

    name: str
    data: bytes


def one_list(household: Household, which: str, now: datetime, *, style: str = publishing.HOUSE_STYLE) -> Printed:
    """One of the lists of the plan in force, as PDF."""
    if which not in LISTS:
        raise InputError({"list": (f"there is no list {which!r}; there are {', '.join(LISTS)}",)})
    book, look = books.load_book(household), publishing.style(style, season=season_name(now.date()))
    plan = plan_days.the_current(household, now).plan
    names = {d.id: d.name for d in book.dishes}
    if which == "market":
        return Printed("market.pdf", market_pdf(plan, names, look=look))
    if which == "run-sheet":
        sitting = stove.next_sitting(plan, now)
        if sitting is None:
            raise InputError({"list": ("nothing is left to cook in this plan; plan more days first",)})
        sheet = stove.of_plan(book, plan, sitting.day, sitting.meal, seconds=_RUN_SHEET_SECONDS).sheet
        return Printed("run-sheet.pdf", run_sheet_pdf(sheet, str(sitting.meal).capitalize(), look=look))
    bench = scheduling.bench_list(plan, book)
    if which == "labels":
        return Printed("labels.pdf", labels_pdf(bench.labels, names, look=look))
    return Printed("bench.pdf", bench_pdf(bench, look=look))


def calendar(household: Household, now: datetime) -> Printed:
    """The house's calendar feed: the plan in force, its work ahead and cooking starts, and the shelf's last days."""
    book = books.load_book(household)
    kept = plan_days.the_current(household, now)
    names = {d.id: d.name for d in book.dishes}
    on_shelf = [(one.lot, one.name, one.use_by) for one in shelf.view(household, now).lots]
    events = [
        *plan_events(kept.plan, names),
        *bench_events(scheduling.bench_list(kept.plan, book), names),
        *cooking_starts(kept.plan, book.dishes),
        *use_by_events(on_shelf),
    ]
    return Printed("calendar.ics", feed(book.house.name, events, kept.made))


def bound(household: Household, on: date, *, title: str = "", author: str = "") -> Booklet:
    """The season's dishes: all whose chief food is not out of season in that month."""
    book = books.load_book(household)
    dishes = [d for d in book.dishes if _in_season(d, book, on.month)]
    if not dishes:
        raise InputError({"booklet": (f"no dish of the book is in season in {on:%B}",)})
    name = season_name(on)
    weighed = cooked.of_book(household, book)
    written = [publishing.write_up(d, book.house, weighed.get(d.id, ())) for d in dishes]
    return booklet(title or f"A {name} kitchen", written, book.house, season_name=name.capitalize(), author=author)


def booklet_file(made: Booklet, kind: str, on: date, *, style: str = publishing.HOUSE_STYLE) -> Printed:
    """The booklet as `pdf` or `epub`."""
    look = publishing.style(style, season=season_name(on))
    if kind == "pdf":
        return Printed("booklet.pdf", booklet_pdf(made, look))
    if kind == "epub":
        return Printed("booklet.epub", booklet_epub(made, on, look))
    raise InputError({"booklet": (f"there is no booklet as {kind!r}; there are pdf and epub",)})


def write(folder: Path, files: tuple[Printed, ...]) -> None:
    """Write files into a folder."""
    if folder.exists() and not folder.is_dir():
        raise InputError({"folder": (f"{folder} is a file; name a folder",)})
    for file in files:
        write_whole(folder / file.name, file.data, mode=0o644)


def season_name(on: date) -> str:
    """The season of a day."""
    return _SEASONS.get(on.month, "winter")


def _in_season(dish: Dish, book: Book, month: int) -> bool:
    return season.state(dish.base, month, book.house.region) is not SeasonState.OUT


__all__ = ["LISTS", "Printed", "booklet_file", "bound", "calendar", "one_list", "season_name", "write"]
