"""`chauka page`: a dish written up for others."""

from __future__ import annotations

import json
from pathlib import Path

import click

from chauka.cli.paper import page as paper
from chauka.cli.session import Session, with_book
from chauka.services import page
from chauka.store.files import write_whole

FILE = click.Path(dir_okay=False, path_type=Path)


@click.command()
@click.argument("dish")
@click.option("--html", type=FILE, help="Also write the sheet to this file, for screen and print.")
@click.option("--data", type=FILE, help="Also write the page data (schema.org Recipe, JSON-LD) to this file.")
@with_book
def command(session: Session, *, dish: str, html: Path | None, data: Path | None) -> None:
    """Write up DISH (its id, see `chauka dish`): lines, steps, times, nutrition, keeping, cautions."""
    view = page.write_up(session.household, dish)
    if html:
        write_whole(html, view.html.encode(), mode=0o644)
    if data:
        write_whole(data, json.dumps(view.data, ensure_ascii=False, indent=2).encode(), mode=0o644)
    session.show(view.data, paper.view(view.write_up))
