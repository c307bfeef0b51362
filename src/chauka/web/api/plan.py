"""Market, table, bench and stove: what the plan in force asks for, and ticking it off."""

from __future__ import annotations

from django.http import HttpRequest
from ninja import Router, Status

from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.services import bench_ticks, by_hand, plan_days, running, table, ticks
from chauka.web.api import answers, shapes
from chauka.web.api.problems import NotHereError, found
from chauka.web.api.problems import answers as problems
from chauka.web.common import now, whose
from chauka.web.remember import remembered
from chauka.web.stove.views import sheet_of
from chauka.web.table.views import DAYS

router = Router()


@router.get("/market", response={200: answers.MarketLists, **problems(409)}, tags=["market"])
def market(request: HttpRequest) -> answers.MarketLists:
    """The market lists from today on, with what was bought."""
    household, moment = whose(), now()
    return answers.MarketLists.of(remembered("market", household, moment, lambda: ticks.lists(household, moment)))


_ITEM = "/market/{plan}/{day}/{food}"


@router.put(_ITEM, response={200: answers.Ticked, **problems(404, 409)}, tags=["market"])
def buy(
    request: HttpRequest, plan: shapes.Number, day: shapes.Day, food: shapes.Key, said: shapes.Bought
) -> answers.Ticked:
    """Tick an item off, as listed or otherwise; sent twice it counts once."""
    household, key = whose(), f"{day.isoformat()}/{food}"
    _listed(plan, key)
    done = ticks.buy(household, plan, key, now(), amount=said.amount, paid=said.paid, instead=said.instead)
    return answers.Ticked(new=done)


@router.delete(_ITEM, response={200: answers.Ticked, **problems(404, 409)}, tags=["market"])
def unbuy(request: HttpRequest, plan: shapes.Number, day: shapes.Day, food: shapes.Key) -> answers.Ticked:
    """Take a tick back, with everything that it wrote; sent twice it counts once."""
    key = f"{day.isoformat()}/{food}"
    _listed(plan, key)
    return answers.Ticked(new=ticks.unbuy(whose(), plan, key, now()))


def _listed(plan: int, key: str) -> None:
    try:
        listed = plan_days.kept(whose(), plan).plan.purchases
    except InputError as error:
        raise NotHereError(str(error)) from None
    found(key, (f"{p.day.isoformat()}/{p.food}" for p in listed), "item of that list")


@router.get("/table", response={200: answers.Table, **problems(409)}, tags=["table"])
def view_table(request: HttpRequest) -> answers.Table:
    """The plan in force: who eats what, what it costs, and how good it is."""
    household, moment = whose(), now()
    return answers.Table.of(remembered("api-table", household, moment, lambda: table.view(household, moment)))


@router.get("/table/plan", response={200: answers.Planning, **problems(409)}, tags=["table"])
def planning(request: HttpRequest) -> answers.Planning:
    """Whether a plan is in the making, and how good the best so far is."""
    return answers.Planning.of(running.current(whose()))


@router.post("/table/plan", response={202: answers.Planning, **problems(409)}, tags=["table"])
def replan(request: HttpRequest, said: shapes.PlanAsked) -> Status[answers.Planning]:
    """Ask for a plan of the coming days from today; a worker makes it, and keeps it as a proposal."""
    household, moment = whose(), now()
    wishes = by_hand.wishes(household, moment)
    running.start(
        household, running.Asked(moment.date(), moment, DAYS, float(said.seconds), wishes.locked, wishes.refused)
    )
    return Status(202, answers.Planning.of(running.current(household)))


@router.delete("/table/plan", response={200: answers.Planning, **problems(409)}, tags=["table"])
def stop_planning(request: HttpRequest) -> answers.Planning:
    """Stop what is being planned; the best so far is kept as a proposal."""
    household = whose()
    if running.current(household) is not None:
        running.stop(household)
    return answers.Planning.of(running.current(household))


@router.post("/table/accept", response={200: answers.Table, **problems(404, 409)}, tags=["table"])
def accept(request: HttpRequest, said: shapes.PlanMeant) -> answers.Table:
    """Follow a proposal from now on."""
    household = whose()
    try:
        plan_days.kept(household, said.plan)
    except InputError as error:
        raise NotHereError(str(error)) from None
    plan_days.accept(household, said.plan, now())
    return answers.Table.of(table.view(household, now()))


@router.get("/bench", response={200: answers.Bench, **problems(409)}, tags=["bench"])
def bench(request: HttpRequest) -> answers.Bench:
    """The bench list of the plan in force, with its ticks."""
    seen = _bench()
    return answers.Bench(plan=seen.plan, work=[answers.Work.of(line) for _, of_day in seen.days for line in of_day])


def _bench() -> bench_ticks.BenchDays:
    household, moment = whose(), now()
    return remembered("api-bench", household, moment, lambda: bench_ticks.view(household, moment))


_WORK = "/bench/{plan}/{key}"


@router.put(_WORK, response={204: None, **problems(404, 409)}, tags=["bench"])
def done(request: HttpRequest, plan: shapes.Number, key: shapes.Key) -> Status[None]:
    """A piece of work is done; sent twice it counts once."""
    return _tick_work(plan, key, is_done=True)


@router.delete(_WORK, response={204: None, **problems(404, 409)}, tags=["bench"])
def not_done(request: HttpRequest, plan: shapes.Number, key: shapes.Key) -> Status[None]:
    """It is not done after all; sent twice it counts once."""
    return _tick_work(plan, key, is_done=False)


def _tick_work(plan: int, key: str, *, is_done: bool) -> Status[None]:
    seen = _bench()
    found(str(plan), [str(seen.plan)], "plan in force")
    found(key, (line.key for _, of_day in seen.days for line in of_day), "work on that list")
    bench_ticks.tick(whose(), plan, key, now(), done=is_done)
    return Status(204, None)


@router.get("/stove/{day}/{meal}", response={200: answers.RunSheet, **problems(404, 409)}, tags=["stove"])
def stove(request: HttpRequest, day: shapes.Day, meal: Meal) -> answers.RunSheet:
    """The run sheet of one sitting of the plan in force; made once, then kept."""
    household = whose()
    kept = plan_days.the_current(household, now())
    found(f"{day} {meal}", (f"{s.day} {s.meal}" for s in kept.plan.sittings), "sitting")
    return answers.RunSheet.of(sheet_of(household, kept, day, meal))
