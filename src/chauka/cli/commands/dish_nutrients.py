"""`chauka dish nutrients`, `weigh` and `allergens`: what a dish gives, and why; what it weighs; what to declare."""

from __future__ import annotations

import click

from chauka.cli.paper import nutrients as paper
from chauka.cli.session import Session, with_book
from chauka.composition import Factors, Regime, Rule
from chauka.errors import InputError
from chauka.services import cooked, nutrients


@click.command(name="nutrients")
@click.argument("dish", required=False)
@click.option("--all", "whole_book", is_flag=True, help="Every dish of the book at once.")
@click.option("--why", "tag", help="Where one nutrient comes from, line by line, as in FE or ENERC_KCAL.")
@click.option(
    "--factors",
    type=click.Choice([str(f.value) for f in Factors]),
    default=str(Factors.LEARNED.value),
    show_default=True,
    help="Losses in cooking: learned from measured pairs, or as published in 2007.",
)
@click.option(
    "--label",
    "rule",
    type=click.Choice([str(r.value) for r in Rule]),
    help="The nutrition label by this rule: per 100 g and a portion, rounded.",
)
@with_book
def command(
    session: Session, *, dish: str | None, whole_book: bool, tag: str | None, factors: str, rule: str | None
) -> None:
    """What a portion of DISH gives, with its spread; or of the whole book (--all)."""
    chosen = Factors(factors)
    if whole_book:
        book = nutrients.of_book(session.household, chosen)
        session.show(book, paper.of_book(book))
    elif dish is None:
        raise InputError({"dish": ("name a dish, or give --all; `chauka dish list` shows them",)})
    elif tag is not None:
        reasons = nutrients.why(session.household, dish, tag, chosen)
        session.show(reasons, paper.why(reasons))
    elif rule is not None:
        printed = nutrients.label(session.household, dish, Rule(rule))
        session.show(printed, paper.label(printed))
    else:
        view = nutrients.of_dish(session.household, dish, chosen)
        session.show(view, paper.of_dish(view))


@click.command()
@click.argument("dish")
@click.argument("weight")
@click.option("--portions", type=float, help="For how many portions it was made. Default: as the dish is written.")
@with_book
def weigh(session: Session, *, dish: str, weight: str, portions: float | None) -> None:
    """Write down the WEIGHT of a finished DISH without its pot, as in 850g or 1.2kg.

    From then on its nutrients rest on the scale instead of an estimate.
    """
    done = cooked.weigh(session.household, dish, weight, session.now, portions=portions)
    session.show(done, paper.weighed(done))


@click.command()
@click.argument("dish")
@click.option(
    "--list", "regime", type=click.Choice([str(r.value) for r in Regime]), default=str(Regime.EU.value),
    show_default=True, help="Whose list of allergens.",
)  # fmt: skip
@click.option("--may-contain", multiple=True, help="What may be there besides, as in nuts: only what you say.")
@with_book
def allergens(session: Session, *, dish: str, regime: str, may_contain: tuple[str, ...]) -> None:
    """What a list of allergens wants named of DISH, and what diets may forbid in it."""
    view = nutrients.allergens(session.household, dish, Regime(regime), may_contain)
    session.show(view, paper.allergens(view))
