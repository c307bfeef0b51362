"""A small plan made by hand, with its bench list and a run sheet, for calendar and lists."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from functools import cache

from chauka.kitchen import Batch, Course, Form, Meal, Proof, Purchase, Serving, Sitting, TablePlan
from chauka.kitchen.forms import Attention, Technique
from chauka.scheduling import BenchEntry, BenchList, BoxLabel, Entry, Lane, RunSheet

SUNDAY = date(2027, 3, 14)
PROOF = Proof(1.0, 1.0, 0.1, "proven best")
NAMES = {"small-dal": "Small dal", "greens": "Greens"}


@cache
def plan(serve: time = time(20, 0)) -> TablePlan:
    """One dinner, one market day."""
    sitting = Sitting(SUNDAY, Meal.DINNER, serve, 60, ("a",))
    return TablePlan(
        start=SUNDAY, days=2, sittings=(sitting,),
        batches=(Batch("b1", "small-dal", SUNDAY, Meal.DINNER, 2.0),),
        servings=(Serving(SUNDAY, Meal.DINNER, Course.PULSE, "small-dal", 2.0, "b1"),),
        purchases=(
            Purchase("p1", SUNDAY, "B010", "½ kg of split moong", 1, 500, 500, 7000, "dry goods", ("b1",)),
            Purchase("p2", SUNDAY, "C033", "1 bunch of spinach", 2, 400, 300, 4000, "greens"),
        ),
        draws=(), left_over=(), shortfalls=(), proof=PROOF,
    )  # fmt: skip


def bench(at: time = time(21, 0)) -> BenchList:
    """A soak on Saturday night, one box."""
    start = datetime.combine(SUNDAY - timedelta(days=1), at)
    soak = BenchEntry(
        start, 480, 5, Technique.SOAK, "wash and soak 200 g split moong for Small dal", (), ("B010",), ("small-dal",),
        (("b1", "soak"),), datetime.combine(SUNDAY, time(7)), datetime.combine(SUNDAY, time(19)),
    )  # fmt: skip
    label = BoxLabel(
        "split moong",
        Form.SOAKED,
        430,
        SUNDAY,
        datetime.combine(date(2027, 3, 16), time(20)),
        "why",
        "B010",
        None,
        ("small-dal",),
    )
    bare = BoxLabel("greens", Form.PICKED, None, SUNDAY, None, "not known")
    return BenchList(SUNDAY - timedelta(days=1), 3, (soak,), (label, bare))


def run_sheet() -> RunSheet:
    """Two entries before dinner."""
    serve = datetime.combine(SUNDAY, time(20))

    def entry(minutes_before: int, minutes: int, text: str, lane: Lane, until: str = "") -> Entry:
        start = serve - timedelta(minutes=minutes_before)
        return Entry(
            start, start + timedelta(minutes=minutes), lane, text, ("small-dal",), (), (), Attention.HANDS_ON, start,
            cook=1, until=until,
        )  # fmt: skip

    entries = (entry(40, 10, "Chop the greens", Lane.HANDS), entry(30, 30, "Boil the dal", Lane.BURNER, "it is soft"))
    return RunSheet(serve, entries, PROOF, names=(("small-dal", "Small dal"),))
