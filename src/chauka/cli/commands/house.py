"""`chauka house`: who lives here; check, dump, restore."""

from __future__ import annotations

from pathlib import Path

import click

from chauka.cli.paper import house as paper
from chauka.cli.sections import Section
from chauka.cli.session import BOOK, JSON, Session, with_book
from chauka.cli.session import show as print_out
from chauka.services import dumps, house
from chauka.store.opening import open_book


@click.group(cls=Section)
def command() -> None:
    """People, equipment, money and rules; check the book, dump it, restore it."""


@command.command()
@with_book
def show(session: Session) -> None:
    """Who lives here, with what, and by which rules."""
    view = house.view(session.household)
    session.show(view, paper.view(view, session.now.date()))


@command.command()
@with_book
def check(session: Session) -> int:
    """Say in words what is wrong with the book; exit code 1 where something stops the planning."""
    found = house.check(session.household, session.now)
    session.show(found, paper.faults(found))
    return int(any(fault.stops for fault in found))


@command.command()
@click.argument("file", type=click.Path(dir_okay=False, path_type=Path))
@with_book
def dump(session: Session, *, file: Path) -> None:
    """Write everything (dishes, shelf, ledger, prices, plans) to one JSON FILE, whole or not at all."""
    made = dumps.dump(session.household, file, session.now)
    session.show(made, paper.dumped(made, "Dumped"))


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Also where the book is of another house, which is then gone from it.")
@BOOK
@JSON
def restore(*, file: Path, replace: bool, book: Path | None, as_json: bool) -> None:
    """Bring a dumped FILE in. A damaged or foreign one is refused, with the place, and changes nothing."""
    open_book(book)
    made = dumps.restore(file, replace=replace)
    print_out(made, paper.dumped(made, "Restored"), as_json=as_json)
