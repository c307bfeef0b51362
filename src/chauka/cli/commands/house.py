"""`chauka house`: who lives here; check, dump, restore."""

from __future__ import annotations

from pathlib import Path

import click

from chauka.cli.paper import house as paper
from chauka.cli.sections import Section
from chauka.cli.session import BOOK, JSON, Session, with_book
from chauka.cli.session import show as print_out
from chauka.services import clock, dumps, house, house_changes, past, sharing
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
@click.argument("terms", nargs=-1)
@with_book
def order(session: Session, *, terms: tuple[str, ...]) -> None:
    """What a plan minds one after the other, as in `chauka house order waste money`; no TERMS: all weighed together.

    TERMS are among waste, money, shortfall, excess, repetition, liking, minutes, change.
    """
    house_changes.set_order(session.household, terms, session.now)
    said = f"First {', then '.join(terms)}, then the rest." if terms else "All that a plan minds is weighed together."
    session.show({"order": terms}, [said])


@command.command()
@with_book
def check(session: Session) -> int:
    """Say in words what is wrong with the book; exit code 1 where something stops the planning."""
    found = house.check(session.household, session.now, thorough=True)
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
@click.argument("folder", type=click.Path(path_type=Path))
@with_book
def export(session: Session, *, folder: Path) -> None:
    """Write everything into a new FOLDER as open formats: JSON Lines, CSV tables, a schema.org page for each dish.

    `chauka house restore FOLDER` reads it back.
    """
    made = dumps.export(session.household, folder, session.now)
    session.show(made, paper.dumped(made, "Exported"))


@command.command()
@click.argument("folder", type=click.Path(file_okay=False, path_type=Path), required=False)
@click.option("--list", "only_list", is_flag=True, help="Show the copies that there are.")
@BOOK
@JSON
def backup(*, folder: Path | None, only_list: bool, book: Path | None, as_json: bool) -> None:
    """Copy the book, into FOLDER (another disk, say) where one is named, and look the copy through.

    A copy is also made by itself on every day on which something has changed.
    """
    open_book(book)
    if only_list:
        print_out(found := dumps.copies_there(), paper.copies(found), as_json=as_json)
        return
    print_out(made := dumps.back_up(clock.now(), folder), paper.backed_up(made, "Copied to"), as_json=as_json)


@command.command()
@click.argument("file", type=click.Path(path_type=Path))
@click.option("--replace", is_flag=True, help="Also where the book is of another house, which is then gone from it.")
@BOOK
@JSON
def restore(*, file: Path, replace: bool, book: Path | None, as_json: bool) -> None:
    """Bring a dump, a copy or an export (FILE) in; a damaged or foreign one changes nothing.

    What is wrong with it is named by its place. The book as it was is copied first.
    """
    open_book(book)
    if dumps.is_copy(file):
        print_out(back := dumps.put_back(file, clock.now()), paper.backed_up(back, "Put back"), as_json=as_json)
        return
    made = dumps.restore(file, clock.now(), replace=replace)
    print_out(made, paper.dumped(made, "Restored"), as_json=as_json)


@command.command()
@click.option("--before", type=click.IntRange(1), help="Go on from this action's number, further back.")
@with_book
def history(session: Session, *, before: int | None) -> None:
    """What was done, action by action, the newest first."""
    seen = past.view(session.household, before)
    session.show(seen, paper.history(seen))


@command.command()
@click.argument("number", type=click.IntRange(1), required=False)
@with_book
def undo(session: Session, *, number: int | None) -> None:
    """Take back the last action, or the one of that NUMBER where nothing later built on it."""
    if number is None:
        session.show(done := past.undo(session.household, session.now), paper.undone(done, "Taken back"))
        return
    past.take_back(session.household, number, session.now)
    session.show({"number": number}, [f"Taken back: action {number}. `chauka house redo` does it again."])


@command.command()
@with_book
def redo(session: Session) -> None:
    """Do again what was taken back last."""
    session.show(done := past.redo(session.household, session.now), paper.undone(done, "Done again"))


@command.command()
@click.option(
    "--phrase", prompt=True, hide_input=True, confirmation_prompt=True, help="Asked for where it is left out."
)
@BOOK
def phrase(*, phrase: str, book: Path | None) -> None:
    """Set the pass phrase for `chauka serve --share`. Every device has to give it anew."""
    open_book(book)
    sharing.set_phrase(phrase)
    click.echo(f"The pass phrase is set. It is kept, as a hash, in {sharing.file()}.")


@command.command()
@click.option("--sign-out", "name", help="Sign out the device of that name.")
@click.option("--sign-out-all", is_flag=True, help="Sign out every device.")
@BOOK
@JSON
def devices(*, name: str | None, sign_out_all: bool, book: Path | None, as_json: bool) -> None:
    """The devices that gave the pass phrase; sign one or all of them out."""
    open_book(book)
    if name is not None or sign_out_all:
        gone = sharing.sign_out_named(None if sign_out_all else name)
        click.echo(f"Signed out: {gone}.")
        return
    found = sharing.devices(clock.now())
    print_out(found, paper.devices(found), as_json=as_json)
