"""`chauka dish read` and `chauka dish lines`: what was written or said → a draft; no house needed."""

from __future__ import annotations

import json
import sys
from typing import BinaryIO

import click

from chauka.cli.paper import draft as paper
from chauka.cli.session import Session, with_book
from chauka.errors import InputError
from chauka.services import foods, reading, taught


@click.command()
@click.argument("file", type=click.File("rb"))
@click.option("--json", "as_json", is_flag=True, help="One JSON object for machines.")
def read(file: BinaryIO, *, as_json: bool) -> None:
    """Read FILE (or - for standard input): a recipe, a timed narration, or a page with Recipe data.

    Prints the draft dish and the questions that a careful editor would ask.
    """
    found = reading.read(_decoded(file.read(), getattr(file, "name", "-")))
    if as_json:
        click.echo(json.dumps(reading.draft_data(found), ensure_ascii=False, indent=2))
        return
    for row in paper.draft(found):
        click.echo(row)


@click.command()
@click.option("--json", "as_json", is_flag=True, help="One JSON object a line, in the same order.")
def lines(*, as_json: bool) -> None:
    """Read ingredient lines from standard input, one a line, and say what each holds."""
    source = (_decoded(raw, "standard input") for raw in sys.stdin.buffer)
    for data in reading.lines(source):
        click.echo(json.dumps(data, ensure_ascii=False) if as_json else paper.read_line(data))


@click.command()
@click.argument("name")
@click.argument("food")
@with_book
def teach(session: Session, *, name: str, food: str) -> None:
    """Say that NAME means FOOD in this house (a code, or words that are certain)."""
    code = taught.teach(session.household, name, food, session.now)
    said = f"{name} now means {foods.name(code)} ({code})."
    session.show({"name": name, "food": code}, [said])


def _decoded(raw: bytes, name: str) -> str:
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise InputError(
            {name: (f"is not UTF-8 text (byte {error.start}); save it as UTF-8 and try again",)}
        ) from error
