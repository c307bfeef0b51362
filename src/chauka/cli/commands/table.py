"""`chauka table`: the plan of the coming days."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import click

from chauka.cli.paper import table as paper
from chauka.cli.planned import DAYS, new_plan, plan_in_force
from chauka.cli.sections import Section
from chauka.cli.session import DAY, Session, with_book
from chauka.services import plan_days, table
from chauka.services.table import TableView
from chauka.store.books import load_book


@click.group(cls=Section)
def command() -> None:
    """The plan of the coming days, with its proof, nutrition, money and waste.

    `chauka table` alone shows the plan in force, or makes one. Exit code 1 where rules clash.
    """


@command.command()
@click.option("--new", is_flag=True, help="Make a new proposal, near the plan in force.")
@click.option("--from", "start", type=DAY, help="First day of the new proposal. Default: today.")
@click.option("--days", type=click.IntRange(1, plan_days.MOST_DAYS), default=DAYS, show_default=True)
@click.option(
    "--seconds", type=click.FloatRange(0.5), default=plan_days.SECONDS, show_default=True, help="Longest search."
)
@with_book
def show(session: Session, *, new: bool, start: date | None, days: int, seconds: float) -> int:
    """The plan in force, or a new one."""
    if new or start:
        kept = new_plan(session.household, start or session.now.date(), session.now, days=days, seconds=seconds)
    else:
        kept = plan_in_force(session.household, session.now)
    view = table.of_plan(load_book(session.household), kept)
    session.show(view, _pages(view))
    return int(bool(view.clashes))


@command.command()
@click.argument("number", type=int, required=False)
@with_book
def accept(session: Session, *, number: int | None) -> None:
    """Follow proposal NUMBER from now on (the newest where none is given)."""
    kept = plan_days.accept(session.household, number, session.now)
    view = table.of_plan(load_book(session.household), kept)
    session.show(view, [f"Plan {kept.number} is followed from now on."])


def _pages(view: TableView) -> Iterator[str]:
    yield from paper.plan(view)
    yield from paper.nutrition(view)
    yield from paper.mends(view)
    yield from paper.recourse(view)
    yield from paper.waste(view)
