"""`chauka stove`: the run sheet of one sitting."""

from __future__ import annotations

import sys
from datetime import date, time
from pathlib import Path

import click

from chauka.cli.paper import stove as paper
from chauka.cli.planned import plan_in_force
from chauka.cli.progress import progress
from chauka.cli.session import CLOCK, DAY, Session, with_book
from chauka.cli.stove_live import cook
from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.services import clock, stove
from chauka.store.files import write_whole

FILE = click.Path(dir_okay=False, path_type=Path)


@click.command()
@click.argument("day", type=DAY, required=False, metavar="DATE")
@click.argument("sitting", type=click.Choice([str(m) for m in Meal]), required=False, metavar="SITTING")
@click.option("--serve", type=CLOCK, help="When it is to be on the table, if not at the usual time, as in 20:00.")
@click.option("--cooks", type=click.IntRange(1, 9), help="How many cook, if not as many as usual.")
@click.option("--burners", type=click.IntRange(1, 12), help="How many burners work, if not all of them.")
@click.option("--why", is_flag=True, help="Say of each step why it starts then and how late it may; show the proof.")
@click.option("--steady", is_flag=True, help="Begin up to a tenth earlier, so that a slow evening is seldom late.")
@click.option("--spoken", is_flag=True, help="Say each step as one would read it aloud.")
@click.option("--chart", type=FILE, help="Also write the sheet as lanes (SVG) to this file.")
@click.option("--calendar", type=FILE, help="Also write it as a calendar (iCalendar) that rings at each step.")
@click.option("--live", is_flag=True, help="Cook by it: type what is begun and done, and see the rest re-timed.")
@click.option("--seconds", type=click.FloatRange(0.1), default=stove.SECONDS, show_default=True, help="Longest search.")
@with_book
def command(
    session: Session,
    *,
    day: date | None,
    sitting: str | None,
    serve: time | None,
    cooks: int | None,
    burners: int | None,
    why: bool,
    steady: bool,
    spoken: bool,
    chart: Path | None,
    calendar: Path | None,
    live: bool,
    seconds: float,
) -> None:
    """The run sheet of one SITTING (breakfast, lunch, dinner) on DATE.

    Without a date: the main sitting that comes next. Without a sitting: dinner.
    """
    kept = plan_in_force(session.household, session.now)
    if day is None:
        coming = stove.next_sitting(kept.plan, session.now)
        if coming is None:
            raise InputError({"sitting": ("nothing is planned from here on; name a day and a sitting",)})
        day, meal = coming.day, coming.meal
    else:
        meal = Meal(sitting) if sitting else Meal.DINNER
    with progress("Working out the run sheet", seconds):
        tonight = stove.Tonight(serve, cooks, burners, steady)
        view = stove.run_sheet(session.household, day, meal, session.now, tonight=tonight, seconds=seconds)
    if chart:
        write_whole(chart, stove.chart(view), mode=0o644)
    if calendar:
        write_whole(calendar, stove.calendar(view, session.household.name, session.now), mode=0o644)
    if live and view.sheet.entries:
        ahead = session.now - clock.now()
        cook(session.household, day, meal, view.sheet, now=lambda: clock.now() + ahead, typed=sys.stdin)
        return
    session.show(view, paper.aloud(view) if spoken else paper.view(view, why=why))
