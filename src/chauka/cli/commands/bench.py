"""`chauka bench`: what to prepare ahead."""

from __future__ import annotations

import click

from chauka.cli.paper import bench as paper
from chauka.cli.planned import plan_in_force
from chauka.cli.session import Session, with_book
from chauka.services import bench


@click.command()
@with_book
def command(session: Session) -> None:
    """What to clean, soak, cut and boil ahead, and when, with labels for the boxes."""
    plan_in_force(session.household, session.now)
    view = bench.view(session.household, session.now)
    session.show(view, paper.view(view))
