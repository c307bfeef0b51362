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
from collections.abc import Iterator
from dataclasses import asdict, dataclass
from datetime import date, datetime
from datetime import time as clock

from chauka import demo
from chauka.kitchen import (
    After,
    Attention,
    Course,
    Dish,
    Form,
    Heat,
    House,
    Line,
    Meal,
    MealTime,
    Person,
    Served,
    Sex,
    Step,
    Technique,
    Vessel,
    VesselStock,
)  # fmt: skip
from chauka.scheduling import Event, RunSheet, Tap, evenings, follow, run_sheet
from chauka.scheduling.jobs import Kitchen, KitchenProblem
from chauka.scheduling.kitchen_problem import kitchen_problem
from chauka.scheduling.problem import Goal
from chauka.scheduling.schedule import Schedule
from chauka.scheduling.solve import solve
from chauka.units import Estimate, Span

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time
ON, OFF, NOW = Attention.HANDS_ON, Attention.HANDS_OFF, Attention.NOW_AND_THEN
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
        lines = tuple(Line(s.id, f"{name} {s.id}", s.id, "", Estimate(100), Form.WHOLE) for s in steps)
        served = Served.COOL if shape == "relish" else Served.HOT
        return Dish(name, name, Course.SIDE, name, 4, lines, steps, served=served, hold_min=HOLD_MIN[shape])

    def _span(self, low: float, high: float) -> Span:
        middle = round(self._chance.uniform(low, high) * 2) / 2
        return Span(middle, middle + round(self._chance.uniform(0, 0.25 * middle) * 2) / 2)

    def _dal(self) -> Iterator[Step]:
        cooker = Vessel.PRESSURE_COOKER
        yield Step("rinse", "rinse", Technique.WASH, self._span(2, 3), ON)
        yield Step("chop", "chop", Technique.CUT, self._span(3, 6), ON)
        yield Step(
            "cook", "cook", Technique.PRESSURE_COOK, self._span(12, 22), OFF, cooker, Heat.HIGH, (After("rinse"),)
        )
        yield Step("release", "release", Technique.REST, Span(8, 20), OFF, cooker, Heat.NONE, (After("cook", 0, 0),))
        yield Step("open", "open and stir", Technique.MIX, self._span(1, 2), ON, cooker, Heat.NONE, (After("release"),))
        yield Step(
            "simmer", "simmer", Technique.SIMMER, self._span(5, 8), NOW, cooker, Heat.LOW, (After("open", 0, 5),)
        )
        after = (After("chop"),)
        yield Step("temper", "temper", Technique.TEMPER, self._span(3, 5), ON, Vessel.LADLE, Heat.HIGH, after)
        yield Step(
            "pour", "pour", Technique.MIX, Span(1, 1), ON, None, Heat.NONE, (After("temper", 0, 0), After("simmer"))
        )

    def _vegetable(self) -> Iterator[Step]:
        wok = Vessel.WOK
        yield Step("wash", "wash", Technique.WASH, self._span(3, 5), ON)
        yield Step("cut", "cut", Technique.CUT, self._span(5, 9), ON, None, Heat.NONE, (After("wash"),))
        yield Step("slice", "slice", Technique.CUT, self._span(2, 5), ON)
        yield Step("brown", "brown", Technique.SAUTE, self._span(4, 7), ON, wok, Heat.HIGH, (After("slice"),))
        add = (After("brown", 0, 1), After("cut"))
        yield Step("turn", "turn", Technique.SAUTE, self._span(3, 5), NOW, wok, Heat.MEDIUM, add)
        yield Step("cover", "cover", Technique.SIMMER, self._span(8, 14), NOW, wok, Heat.LOW, (After("turn", 0, 1),))
        yield Step("finish", "finish", Technique.MIX, Span(1, 1), ON, wok, Heat.NONE, (After("cover", 0, 5),))

    def _gravy(self) -> Iterator[Step]:
        pot = Vessel.POT
        yield Step("chop", "chop", Technique.CUT, self._span(6, 10), ON)
        yield Step("grind", "grind", Technique.GRIND, self._span(3, 4), ON, Vessel.GRINDER, Heat.NONE, (After("chop"),))
        yield Step("fry", "fry", Technique.SAUTE, self._span(8, 12), NOW, pot, Heat.MEDIUM, (After("grind"),))
        yield Step("spice", "spice", Technique.SAUTE, self._span(2, 3), ON, pot, Heat.MEDIUM, (After("fry", 0, 1),))
        yield Step(
            "simmer", "simmer", Technique.SIMMER, self._span(10, 18), NOW, pot, Heat.LOW, (After("spice", 0, 2),)
        )
        yield Step("finish", "finish", Technique.MIX, Span(1, 1), ON, pot, Heat.NONE, (After("simmer", 0, 5),))

    def _rice(self) -> Iterator[Step]:
        pan = Vessel.SAUCEPAN
        yield Step("wash", "wash", Technique.WASH, self._span(2, 3), ON)
        yield Step("soak", "soak", Technique.SOAK, Span(15, 40), OFF, None, Heat.NONE, (After("wash", 0, 5),))
        yield Step("boil", "bring to the boil", Technique.BOIL, self._span(4, 6), NOW, pan, Heat.HIGH, (After("soak"),))
        yield Step(
            "cook", "cook covered", Technique.SIMMER, self._span(11, 13), OFF, pan, Heat.LOW, (After("boil", 0, 0),)
        )
        yield Step("stand", "stand", Technique.REST, Span(5, 15), OFF, pan, Heat.NONE, (After("cook", 0, 0),))
        yield Step("loosen", "loosen", Technique.MIX, Span(1, 1), ON, pan, Heat.NONE, (After("stand"),))

    def _bread(self) -> Iterator[Step]:
        yield Step("knead", "knead", Technique.KNEAD, self._span(6, 9), ON)
        yield Step("rest", "rest", Technique.REST, Span(20, 90), OFF, None, Heat.NONE, (After("knead", 0, 5),))
        yield Step("divide", "divide", Technique.ASSEMBLE, self._span(2, 3), ON, None, Heat.NONE, (After("rest"),))
        after = (After("divide", 0, 15),)
        yield Step("bake", "bake", Technique.GRIDDLE, self._span(14, 18), ON, Vessel.GRIDDLE, Heat.HIGH, after)

    def _relish(self) -> Iterator[Step]:
        yield Step("wash", "wash", Technique.WASH, self._span(2, 3), ON)
        yield Step("grate", "grate", Technique.GRATE, self._span(4, 7), ON, None, Heat.NONE, (After("wash"),))
        yield Step("roast", "roast seeds", Technique.ROAST, self._span(2, 3), ON, Vessel.LADLE, Heat.MEDIUM)
        yield Step(
            "dress", "dress", Technique.MIX, self._span(1, 2), ON, None, Heat.NONE, (After("grate"), After("roast"))
        )


