"""Invented dinners of 5 to 20 dishes through the run sheet's solver.

    python -m benchmarks.dinners --json

The dishes are six ordinary shapes (dal, dry vegetable, gravy, rice, flatbread, relish) with seeded
minutes: the sizes are those of a family dinner, a feast, and two cooks before a wedding. Nothing
here is a recipe.
"""

from __future__ import annotations

import argparse
import json
import random
import statistics
import time
from collections.abc import Iterator, Mapping
from dataclasses import asdict, dataclass
from datetime import datetime

import numpy as np
from tests.scheduling.dinners import NOW, OFF, ON, dish, house, line, step

from chauka import demo
from chauka.kitchen import After, Dish, Heat, House, Served, Step, Technique, Vessel
from chauka.scheduling import Event, RunSheet, Tap, evenings, follow, run_sheet
from chauka.scheduling.evenings import Unfolded, drawn
from chauka.scheduling.jobs import Kitchen, KitchenProblem
from chauka.scheduling.keep_order import Order
from chauka.scheduling.kitchen_problem import kitchen_problem
from chauka.scheduling.problem import Goal
from chauka.scheduling.schedule import Schedule, Spot
from chauka.scheduling.solve import solve

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time
SHAPES = ("dal", "vegetable", "rice", "bread", "relish", "gravy", "vegetable", "relish")
HOLD_MIN = {"dal": 30, "vegetable": 20, "rice": 20, "bread": 10, "gravy": 25, "relish": 60}


@dataclass(frozen=True, slots=True)
class Session:
    """So many dishes in such a kitchen, and the seconds given."""

    name: str
    dishes: int
    cooks: int
    burners: int
    seconds: float


SESSIONS = (
    Session("family", 5, 1, 2, 10), Session("feast", 8, 1, 2, 20), Session("two cooks", 12, 2, 4, 60),
    Session("wedding eve", 20, 2, 4, 60),
)  # fmt: skip


