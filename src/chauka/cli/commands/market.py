"""`chauka market`: the lists, and what was bought."""

from __future__ import annotations

import click

from chauka.cli.paper import market as paper
from chauka.cli.planned import plan_in_force
from chauka.cli.sections import Section
from chauka.cli.session import Session, with_book
from chauka.errors import InputError
from chauka.kitchen import Form, Place
from chauka.services import market, words
from chauka.store.books import load_book


@click.group(cls=Section)
def command() -> None:
    """What to buy on which market day, in packs and money; and what was bought.

    `chauka market` alone shows the lists.
    """


@command.command()
@with_book
def show(session: Session) -> None:
    """The market lists of the plan in force, by day and stall."""
    plan_in_force(session.household, session.now)
    view = market.lists(session.household, session.now)
    session.show(view, paper.lists(view))


@command.command()
@click.argument("food")
@click.argument("amount")
@click.argument("paid")
@click.option("--form", type=click.Choice([str(f) for f in Form]), help="How it came. Default: as usual.")
@click.option("--place", type=click.Choice([str(p) for p in Place]), help="Where it stands now. Default: as usual.")
@click.option("--age-days", type=float, default=0.0, show_default=True, help="How old it was when bought.")
@with_book
def bought(
    session: Session, *, food: str, amount: str, paid: str, form: str | None, place: str | None, age_days: float
) -> None:
    """Write down what was really bought: FOOD, AMOUNT ("2 bunches", "1 kg"), PAID in all (45 or 45.50)."""
    made = market.buy(
        session.household,
        food,
        amount,
        _coins(paid),
        session.now,
        form=Form(form) if form else None,
        place=Place(place) if place else None,
        age_days=age_days,
    )
    session.show(made, paper.bought(made, load_book(session.household).house.currency))


@command.command()
@click.argument("food")
@with_book
def prices(session: Session, *, food: str) -> None:
    """What was paid for FOOD so far."""
    seen = market.prices(session.household, food)
    currency = load_book(session.household).house.currency
    lines = [
        f"{words.day(p.on)} {p.on.year}: {words.money(p.price, currency)} for {words.weight(p.grams)}" for p in seen
    ]
    session.show(seen, lines or [f"No price of {food} was written down yet."])


def _coins(paid: str) -> int:
    try:
        return round(float(paid) * words.COINS_PER_UNIT)
    except (ValueError, OverflowError):
        raise InputError({"paid": (f"{paid!r} is no sum of money; write it as in 45 or 45.50",)}) from None