def kitchen(session: Session) -> Kitchen:
    """A kitchen with a few more vessels the more burners it has."""
    counts = {Vessel.PRESSURE_COOKER: 1, Vessel.WOK: 2, Vessel.GRIDDLE: 1, Vessel.POT: 2, Vessel.SAUCEPAN: 1}
    counts |= {Vessel.LADLE: 1, Vessel.GRINDER: 1}
    more = 1 if session.burners > 2 else 0
    house = House(
        name="bench",
        people=(Person("a", "A", Sex.FEMALE, date(1990, 1, 1), 60),),
        burners=session.burners,
        vessels=tuple(VesselStock(kind, count + more) for kind, count in counts.items()),
        meal_times=(MealTime(Meal.DINNER, 6, clock(20), 60),),
        market_weekdays=(2, 6),
        cooks=session.cooks,
    )
    return Kitchen(house, session.cooks, session.burners, SERVE)


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


def slow_evenings(dishes: list[tuple[Dish, float]], house: House, pads: tuple[float, ...]) -> list[dict[str, object]]:
    """One dinner, planned with each pad, through a thousand seeded evenings of 20 % spread."""
    rows = []
    for pad in pads:
        sheet = run_sheet(dishes, house, SERVE, pad=pad)
        if sheet.kitchen is None or sheet.schedule is None:
            continue
        fared = evenings(sheet.kitchen, sheet.schedule.spots, pad=pad, seed=1)
        names = "+".join(dish.id for dish, _ in dishes)
        session = {"dinner": names, "pad": pad, "session_min": sheet.proof.terms["session length"]}
        rows.append({**session, **{k: round(v, 2) for k, v in asdict(fared).items()}})
    return rows


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
    fared = [
        row
        for ids in DEMO_DINNERS
        for row in slow_evenings([(book.dish(i), 4.3) for i in ids], book.house, (0.0, 0.1, 0.2))
    ]
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
