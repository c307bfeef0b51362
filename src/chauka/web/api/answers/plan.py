"""The table plan, the bench list and the run sheet."""

from __future__ import annotations

from datetime import date

from ninja import Schema

from chauka.kitchen import Attention, Course, Meal
from chauka.scheduling import Entry
from chauka.services.bench_ticks import BenchLine
from chauka.services.running import Planning as PlanningSeen
from chauka.services.stove import StoveView
from chauka.services.table import OnTable, TableSitting, TableView
from chauka.web.api.answers.clock import Hour, Moment


class Serving(Schema):
    """One dish at one sitting; `kept` means made before, `cooked` the portions made then."""

    dish: str
    name: str
    course: Course
    portions: float
    kept: bool
    cooked: float | None

    @classmethod
    def of(cls, seen: OnTable) -> Serving:
        """From the service's view."""
        return cls(
            dish=seen.dish,
            name=seen.name,
            course=seen.course,
            portions=seen.portions,
            kept=seen.kept,
            cooked=seen.cooked,
        )


class Sitting(Schema):
    """One meal of one day."""

    day: date
    meal: Meal
    serve: Hour
    eaters: list[str]
    guests: int
    dishes: list[Serving]

    @classmethod
    def of(cls, seen: TableSitting) -> Sitting:
        """From the service's view."""
        sitting = seen.sitting
        return cls(
            day=sitting.day,
            meal=sitting.meal,
            serve=sitting.serve,
            eaters=list(seen.eaters),
            guests=sitting.guests,
            dishes=[Serving.of(dish) for dish in seen.dishes],
        )


class Table(Schema):
    """The plan in force; `gap_percent` says how much better it could be at most, null where nobody knows."""

    plan: int
    accepted: bool
    start: date
    sittings: list[Sitting]
    currency: str
    cost: int
    budget: int | None
    waste_g: float
    waste_cost: int
    status: str
    gap_percent: float | None
    clashes: list[str]

    @classmethod
    def of(cls, seen: TableView) -> Table:
        """From the service's view."""
        return cls(
            plan=seen.number,
            accepted=seen.accepted,
            start=seen.start,
            sittings=[Sitting.of(sitting) for day in seen.days for sitting in day.sittings],
            currency=seen.currency,
            cost=seen.cost,
            budget=seen.budget,
            waste_g=seen.waste_g,
            waste_cost=seen.waste_cost,
            status=seen.proof.status,
            gap_percent=seen.gap_percent,
            clashes=[clash.way_out for clash in seen.clashes],
        )


class Planning(Schema):
    """A plan in the making: `value` and `bound` are those of the best so far in the smallest coin, null before it."""

    running: bool
    value: float | None
    bound: float | None
    waiting: int
    complaint: str

    @classmethod
    def of(cls, seen: PlanningSeen | None) -> Planning:
        """From the service's view; None where nothing is planned."""
        if seen is None:
            return cls(running=False, value=None, bound=None, waiting=0, complaint="")
        return cls(
            running=not seen.done, value=seen.value, bound=seen.bound, waiting=seen.waiting, complaint=seen.complaint
        )


class Work(Schema):
    """One piece of work ahead; `key` names it in the address of its tick."""

    key: str
    start: Moment
    minutes: float
    hands_min: float
    text: str
    dishes: list[str]
    why: str
    done: bool

    @classmethod
    def of(cls, line: BenchLine) -> Work:
        """From the service's line."""
        entry = line.entry
        return cls(
            key=line.key,
            start=entry.start,
            minutes=entry.minutes,
            hands_min=entry.hands_min,
            text=entry.text,
            dishes=list(entry.dishes),
            why=entry.why,
            done=line.done,
        )


class Bench(Schema):
    """What to clean, soak, cut and boil ahead, in the order of its time."""

    plan: int
    work: list[Work]


class SheetEntry(Schema):
    """One row of a run sheet."""

    start: Moment
    end: Moment
    where: str
    text: str
    dishes: list[str]
    attention: Attention
    slack_min: float
    until: str

    @classmethod
    def of(cls, entry: Entry) -> SheetEntry:
        """From the scheduler's entry."""
        return cls(
            start=entry.start,
            end=entry.end,
            where=entry.where,
            text=entry.text,
            dishes=list(entry.dishes),
            attention=entry.attention,
            slack_min=entry.slack_min,
            until=entry.until,
        )


class RunSheet(Schema):
    """The timed steps of one sitting. `clashes` say why, where there is no sheet."""

    serve: Moment
    cooked: list[str]
    ready: list[str]
    entries: list[SheetEntry]
    status: str
    clashes: list[str]

    @classmethod
    def of(cls, seen: StoveView) -> RunSheet:
        """From the service's view."""
        return cls(
            serve=seen.sheet.serve,
            cooked=[dish.name for dish, _ in seen.cooked],
            ready=[dish.name for dish, _ in seen.ready],
            entries=[SheetEntry.of(entry) for entry in seen.sheet.entries],
            status=seen.sheet.proof.status,
            clashes=[clash.way_out for clash in seen.sheet.clashes],
        )
