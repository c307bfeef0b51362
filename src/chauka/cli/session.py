"""What every command shares: which book, which day, and how to print."""

from __future__ import annotations

import functools
import json
import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, datetime, time
from pathlib import Path
from typing import Any

import click

from chauka.errors import InputError
from chauka.services import clock
from chauka.store import codec, copies
from chauka.store.books import household
from chauka.store.models import Household
from chauka.store.opening import open_book


class Day(click.ParamType[date]):
    """A day as in 2027-03-14."""

    name = "date"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> date:
        """Read it, or say how it is written."""
        if isinstance(value, date):
            return value
        try:
            return date.fromisoformat(value)
        except ValueError:
            self.fail(f"{value!r} is no day; write it as in 2027-03-14", param, ctx)


class Clock(click.ParamType[time]):
    """A time of day as in 20:00."""

    name = "time"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> time:
        """Read it, or say how it is written."""
        if isinstance(value, time):
            return value
        try:
            return datetime.strptime(value, "%H:%M").time()  # noqa: DTZ007 - local wall time
        except ValueError:
            self.fail(f"{value!r} is no time of day; write it as in 20:00", param, ctx)


DAY, CLOCK = Day(), Clock()
BOOK = click.option(
    "--book",
    type=click.Path(dir_okay=False, path_type=Path),
    help="The book's file. Default: CHAUKA_BOOK, else book.sqlite3 in your data folder.",
)
JSON = click.option("--json", "as_json", is_flag=True, help="Print for programs instead of people.")
TODAY = click.option("--today", type=DAY, help="Answer as if it were seven in the morning of that day.")
HOUSEHOLD = click.option("--household", "house_name", help="Which household, where several share a book.")


@dataclass(frozen=True, slots=True)
class Session:
    """An open book, the moment, and the reader."""

    household: Household
    now: datetime
    as_json: bool

    def show(self, value: Any, lines: Iterable[str]) -> None:
        """Print a value: as JSON, or as lines for people."""
        show(value, lines, as_json=self.as_json)


def show(value: Any, lines: Iterable[str], *, as_json: bool) -> None:
    """Print a value: as JSON, or as lines for people."""
    if as_json:
        click.echo(json.dumps(_finite(codec.to_plain(value)), ensure_ascii=False, indent=2))
        return
    for line in lines:
        click.echo(line.rstrip())


def _finite(plain: Any) -> Any:
    """JSON has no infinity: what cannot be said as a number is null."""
    if isinstance(plain, float) or plain == codec.NO_BOUND:
        return plain if isinstance(plain, float) and math.isfinite(plain) else None
    if isinstance(plain, Mapping):
        return {key: _finite(value) for key, value in plain.items()}
    return [_finite(value) for value in plain] if isinstance(plain, list) else plain


def with_book(command: Callable[..., Any]) -> Callable[..., Any]:
    """Give a command `--book`, `--household`, `--today` and `--json`, and hand it an open `Session`."""

    @BOOK
    @HOUSEHOLD
    @TODAY
    @JSON
    @functools.wraps(command)
    def opened(
        *args: Any, book: Path | None, house_name: str | None, today: date | None, as_json: bool, **options: Any
    ) -> Any:
        open_book(book)
        _copy_of_today()
        session = Session(household(house_name), clock.now(today), as_json)
        return command(session, *args, **options)

    return opened


def _copy_of_today() -> None:
    """A copy that cannot be made stops nobody from cooking, but is said."""
    try:
        copies.make_daily(clock.now())
    except InputError as error:
        click.echo(f"chauka: today's copy of the book was not made: {error}", err=True)
