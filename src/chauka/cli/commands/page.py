"""`chauka page`: a dish written up for others."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import click

from chauka.cli.paper import page as paper
from chauka.cli.session import DAY, Session, with_book
from chauka.errors import InputError
from chauka.publishing import HOUSE_STYLE, Credits, Film
from chauka.publishing.card_art import Frame
from chauka.services import page
from chauka.store.files import write_whole

FILE = click.Path(dir_okay=False, path_type=Path)
FOLDER = click.Path(file_okay=False, path_type=Path)
FRAMES = {frame.value.name: frame for frame in Frame}


@click.command()
@click.argument("dish")
@click.option("--html", type=FILE, help="Also write the sheet to this file, for screen and print.")
@click.option("--data", type=FILE, help="Also write the page data (schema.org Recipe, JSON-LD) to this file.")
@click.option(
    "-o", "--output", type=FOLDER, help="Write the whole pack into this folder: sheets, cards, page data, film."
)
@click.option(
    "--narration", type=FILE, help="The film's narration (WebVTT or SubRip): captions, chapters, cards in step."
)
@click.option(
    "--style", default=HOUSE_STYLE, show_default=True, help="The style: its name, or a TOML file of your own."
)
@click.option("--season", help="Which season's accent of the style to use.")
@click.option("--frame", "frames", multiple=True, type=click.Choice(list(FRAMES)), help="Size of the cards' pictures.")
@click.option("--author", help="Who wrote it, as it shall stand on the page.")
@click.option("--published", type=DAY, help="The day it is published, for the page data.")
@click.option("--page-url", help="The address of the page.")
@click.option("--film-url", help="The address of the film, for clip offsets in the page data.")
@click.option(
    "--check", type=FOLDER, help="Prove that every number in this pack is the dish's; exit 1 where one is not."
)
@with_book
def command(
    session: Session,
    *,
    dish: str,
    html: Path | None,
    data: Path | None,
    output: Path | None,
    narration: Path | None,
    style: str,
    season: str | None,
    frames: tuple[str, ...],
    check: Path | None,
    author: str | None,
    published: date | None,
    page_url: str | None,
    film_url: str | None,
) -> None:
    """Write up DISH (its id, see `chauka dish`): lines, steps, times, nutrition, keeping, cautions.

    With -o, writes the whole pack with a manifest: the sheet as PDF and HTML in two sizes and languages, page
    data, on-screen cards, and with --narration the captions, chapters, timeline and text of the film.
    """
    credit = Credits(author, published, page_url, film=Film(film_url) if film_url else None)
    if check:
        found = page.check(session.household, dish, check, style=style, season=season, credit=credit)
        session.show([{"path": f.path, "complaint": f.complaint} for f in found], paper.checked(found))
        if found:
            click.get_current_context().exit(1)
        return
    if narration and not output:
        raise InputError({"narration": ("is for a pack; say where with -o FOLDER",)})
    if output:
        made = page.write_pack(
            session.household, dish, output, style=style, season=season, narration=narration,
            credit=credit, frames=tuple(FRAMES[f] for f in frames) or (Frame.HD,),
        )  # fmt: skip
        summary = {"folder": str(output), "files": len(made.files), "bytes": made.bytes}
        session.show(summary, paper.pack(made))
        return
    view = page.write_up(session.household, dish)
    if html:
        write_whole(html, view.html.encode(), mode=0o644)
    if data:
        write_whole(data, json.dumps(view.data, ensure_ascii=False, indent=2).encode(), mode=0o644)
    session.show(view.data, paper.view(view.write_up))
