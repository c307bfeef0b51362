"""For whoever gets little iron from a plan: where vitamin C would help it, and where tea hinders it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from chauka import composition
from chauka.composition import DishNutrients, IronEffect, IronNote
from chauka.kitchen import Book, Sitting, TablePlan
from chauka.services.intake import PersonIntake


@dataclass(frozen=True, slots=True)
class IronAdvice:
    """One remark, and the sittings of the plan for which it holds."""

    note: IronNote
    sittings: tuple[Sitting, ...]


@dataclass(frozen=True, slots=True)
class Iron:
    """Who gets less iron than the reference, by name, and what could be done at which sittings; empty: nobody."""

    short: tuple[str, ...] = ()
    advice: tuple[IronAdvice, ...] = ()


def of_plan(plan: TablePlan, book: Book, known: Mapping[str, DishNutrients], eaten: tuple[PersonIntake, ...]) -> Iron:
    """The advice of a plan, from what its dishes give and what each person gets of them."""
    short = tuple(p.name for p in eaten for n in p.nutrients if n.tag == "FE" and n.share is not None and n.share < 1)
    if not short:
        return Iron()
    found: dict[IronEffect, list[tuple[Sitting, IronNote]]] = {}
    for sitting in plan.sittings:
        dishes = dict.fromkeys(serving.dish for serving in plan.at(sitting.day, sitting.meal))
        if dishes:
            for note in composition.iron_notes((book.dish(dish), known[dish]) for dish in dishes):
                found.setdefault(note.effect, []).append((sitting, note))
    of_use = ((effect, found[effect]) for effect in (IronEffect.PLAIN, IronEffect.HINDERED) if effect in found)
    return Iron(short, tuple(IronAdvice(told[0][1], tuple(sitting for sitting, _ in told)) for _, told in of_use))
