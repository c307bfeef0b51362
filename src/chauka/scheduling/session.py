"""One cooking session: dishes, a house and a serving time → a run sheet."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from datetime import datetime
from types import MappingProxyType

from chauka.errors import Complaints
from chauka.kitchen import Clash, Dish, House, Proof
from chauka.scheduling.explain import clashes, reasons
from chauka.scheduling.kitchen_problem import Kitchen, kitchen_problem, missing_vessels
from chauka.scheduling.problem import Goal
from chauka.scheduling.schedule import Level, Schedule
from chauka.scheduling.sheet import RunSheet
from chauka.scheduling.solve import solve
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
    pad: float = 0.0,
    seconds: float = 10.0,
    seed: int = 0,
) -> RunSheet:
    """The timed steps of one session, so that everything hot is on the table at `serve`.

    `dishes` are (dish, adult portions); steps marked `ahead` count as done. `cooks` and `burners`
    default to the house's; `not_before` is when the cook comes home, None if she may begin as early
    as it takes. `done` names steps that were done before as (dish id, step id). `pad` plans work and
    cooking so much longer, 0.1 for a tenth, against a slow evening. `seconds` limits the search; the
    proof says what is proven.

    A session that cannot be is a `RunSheet` without entries whose clashes say why; `InputError` is
    for a request that makes no sense.
    """
    kitchen = Kitchen(house, cooks or house.cooks, burners or house.burners, serve, not_before, frozenset(done), pad)
    _check(dishes, kitchen, cooks, burners)
    gone = missing_vessels(dishes, house)
    if gone:
        return _no_sheet(serve, tuple(_no_vessel(str(v), names) for v, names in gone.items()))
    asked = kitchen_problem(dishes, kitchen)
    answer = solve(asked.problem, seconds=seconds, seed=seed)
    found = clashes(dishes, kitchen, asked, answer, seconds=min(4.0, seconds))
    if not answer.spots:
        return _no_sheet(serve, found)
    return RunSheet(
        serve=serve,
        entries=entries(asked, answer.spots),
        proof=proof(answer),
        clashes=found,
        why=reasons(asked, answer),
        names=tuple((dish.id, dish.name) for dish, _ in dishes),
        kitchen=asked,
        schedule=answer,
    )


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
        bad.check(bool(dish.steps), "dishes", f"{dish.name} has no steps; write down how it is made")
    bad.check(cooks is None or cooks >= 1, "cooks", f"{cooks} is too few; somebody has to cook")
    bad.check(burners is None or burners >= 1, "burners", f"{burners} is too few; one flame is the least")
    early = kitchen.not_before is None or kitchen.not_before < kitchen.serve
    bad.check(0 <= kitchen.pad <= 1, "pad", f"{kitchen.pad:g} lies outside 0 to 1")
    bad.check(early, "not_before", "lies after the serving time; nothing could be cooked in between")
    bad.raise_if_any()


def _no_vessel(vessel: str, dishes: list[str]) -> Clash:
    return Clash(
        rules=(f"{' and '.join(dishes)} needs a {vessel}, and the house has none",),
        way_out=f"cook something else, or enter a {vessel} under House if there is one",
    )


def _no_sheet(serve: datetime, found: tuple[Clash, ...]) -> RunSheet:
    return RunSheet(serve, (), Proof(0.0, 0.0, 0.0, "no schedule"), found)
