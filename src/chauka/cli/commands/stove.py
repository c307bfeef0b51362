"""`chauka stove`: the run sheet of one sitting."""

from __future__ import annotations

from datetime import date

import click

from chauka.cli.paper import stove as paper
from chauka.cli.planned import plan_in_force
from chauka.cli.progress import progress
from chauka.cli.session import DAY, Session, with_book
from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.services import stove


@click.command()
@click.argument("day", type=DAY, required=False, metavar="DATE")
@click.argument("sitting", type=click.Choice([str(m) for m in Meal]), required=False, metavar="SITTING")
@click.option("--seconds", type=click.FloatRange(0.1), default=stove.SECONDS, show_default=True, help="Longest search.")
@with_book
def command(session: Session, *, day: date | None, sitting: str | None, seconds: float) -> None:
    """The run sheet of one SITTING (breakfast, lunch, dinner) on DATE.

    Without a date: the main sitting that comes next.
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
        view = stove.run_sheet(session.household, day, meal, session.now, seconds=seconds)
    session.show(view, paper.view(view))
