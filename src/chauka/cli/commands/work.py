"""`chauka work`: plan what the pages asked for. `chauka serve` starts it by itself."""

from __future__ import annotations

import os
from pathlib import Path

import click

from chauka.cli.session import BOOK, HOUSEHOLD
from chauka.services import running
from chauka.store.books import household
from chauka.store.opening import open_book

NICER = 10
"""How far it stands back behind everything else on this machine, the pages above all."""


@click.command()
@BOOK
@HOUSEHOLD
def command(*, book: Path | None, house_name: str | None) -> None:
    """Plan what the pages asked for, then end.

    The pages start this by themselves when somebody asks for a plan; it goes on when they are stopped.
    """
    os.nice(NICER)
    open_book(book)
    done = running.work(household(house_name))
    click.echo(f"{done} plan{'' if done == 1 else 's'} made" if done else "nothing is asked for")