class Maker:
    """Makes one dish after another from a seed."""

    def __init__(self, seed: int) -> None:
        self._chance = random.Random(seed)

    def dishes(self, count: int) -> list[tuple[Dish, float]]:
        """So many dishes for four."""
        return [(self._dish(f"{SHAPES[i % len(SHAPES)]}-{i + 1}", SHAPES[i % len(SHAPES)]), 4.0) for i in range(count)]

    def _dish(self, name: str, shape: str) -> Dish:
        steps = tuple(getattr(self, f"_{shape}")())
        lines = tuple(line(s.id, 100, food=f"{name} {s.id}") for s in steps)
        served = Served.COOL if shape == "relish" else Served.HOT
        return dish(name, *steps, lines=lines, served=served, hold=HOLD_MIN[shape])

    def _span(self, low: float, high: float) -> tuple[float, float]:
        middle = round(self._chance.uniform(low, high) * 2) / 2
        return middle, middle + round(self._chance.uniform(0, 0.25 * middle) * 2) / 2

    def _dal(self) -> Iterator[Step]:
        cooker = Vessel.PRESSURE_COOKER
        yield step("rinse", Technique.WASH, *self._span(2, 3))
        yield step("chop", Technique.CUT, *self._span(3, 6))
        yield step(
            "cook", Technique.PRESSURE_COOK, *self._span(12, 22), OFF, vessel=cooker, heat=Heat.HIGH, after=("rinse",)
        )
        yield step("release", Technique.REST, 8, 20, OFF, vessel=cooker, after=(After("cook", 0, 0),))
        yield step("open", Technique.MIX, *self._span(1, 2), ON, vessel=cooker, after=("release",))
        yield step(
            "simmer",
            Technique.SIMMER,
            *self._span(5, 8),
            NOW,
            vessel=cooker,
            heat=Heat.LOW,
            after=(After("open", 0, 5),),
        )
        yield step(
            "temper", Technique.TEMPER, *self._span(3, 5), ON, vessel=Vessel.LADLE, heat=Heat.HIGH, after=("chop",)
        )
        yield step("pour", Technique.MIX, 1, after=(After("temper", 0, 0), "simmer"))

    def _vegetable(self) -> Iterator[Step]:
        wok = Vessel.WOK
        yield step("wash", Technique.WASH, *self._span(3, 5))
        yield step("cut", Technique.CUT, *self._span(5, 9), after=("wash",))
        yield step("slice", Technique.CUT, *self._span(2, 5))
        yield step("brown", Technique.SAUTE, *self._span(4, 7), vessel=wok, heat=Heat.HIGH, after=("slice",))
        yield step(
            "turn",
            Technique.SAUTE,
            *self._span(3, 5),
            NOW,
            vessel=wok,
            heat=Heat.MEDIUM,
            after=(After("brown", 0, 1), "cut"),
        )
        yield step(
            "cover", Technique.SIMMER, *self._span(8, 14), NOW, vessel=wok, heat=Heat.LOW, after=(After("turn", 0, 1),)
        )
        yield step("finish", Technique.MIX, 1, vessel=wok, after=(After("cover", 0, 5),))

    def _gravy(self) -> Iterator[Step]:
        pot = Vessel.POT
        yield step("chop", Technique.CUT, *self._span(6, 10))
        yield step("grind", Technique.GRIND, *self._span(3, 4), vessel=Vessel.GRINDER, after=("chop",))
        yield step("fry", Technique.SAUTE, *self._span(8, 12), NOW, vessel=pot, heat=Heat.MEDIUM, after=("grind",))
        yield step(
            "spice", Technique.SAUTE, *self._span(2, 3), vessel=pot, heat=Heat.MEDIUM, after=(After("fry", 0, 1),)
        )
        yield step(
            "simmer",
            Technique.SIMMER,
            *self._span(10, 18),
            NOW,
            vessel=pot,
            heat=Heat.LOW,
            after=(After("spice", 0, 2),),
        )
        yield step("finish", Technique.MIX, 1, vessel=pot, after=(After("simmer", 0, 5),))

    def _rice(self) -> Iterator[Step]:
        pan = Vessel.SAUCEPAN
        yield step("wash", Technique.WASH, *self._span(2, 3))
        yield step("soak", Technique.SOAK, 15, 40, OFF, after=(After("wash", 0, 5),))
        yield step("boil", Technique.BOIL, *self._span(4, 6), NOW, vessel=pan, heat=Heat.HIGH, after=("soak",))
        yield step(
            "cook", Technique.SIMMER, *self._span(11, 13), OFF, vessel=pan, heat=Heat.LOW, after=(After("boil", 0, 0),)
        )
        yield step("stand", Technique.REST, 5, 15, OFF, vessel=pan, after=(After("cook", 0, 0),))
        yield step("loosen", Technique.MIX, 1, vessel=pan, after=("stand",))

    def _bread(self) -> Iterator[Step]:
        yield step("knead", Technique.KNEAD, *self._span(6, 9))
        yield step("rest", Technique.REST, 20, 90, OFF, after=(After("knead", 0, 5),))
        yield step("divide", Technique.ASSEMBLE, *self._span(2, 3), after=("rest",))
        yield step(
            "bake",
            Technique.GRIDDLE,
            *self._span(14, 18),
            vessel=Vessel.GRIDDLE,
            heat=Heat.HIGH,
            after=(After("divide", 0, 15),),
        )

    def _relish(self) -> Iterator[Step]:
        yield step("wash", Technique.WASH, *self._span(2, 3))
        yield step("grate", Technique.GRATE, *self._span(4, 7), after=("wash",))
        yield step("roast", Technique.ROAST, *self._span(2, 3), vessel=Vessel.LADLE, heat=Heat.MEDIUM)
        yield step("dress", Technique.MIX, *self._span(1, 2), after=("grate", "roast"))


def kitchen(session: Session) -> Kitchen:
    """A kitchen with a few more vessels the more burners it has."""
    more = int(session.burners > 2)
    one = dict.fromkeys(("pressure_cooker", "griddle", "saucepan", "ladle", "grinder"), 1 + more)
    kit = house(session.burners, session.cooks, **one, wok=2 + more, pot=2 + more, steamer=0, oven=0)
    return Kitchen(kit, session.cooks, session.burners, SERVE)


def asked(session: Session, seed: int) -> KitchenProblem:
    """The session's problem."""
    return kitchen_problem(Maker(seed).dishes(session.dishes), kitchen(session))


def measured(session: Session, seed: int) -> dict[str, object]:
    """One session, solved: each goal's value and bound in ticks of half a minute, and seconds."""
    problem = asked(session, seed)
    answer = solve(problem.problem, seconds=session.seconds, seed=seed)
    steps = sum(not job.wash for job in problem.jobs.values())
    return {"session": session.name, "dishes": session.dishes, "tasks": steps, "seed": seed, **_figures(answer)}


