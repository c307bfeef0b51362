"""The dish book on paper."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import groupby

from chauka import tables
from chauka.cli.paper.layout import INDENT, columns, heading, listing, paragraph
from chauka.kitchen import Line
from chauka.publishing.text import amount_text, grams_text, step_facts
from chauka.services import words
from chauka.services.dishes import DishLineView, DishView


def catalogue(found: Sequence[DishLineView]) -> Iterator[str]:
    """All dishes by course."""
    yield from heading("Dishes", words.count(len(found), "dish", "dishes"))
    for course, of_it in groupby(found, lambda one: one.dish.course):
        yield f"{course}"
        yield from columns(
            (
                (
                    one.dish.id,
                    one.dish.name,
                    f"{one.dish.hands_on_min:.0f} min",
                    f"liked by {listing(one.liked_by)}" if one.liked_by else "",
                )
                for one in of_it
            ),
            "llrl",
        )


def show(view: DishView) -> Iterator[str]:
    """One dish with everything known about it."""
    dish = view.dish
    yield from heading(dish.name, f"{dish.course}, {dish.portions:g} portions")
    yield from columns(_lines(view), "lrll")
    yield ""
    for number, step in enumerate(dish.steps, start=1):
        yield from paragraph(f"{number}. {step.text} [{step_facts(step)}]", hang=INDENT * 2 + " ")
    yield ""
    yield f"{INDENT}A portion of {view.nutrients.portion_g.mean:.0f} g gives"
    per_portion = view.nutrients.per_portion
    yield from columns(
        ((n.name, amount_text(per_portion[tag], n.unit)) for tag, n in tables.NUTRIENTS.items() if tag in per_portion),
        "ll",
        indent=INDENT * 2,
    )
    yield from paragraph(f"Keeps: {view.life.reason} ({view.life.rule}; {view.life.source})")
    contains = [f"{a} ({', '.join(view.foods.get(c, c) for c in codes)})" for a, codes in view.allergens.items()]
    if contains:
        yield from paragraph(f"Contains: {listing(contains)}.")
    for caution in (*dish.cautions, *(c.text for c in view.cautions)):
        yield from paragraph(f"! {caution}")


def _lines(view: DishView) -> Iterator[tuple[str, ...]]:
    part = ""
    for line in view.dish.lines:
        if line.part != part:
            part = line.part
            yield ("", "", f"{part}:" if part else "", "")
        yield _line(line, view)


def _line(line: Line, view: DishView) -> tuple[str, ...]:
    food = f"{view.foods[line.food]} ({line.food}), {line.form}"
    return (line.amount or "to taste", grams_text(line.grams), line.said, food)
