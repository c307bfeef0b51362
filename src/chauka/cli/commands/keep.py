"""`chauka shelf keep`: how long something keeps, and why; `chauka shelf forget`: unlearn what a food taught."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import click

from chauka.cli.commands.stay import STAY
from chauka.cli.paper import keep as paper
from chauka.cli.session import BOOK, DAY, HOUSEHOLD, JSON, TODAY, Session, show, with_book
from chauka.errors import InputError
from chauka.keeping import Stay
from chauka.kitchen import Place
from chauka.services import clock, keep
from chauka.store import books
from chauka.store.models import Household
from chauka.store.opening import open_book


@click.command(name="keep")
@click.argument("what")
@click.option("--place", type=click.Choice([str(p) for p in Place]), default="fridge", show_default=True)
@click.option("--fridge", "fridge_c", type=float, help="The refrigerator's temperature [°C]. Default: the house's.")
@click.option("--room", "room_c", type=float, help="The room's temperature [°C]. Default: the house's.")
@click.option("--since", type=DAY, help="The day it came into this form and place. Default: now.")
@click.option("--age-days", type=float, help="How old it already was then. Default: as such food usually is.")
@click.option(
    "--was", "history", type=STAY, multiple=True, help="A stay before that, as in 1h@31 (several may be given)."
)
@click.option("--beside", multiple=True, help="A food that stands with it (several may be given).")
@click.option("--open", "covered", flag_value=False, default=True, help="It stands open, neither bagged nor boxed.")
@click.option("--why", is_flag=True, help="Say the reason, the range, the cautions and what to buy.")
@BOOK
@HOUSEHOLD
@TODAY
@JSON
def keep_command(
    *,
    what: str,
    place: str,
    fridge_c: float | None,
    room_c: float | None,
    since: date | None,
    age_days: float | None,
    history: tuple[Stay, ...],
    beside: tuple[str, ...],
    covered: bool,
    why: bool,
    book: Path | None,
    house_name: str | None,
    today: date | None,
    as_json: bool,
) -> None:
    """How long WHAT keeps: "spinach, picked", a food, or a dish of the book; with its rule and its source.

    It answers without a book as well: then for a plain house with a refrigerator at 7 °C.
    """
    owner = _owner(book, house_name)
    now = clock.now(today)
    begin = now if since is None or since == now.date() else clock.now(since)
    answer = keep.ask(
        what,
        books.load_book(owner) if owner else keep.blank_book(),
        begin,
        household=owner,
        place=Place(place),
        covered=covered,
        age_days=age_days,
        fridge_c=fridge_c,
        room_c=room_c,
        history=history,
        beside=beside,
    )
    show(answer, paper.answer(answer, why=why), as_json=as_json)


@click.command(name="forget")
@click.argument("food")
@with_book
def forget_command(session: Session, *, food: str) -> None:
    """Count what was logged of FOOD so far no more: its days are the published ones again."""
    name = keep.forget(session.household, food, books.load_book(session.household), session.now)
    session.show({"forgotten": name}, [f"What {name} taught this house is forgotten; its days are the published ones."])


def _owner(book: Path | None, house_name: str | None) -> Household | None:
    """The household asked for; None where nobody named one and there is no book yet."""
    open_book(book)
    try:
        return books.household(house_name)
    except InputError:
        if book is not None or house_name is not None:
            raise
        return None
