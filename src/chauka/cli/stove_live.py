"""`chauka stove --live`: cooking by the sheet at a terminal; the same evening as on the pages."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from datetime import date, datetime

import click

from chauka.cli.paper.layout import columns, paragraph
from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.scheduling import RunSheet
from chauka.services import evening
from chauka.services.evening_anew import planned_anew
from chauka.store.models import Household

_KEYS = {"b": "begin", "d": "done", "m": "more", "s": "skip", "a": "again", "p": "pause", "r": "resume"}
HELP = "b 3 begin · d 3 done · m 3 five more minutes · s 3 leave out · a 3 not begun · p pause · r go on · q leave"


def cook(
    household: Household,
    day: date,
    meal: Meal,
    sheet: RunSheet,
    *,
    now: Callable[[], datetime],
    typed: Iterable[str],
) -> None:
    """Show the evening, take one line after the other as a tap, and show what it made of the rest.

    The evening stays in the book when the lines end: a phone, or the next call, goes on with it.
    """
    going = evening.begin(household, day, meal, sheet, now())
    _show(going, now())
    for line in typed:
        if line.strip().lower() in ("q", "quit"):
            break
        try:
            if line.strip():
                key, number = _read(line)
                going = evening.did(household, day, meal, now(), deed=key, number=number, again=_anew(sheet))
            _show(going, now())
        except InputError as error:
            click.echo(str(error))


def _anew(sheet: RunSheet) -> Callable[[evening.Evening, float], evening.Evening]:
    return lambda going, at: planned_anew(going, sheet, at)


def _read(line: str) -> tuple[str, int]:
    key, _, number = line.strip().lower().partition(" ")
    if key not in _KEYS or not (number.strip().isdigit() or (key in "pr" and not number.strip())):
        raise InputError({"stove": (f"{line.strip()!r} is not understood; type {HELP}",)})
    return _KEYS[key], int(number or 1) - 1


def _show(going: evening.Evening, now: datetime) -> None:
    for line in view(evening.retime(going, now)):
        click.echo(line.rstrip())


def view(live: evening.Live) -> Iterator[str]:
    """The evening now: when it comes to the table, what goes on, and what comes."""
    late = f", {live.late_min:.0f} min later than planned" if live.late_min >= 1 else ""
    yield from paragraph(f"{live.at:%H:%M} · on the table at {live.serve:%H:%M}{late}{' · paused' * live.paused}")
    if live.over:
        yield from paragraph("Everything is done.")
        return
    yield from columns(map(_row, (r for r in live.in_order if r.state != evening.State.DONE)), "rlll")
    yield from paragraph(HELP)


def _row(one: evening.LiveRow) -> tuple[str, str, str, str]:
    going = f"until {one.end:%H:%M}" if one.state == evening.State.GOING else f"{one.start:%H:%M}"
    return f"{one.number + 1}", going, one.row.where, one.row.text
