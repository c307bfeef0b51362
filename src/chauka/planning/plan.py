"""The one call: a book, a first day and a number of days → the table plan with its proof."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from datetime import date, datetime

from chauka.composition import Weighed
from chauka.kitchen import Book, Serving, TablePlan
from chauka.planning.assemble import assemble
from chauka.planning.build import Built, build
from chauka.planning.clash import clashes
from chauka.planning.facts import Facts, HouseFacts
from chauka.planning.lexicographic import solve_for
from chauka.planning.markets import Chance
from chauka.planning.mend import mends
from chauka.planning.menu import Ground
from chauka.planning.past import Past, with_what_was
from chauka.planning.recourse import NOTHING, coming_market, likely_missing, recourse
from chauka.planning.solve import Cancel, Progress, Result

CLASH_SECONDS = 5.0
RECOURSE_SECONDS, RECOURSE_SHARE = 10.0, 0.4
"""How long the recourse list may take at most [s], and as a share of the search."""


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
    early: Callable[[TablePlan], None] | None = None,
    since: datetime | None = None,
    cooked: Mapping[str, date] | None = None,
    learned: Mapping[str, float] | None = None,
    chances: Mapping[str, Chance] | None = None,
    weighed: Mapping[str, Sequence[Weighed]] | None = None,
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
    early: called once with the best plan after three seconds, when the search goes on.
    since: sittings before this moment are over; they stay as `previous` had them.
    cooked: when each dish was last cooked, so that it does not come again too soon.
    learned: factors by which foods keep longer in this house than predicted, by food code.
    chances: how often a food is missing at the market, by code (others are assumed); None for no recourse list.
    weighed: what finished dishes weighed in this house, by dish; so a lot of one is counted in portions.
    facts: a stand-in for the other engines, for tests.

    Raises
    ------
    InputError: no meal times, or a number of days outside 1 to 35.
    """
    book = book.whole()
    known = facts or HouseFacts(book.house, {d.id: d for d in book.dishes}, start, learned, weighed)
    past = Past(since, previous, cooked or {})
    built = build(book, start, days, known, past=past, locked=locked)

    def show(result: Result) -> None:
        if early:
            early(with_what_was(assemble(built, result), book.house, past))

    solved = solve_for(
        built.problem,
        book.house.weights,
        seconds=seconds,
        progress=progress,
        cancel=cancel,
        early=show if early else None,
    )
    result, made = solved.result, assemble(built, solved.result)
    proof = replace(made.proof, order=solved.stages)

    def widen() -> Built:
        return build(book, start, days, known, past=past, locked=locked, without=frozenset(Ground))

    made = replace(made, proof=proof, clashes=clashes(built, result, min(CLASH_SECONDS, seconds), widen))
    whole = with_what_was(made, book.house, past)
    answer = NOTHING
    day = coming_market(whole, since)
    if chances is not None and day is not None:
        likely = likely_missing(whole, built, day, chances)
        wide = build(book, start, days, known, past=past, locked=locked, swappable=frozenset(likely))
        within = min(RECOURSE_SECONDS, RECOURSE_SHARE * seconds)
        answer = recourse(whole, result.solution.choice, built, wide, day, chances=likely, seconds=within)
    gaps = mends(whole, book, since=since, facts=known)
    return replace(whole, gaps=gaps, recourse=answer.recourse, risk=answer.risk)
