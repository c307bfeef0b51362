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
from chauka.services import page, prints
from chauka.store.files import write_whole

FILE = click.Path(dir_okay=False, path_type=Path)
FOLDER = click.Path(file_okay=False, path_type=Path)
FRAMES = {frame.value.name: frame for frame in Frame}


@click.command()
@click.argument("dish", required=False)
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
@click.option("--lists", type=FOLDER, help="Print market list, bench list, labels and run sheet into this folder.")
@click.option("--calendar", type=FILE, help="Write the house's calendar feed (iCalendar) to this file.")
@click.option("--booklet", type=FOLDER, help="Bind the season's dishes as PDF and EPUB into this folder.")
@click.option("--title", default="", help="The booklet's title.")
@click.option(
    "--check", type=FOLDER, help="Prove that every number in this pack is the dish's; exit 1 where one is not."
)
@with_book
def command(
    session: Session,
    *,
    dish: str | None,
    html: Path | None,
    data: Path | None,
    output: Path | None,
    narration: Path | None,
    style: str,
    season: str | None,
    frames: tuple[str, ...],
    check: Path | None,
    lists: Path | None,
    calendar: Path | None,
    booklet: Path | None,
    title: str,
    author: str | None,
    published: date | None,
    page_url: str | None,
    film_url: str | None,
) -> None:
    """Write up DISH (its id, see `chauka dish`): lines, steps, times, nutrition, keeping, cautions.

    With -o, writes the whole pack with a manifest: the sheet as PDF and HTML in two sizes and languages, page
    data, on-screen cards, and with --narration the captions, chapters, timeline and text of the film.
    Without a dish it prints what is the whole house's: --lists, --calendar, --booklet.
    """
    if lists or calendar or booklet:
        _print_house(session, lists, calendar, booklet, title=title, author=author or "", style=style)
    if dish is None:
        if not (lists or calendar or booklet):
            raise InputError({"dish": ("say which dish (see `chauka dish`), or --lists, --calendar or --booklet",)})
        return
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


def _print_house(
    session: Session, lists: Path | None, calendar: Path | None, booklet: Path | None, *,
    title: str, author: str, style: str,
) -> None:  # fmt: skip
    made: list[tuple[Path, int]] = []
    if lists:
        files = tuple(prints.one_list(session.household, which, session.now, style=style) for which in prints.LISTS)
        prints.write(lists, files)
        made += [(lists / f.name, len(f.data)) for f in files]
    if calendar:
        feed = prints.calendar(session.household, session.now)
        write_whole(calendar, feed.data, mode=0o644)
        made.append((calendar, len(feed.data)))
    if booklet:
        day = session.now.date()
        bound = prints.bound(session.household, day, title=title, author=author)
        files = tuple(prints.booklet_file(bound, kind, day, style=style) for kind in ("pdf", "epub"))
        prints.write(booklet, files)
        made += [(booklet / f.name, len(f.data)) for f in files]
    rows = [{"file": str(path), "bytes": size} for path, size in made]
    session.show(rows, paper.printed(made))
