"""One cooking session: dishes, a house and a serving time → a run sheet."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import replace
from datetime import datetime
from types import MappingProxyType

from chauka.errors import Complaints
from chauka.kitchen import Clash, Dish, House, Proof, check_whole
from chauka.scheduling.explain import clashes, grave, reasons
from chauka.scheduling.jobs import Kitchen, KitchenProblem
from chauka.scheduling.kitchen_problem import kitchen_problem, missing
from chauka.scheduling.problem import Goal
from chauka.scheduling.schedule import Level, Schedule, Status
from chauka.scheduling.sheet import RunSheet, joined
from chauka.scheduling.solve import solve
from chauka.scheduling.steady import in_steady_hands
from chauka.scheduling.times import TICKS_PER_MIN
from chauka.scheduling.write_sheet import entries


def run_sheet(
    dishes: Sequence[tuple[Dish, float]],
    house: House,
    serve: datetime,
    *,
    cooks: int | None = None,
    burners: int | None = None,
    not_before: datetime | None = None,
    done: Collection[tuple[str, str]] = (),
    steady: bool = False,
    breads_min: float = 0.0,
    seconds: float = 10.0,
    seed: int = 0,
) -> RunSheet:
    """The timed steps of one session, so that everything hot is on the table at `serve`.

    `dishes` are (dish, adult portions); steps marked `ahead` count as done. `cooks` and `burners`
    default to the house's; `not_before` is when the cook comes home, None if she may begin as early
    as it takes. `done` names steps that were done before as (dish id, step id). `steady` begins
    up to a tenth earlier and puts those minutes where slow evenings need them. With `breads_min` flatbreads come
    off the griddle until so many minutes after serving, the first lot in time. `seconds` limits the
    search; the proof says what is proven.

    A session that cannot be is a `RunSheet` without entries whose clashes say why; one whose dishes are
    all made ahead has none either, and says so in `why`. `InputError` is for a request that makes no sense.
    """
    kitchen = Kitchen(
        house,
        cooks or house.cooks,
        burners or house.burners,
        serve,
        not_before,
        frozenset(done),
        breads_min=breads_min,
    )
    _check(dishes, kitchen, cooks, burners)
    gone = missing(dishes, kitchen)
    if gone:
        return _no_sheet(serve, tuple(Clash((one,), _WITHOUT) for one in gone))
    asked, answer = _solved(dishes, kitchen, seconds, seed)
    if not asked.jobs:
        return _nothing_to_do(serve, dishes, asked)
    found = clashes(dishes, kitchen, asked, answer, seconds=min(4.0, seconds))
    if not answer.spots:
        return _no_sheet(serve, found)
    said: tuple[str, ...] = ()
    if steady:
        answer, said = in_steady_hands(asked, answer, seconds=seconds, seed=seed)
    return RunSheet(
        serve=serve,
        entries=entries(asked, answer.spots),
        proof=proof(answer),
        clashes=found,
        why=(*said, *reasons(asked, answer)),
        names=tuple((dish.id, dish.name) for dish, _ in dishes),
        kitchen=asked,
        schedule=answer,
    )


_WITHOUT = "cook something else, or enter under House what there is and who cooks"


def _solved(
    dishes: Sequence[tuple[Dish, float]], kitchen: Kitchen, seconds: float, seed: int
) -> tuple[KitchenProblem, Schedule]:
    """The best schedule; with an open pot for a cooker that is taken only where that makes dinner better."""
    asked = kitchen_problem(dishes, kitchen)
    answer = solve(asked.problem, seconds=seconds, seed=seed)
    if answer.status is Status.UNKNOWN or (answer.spots and not any(grave(answer))):
        return asked, answer
    wider = kitchen_problem(dishes, replace(kitchen, stand_ins=True))
    if wider.problem == asked.problem:
        return asked, answer
    other = solve(wider.problem, seconds=seconds, seed=seed)
    better = other.spots and (not answer.spots or grave(other) < grave(answer))
    return (wider, other) if better else (asked, answer)


def proof(answer: Schedule) -> Proof:
    """The schedule's proof in minutes, goal by goal; the headline is the first goal that is not zero."""
    levels = [level for level in answer.levels if level.goal is not Goal.ORDER]
    headline = next((level for level in levels if level.value), levels[-1])
    terms = {}
    for level in levels:
        terms[str(level.goal)] = level.value / TICKS_PER_MIN
        terms[f"{level.goal} bound"] = level.bound / TICKS_PER_MIN
    return Proof(
        value=_minutes(headline)[0],
        bound=_minutes(headline)[1],
        seconds=answer.seconds,
        status=str(answer.status),
        terms=MappingProxyType(terms),
    )


def _minutes(level: Level) -> tuple[float, float]:
    return level.value / TICKS_PER_MIN, level.bound / TICKS_PER_MIN


def _check(dishes: Sequence[tuple[Dish, float]], kitchen: Kitchen, cooks: int | None, burners: int | None) -> None:
    bad = Complaints("run sheet")
    bad.check(bool(dishes), "dishes", "nothing to cook; name at least one dish")
    for dish, portions in dishes:
        bad.check(0 < portions <= 100, "dishes", f"{portions:g} portions of {dish.name}: give 1 to 100")
        check_whole(dish)
        bad.check(bool(dish.steps), "dishes", f"{dish.name} has no steps; write down how it is made")
    bad.check(cooks is None or cooks >= 1, "cooks", f"{cooks} is too few; somebody has to cook")
    bad.check(burners is None or burners >= 1, "burners", f"{burners} is too few; one flame is the least")
    bad.check(0 <= kitchen.breads_min <= 60, "breads_min", f"{kitchen.breads_min:g} min lies outside 0 to 60")
    early = kitchen.not_before is None or kitchen.not_before < kitchen.serve
    bad.check(early, "not_before", "lies after the serving time; nothing could be cooked in between")
    bad.raise_if_any()


def _no_sheet(serve: datetime, found: tuple[Clash, ...]) -> RunSheet:
    return RunSheet(serve, (), Proof(0.0, 0.0, 0.0, "no schedule"), found)


def _nothing_to_do(serve: datetime, dishes: Sequence[tuple[Dish, float]], asked: KitchenProblem) -> RunSheet:
    names = tuple((dish.id, dish.name) for dish, _ in dishes)
    why = (f"{joined(asked.made_ahead)}: made ahead, nothing is left to do at the stove",)
    return RunSheet(serve, (), Proof(0.0, 0.0, 0.0, "nothing to cook"), why=why, names=names, kitchen=asked)
