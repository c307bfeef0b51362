"""`chauka dish`: the dish book."""

from __future__ import annotations

import click

from chauka.cli.commands import dish_nutrients, dish_reading
from chauka.cli.paper import dish as paper
from chauka.cli.paper import house as house_paper
from chauka.cli.sections import Section
from chauka.cli.session import Session, with_book
from chauka.services import dishes, past


class DishSection(Section):
    """`chauka dish` alone lists the book."""

    usual = "list"


@click.group(cls=DishSection)
def command() -> None:
    """The dish book: all dishes, or one with its nutrients, allergens, keeping and cautions."""


command.add_command(dish_reading.read)
command.add_command(dish_reading.lines)
command.add_command(dish_reading.teach)
command.add_command(dish_nutrients.command)
command.add_command(dish_nutrients.weigh)
command.add_command(dish_nutrients.allergens)


@command.command(name="list")
@with_book
def every(session: Session) -> None:
    """All dishes, by course."""
    found = dishes.catalogue(session.household)
    session.show(found, paper.catalogue(found))


@command.command()
@click.argument("dish")
@with_book
def show(session: Session, *, dish: str) -> None:
    """One DISH with everything known about it."""
    view = dishes.show(session.household, dish)
    session.show(view, paper.show(view))


@command.command()
@click.argument("dish")
@with_book
def history(session: Session, *, dish: str) -> None:
    """How one DISH came to be what it is: every change, by field."""
    found = past.of_dish(session.household, dish)
    session.show(found, house_paper.versions(found))
