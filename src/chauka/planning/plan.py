"""The one call: a book, a first day and a number of days → the table plan with its proof."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date

from chauka.kitchen import Book, Serving, TablePlan
from chauka.planning.assemble import assemble
from chauka.planning.build import build
from chauka.planning.clash import clashes
from chauka.planning.facts import Facts, HouseFacts
from chauka.planning.solve import Cancel, Progress, solve

CLASH_SECONDS = 5.0


def plan(
    book: Book,
    start: date,
    days: int = 7,
    *,
    seconds: float = 20,
    previous: TablePlan | None = None,
    locked: Sequence[Serving] = (),
    progress: Progress | None = None,
    cancel: Cancel | None = None,
    facts: Facts | None = None,
) -> TablePlan:
    """Plan the sittings of `days` days from `start`.

    Parameters
    ----------
    seconds: how long the search may take [s]; the best plan so far comes back whenever it ends.
    previous: a plan to stay near to; each serving that changes costs the house's `change` weight.
    locked: servings that must stay.
    progress: called with (seconds, value, bound) while searching.
    cancel: asked now and then; True ends the search with the best plan so far.
    facts: a stand-in for the other engines, for tests.

    Raises
    ------
    InputError: no meal times, or a number of days outside 1 to 35.
    """
    known = facts or HouseFacts(book.house, {d.id: d for d in book.dishes}, start)
    built = build(book, start, days, known, previous=previous, locked=locked)
    result = solve(built.problem, seconds=seconds, progress=progress, cancel=cancel)
    return replace(assemble(built, result), clashes=clashes(built, result, min(CLASH_SECONDS, seconds)))
