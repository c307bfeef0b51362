"""`chauka shelf`: what is in the house, and what happens to it."""

from __future__ import annotations

from datetime import date, datetime

import click

from chauka.cli.commands.keep import forget_command, keep_command
from chauka.cli.paper import shelf as paper
from chauka.cli.sections import Section
from chauka.cli.session import DAY, Session, with_book
from chauka.kitchen import Deed, Form, Place
from chauka.services import clock, shelf


@click.group(cls=Section)
def command() -> None:
    """What is in the house, until when and why; used, eaten, binned, added.

    `chauka shelf` alone shows it, what must be used first at the top.
    """


command.add_command(keep_command)
command.add_command(forget_command)


@command.command()
@with_book
def show(session: Session) -> None:
    """Every lot with its use-by and the reason, first expired first."""
    view = shelf.view(session.household, session.now)
    session.show(view, paper.view(view))


@command.command()
@click.argument("food")
@click.argument("amount")
@click.option("--form", type=click.Choice([str(f) for f in Form]), default="whole", show_default=True)
@click.option("--place", type=click.Choice([str(p) for p in Place]), default="fridge", show_default=True)
@click.option("--since", type=DAY, help="The day it came in. Default: now.")
@click.option("--age-days", type=float, default=0.0, show_default=True, help="How old it already was then.")
@click.option("--note", default="", help="Anything to remember.")
@with_book
def add(
    session: Session,
    *,
    food: str,
    amount: str,
    form: str,
    place: str,
    since: date | None,
    age_days: float,
    note: str,
) -> None:
    """Put FOOD on the shelf, AMOUNT in words: "2 bunches", "1.5 kg", "3 medium"."""
    made = shelf.add(
        session.household,
        food,
        amount,
        session.now,
        form=Form(form),
        place=Place(place),
        since=_moment(since, session.now) if since else None,
        age_days=age_days,
        note=note,
    )
    session.show(made, paper.added(made, session.now.date()))


def _moment(since: date, now: datetime) -> datetime:
    return now if since == now.date() else clock.now(since)


def _deed(deed: Deed, text: str) -> None:
    @command.command(name=str(deed), help=text)
    @click.argument("lot")
    @click.argument("amount", required=False)
    @click.option("--why", default="", help="The reason, to buy better next time.")
    @with_book
    def log(session: Session, *, lot: str, amount: str | None, why: str) -> None:
        made = shelf.log(session.household, lot, deed, session.now, amount=amount, why=why)
        session.show(made, paper.logged(made))


_deed(Deed.USED, "AMOUNT of LOT went into cooking (all of it where no amount is given).")
_deed(Deed.EATEN, "AMOUNT of LOT was eaten as it was.")
_deed(Deed.BINNED, "AMOUNT of LOT went into the bin; say --why.")


@command.command()
@click.argument("lot")
@click.argument("place", type=click.Choice([str(p) for p in Place]))
@with_book
def move(session: Session, *, lot: str, place: str) -> None:
    """LOT now stands in PLACE."""
    made = shelf.move(session.household, lot, Place(place), session.now)
    session.show(made, paper.logged(made))


@command.command(name="open")
@click.argument("lot")
@with_book
def open_it(session: Session, *, lot: str) -> None:
    """The pack of LOT was opened."""
    made = shelf.open_lot(session.household, lot, session.now)
    session.show(made, paper.logged(made))