def _figures(answer: Schedule) -> dict[str, object]:
    levels = [level for level in answer.levels if level.goal is not Goal.ORDER]
    figures: dict[str, object] = {"status": str(answer.status), "seconds": round(answer.seconds, 2)}
    figures["proven_levels"] = sum(level.proven for level in levels)
    for level in levels:
        figures[str(level.goal)] = [level.value, level.bound, round(level.seconds, 2)]
    return figures


def slow_evenings(dishes: list[tuple[Dish, float]], house: House) -> list[dict[str, object]]:
    """One dinner, planned plainly and steadily, through a thousand seeded evenings of 20 % spread."""
    rows: list[dict[str, object]] = []
    for steady in (False, True):
        sheet = run_sheet(dishes, house, SERVE, steady=steady)
        if sheet.kitchen is None or sheet.schedule is None:
            continue
        names = "+".join(dish.id for dish, _ in dishes)
        row = {"dinner": names, "steady": steady, "session_min": sheet.proof.terms["session length"]}
        for live in (False, True):
            fared = asdict(evenings(sheet.kitchen, sheet.schedule.spots, seed=_UNSEEN_SEED, live=live))
            row |= {f"{key}{' live' * live}": round(value, 2) for key, value in fared.items() if key != "count"}
        row["least p95_late_min"] = round(least_p95_min(sheet.kitchen, sheet.schedule.spots), 2)
        rows.append({**row, "over_hold_min": sheet.proof.terms["hold beyond the cap"]})
    return rows


def least_p95_min(kitchen: KitchenProblem, spots: Mapping[str, Spot]) -> float:
    """What no sheet of that length can be better than: all begun at once, with plenty of hands, burners and vessels."""
    order = Order(kitchen.problem, spots, shared=False)
    lasts = drawn(kitchen, order, seed=_UNSEEN_SEED)
    begin = np.full((len(order.tasks), 1), float(min(spot.start for spot in spots.values())))
    starts = order.unfolded(lasts, begin).starts
    return Unfolded.of(kitchen.problem, order, starts, lasts).summary().p95_late_min


_UNSEEN_SEED = 7
"""The plan was chosen on other evenings."""


def live_seconds(sheet: RunSheet) -> list[float]:
    """How long re-timing takes after "5 more minutes" on each row in turn [s]."""
    took = []
    for entry in sheet:
        began = time.perf_counter()
        follow(sheet, [Event(entry.end, Tap.MORE, entry.tasks, 5)])
        took.append(time.perf_counter() - began)
    return took


DEMO_DINNERS = (
    ("hill-rajma", "cumin-rice", "radish-with-its-tops", "coriander-mint-chutney"),
    ("spinach-dal-with-lemon", "new-potatoes-gutke", "wheat-flatbread", "citrus-and-radish-in-curd"),
    ("amaranth-with-potato", "finger-millet-flatbread", "horse-gram-thin-dal", "lemon-ginger-relish"),
    ("black-chickpeas-with-mustard", "new-potatoes-gutke", "plain-rice", "spinach-raita"),
)


def demo_figures() -> dict[str, object]:
    """The demo house's four largest dinners on slow evenings, and re-timing of an 8-dish one."""
    book = demo.book()
    fared = [row for ids in DEMO_DINNERS for row in slow_evenings([(book.dish(i), 4.3) for i in ids], book.house)]
    eight = dict.fromkeys((*DEMO_DINNERS[0], *DEMO_DINNERS[1]))
    took = live_seconds(run_sheet([(book.dish(i), 4.3) for i in eight], book.house, SERVE, seconds=15))
    live = {"median": round(statistics.median(took), 3), "worst": round(max(took), 3)}
    return {"slow_evenings": fared, "live_seconds": live}


def main() -> None:
    """Read the command line, solve, print."""
    parser = argparse.ArgumentParser(description="Invented dinners through the run sheet's solver.")
    parser.add_argument("--seeds", type=int, default=1)
    parser.add_argument("--only", help="one session by name, or demo")
    parser.add_argument("--json", action="store_true")
    args = parser.parse_args()
    chosen = [s for s in SESSIONS if args.only in (None, s.name)]
    rows = [measured(session, seed) for session in chosen for seed in range(args.seeds)]
    house = demo_figures() if args.only in (None, "demo") else {}
    if args.json:
        print(json.dumps({"sessions": rows, **house}))
        return
    slow = house.get("slow_evenings", [])
    for row in [*rows, *slow]:  # type: ignore[misc]
        print(" · ".join(f"{key} {value}" for key, value in row.items()))
    if house:
        print("live re-timing, seconds:", house["live_seconds"])


if __name__ == "__main__":
    main()
