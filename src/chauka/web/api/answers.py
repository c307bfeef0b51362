"""What the API answers, made from what services say. Money is in the smallest coin, weights in grams."""

from __future__ import annotations

from datetime import date, datetime, time
from typing import Annotated, Any

from ninja import Schema
from pydantic import WithJsonSchema

from chauka.composition import Amount
from chauka.kitchen import Attention, Course, Deed, Form, Heat, Meal, Place, Technique, Vessel
from chauka.scheduling import Entry
from chauka.services.bench_ticks import BenchLine
from chauka.services.dishes import DishLineView, DishView
from chauka.services.house import HouseView
from chauka.services.nutrients import DishNutrientsView
from chauka.services.past import Done
from chauka.services.running import Planning as PlanningSeen
from chauka.services.shelf import Freshness, ShelfLot
from chauka.services.stove import StoveView
from chauka.services.table import OnTable, TableSitting, TableView
from chauka.services.ticks import DayToBuy, Item, Lists

Moment = Annotated[datetime, WithJsonSchema({"type": "string", "format": "date-time-local"})]
"""A moment by the house's own clock: it has no time zone."""

Hour = Annotated[time, WithJsonSchema({"type": "string", "format": "time-local"})]
"""An hour of the day by the same clock."""


class Health(Schema):
    """Whether the server runs and its book answers."""

    chauka: str
    book: str


class Person(Schema):
    """Somebody who eats here."""

    id: str
    name: str


class House(Schema):
    """The house and how much its book holds."""

    name: str
    people: list[Person]
    cooks: int
    burners: int
    fridge_c: float
    room_c: float
    altitude_m: float
    region: str
    currency: str
    weekly_budget: int | None
    market_weekdays: list[int]
    dishes: int
    lots: int

    @classmethod
    def of(cls, seen: HouseView) -> House:
        """From the service's view."""
        house = seen.house
        return cls(
            name=house.name,
            people=[Person(id=p.id, name=p.name) for p in house.people],
            cooks=house.cooks,
            burners=house.burners,
            fridge_c=house.fridge_c,
            room_c=house.room_c,
            altitude_m=house.altitude_m,
            region=house.region,
            currency=house.currency,
            weekly_budget=house.weekly_budget,
            market_weekdays=list(house.market_weekdays),
            dishes=seen.dishes,
            lots=seen.lots,
        )


class DishBrief(Schema):
    """One dish of the dish book."""

    id: str
    name: str
    course: Course
    base: str
    portions: float
    liked_by: list[str]

    @classmethod
    def of(cls, seen: DishLineView) -> DishBrief:
        """From the service's view."""
        dish = seen.dish
        return cls(
            id=dish.id,
            name=dish.name,
            course=dish.course,
            base=seen.base,
            portions=dish.portions,
            liked_by=list(seen.liked_by),
        )


class Line(Schema):
    """One ingredient line; `grams` ± `sd` of edible portion."""

    id: str
    food: str
    name: str
    said: str
    amount: str
    grams: float
    sd: float
    form: Form
    prep: str
    optional: bool
    to_taste: bool


class Step(Schema):
    """One step; minutes from `low` to `high`, `lines` by their ids."""

    id: str
    text: str
    technique: Technique
    low_min: float
    high_min: float
    attention: Attention
    vessel: Vessel | None
    heat: Heat
    lines: list[str]
    ahead: bool
    until: str


class Dish(Schema):
    """One dish with its lines, steps, allergens (and the foods that bring them) and cautions."""

    id: str
    name: str
    names: dict[str, str]
    course: Course
    portions: float
    story: str
    lines: list[Line]
    steps: list[Step]
    allergens: dict[str, list[str]]
    keeps_days: float
    keeps_because: str
    cautions: list[str]

    @classmethod
    def of(cls, seen: DishView) -> Dish:
        """From the service's view."""
        dish = seen.dish
        return cls(
            id=dish.id,
            name=dish.name,
            names=dict(dish.names),
            course=dish.course,
            portions=dish.portions,
            story=dish.story,
            lines=[
                Line(
                    id=line.id,
                    food=line.food,
                    name=seen.foods[line.food],
                    said=line.said,
                    amount=line.amount,
                    grams=line.grams.mean,
                    sd=line.grams.sd,
                    form=line.form,
                    prep=line.prep,
                    optional=line.optional,
                    to_taste=line.to_taste,
                )
                for line in dish.lines
            ],
            steps=[
                Step(
                    id=step.id,
                    text=step.text,
                    technique=step.technique,
                    low_min=step.minutes.low,
                    high_min=step.minutes.high,
                    attention=step.attention,
                    vessel=step.vessel,
                    heat=step.heat,
                    lines=list(step.lines),
                    ahead=step.ahead,
                    until=step.until,
                )
                for step in dish.steps
            ],
            allergens={allergen: list(codes) for allergen, codes in seen.allergens.items()},
            keeps_days=seen.life.plan_days,
            keeps_because=seen.life.reason,
            cautions=[*dish.cautions, *(caution.text for caution in seen.cautions)],
        )


class LineRead(Schema):
    """One line as written, what it was read as, and what is unclear about it."""

    text: str
    read_as: str
    unclear: str


class StepRead(Schema):
    """One step as it was heard; send it back with what is unclear put right."""

    text: str
    minutes: str
    technique: str
    attention: str
    vessel: str
    heat: str
    lines: str
    ahead: bool
    until: str
    unclear: str


class DishRead(Schema):
    """A text read as a dish: nothing of it is in the book yet. `questions` are what an editor would ask."""

    name: str
    course: str
    portions: str
    lines: list[LineRead]
    steps: list[StepRead]
    questions: list[str]
    unclear: bool


class NutrientLine(Schema):
    """One nutrient of a portion; `at_least` where the content of some foods is not known."""

    tag: str
    name: str
    unit: str
    mean: float
    sd: float
    at_least: bool


class Nutrients(Schema):
    """What a portion of a dish weighs and gives."""

    dish: str
    name: str
    portion_g: float
    how: str
    nutrients: list[NutrientLine]
    notes: list[str]

    @classmethod
    def of(cls, seen: DishNutrientsView) -> Nutrients:
        """From the service's view."""
        lines = [(line, line.amount) for line in seen.nutrients]
        return cls(
            dish=seen.dish,
            name=seen.name,
            portion_g=seen.portion_g,
            how=seen.how,
            nutrients=[
                NutrientLine(tag=line.tag, name=line.name, unit=line.unit, mean=a.mean, sd=a.sd, at_least=_open(a))
                for line, a in lines
            ],
            notes=list(seen.notes),
        )


def _open(amount: Amount) -> bool:
    return amount.at_least


class Lot(Schema):
    """Something on the shelf: until when (`use_by`), how it stands, and why."""

    id: str
    name: str
    food: str | None
    dish: str | None
    grams: float
    form: Form
    place: Place
    since: Moment
    use_by: Moment
    last_day: date
    days_left: float
    freshness: Freshness
    known: bool
    reason: str
    source: str
    cautions: list[str]

    @classmethod
    def of(cls, seen: ShelfLot) -> Lot:
        """From the service's view."""
        lot, use_by = seen.lot, seen.use_by
        return cls(
            id=lot.id,
            name=seen.name,
            food=lot.food,
            dish=lot.dish,
            grams=lot.grams,
            form=lot.form,
            place=lot.place,
            since=lot.since,
            use_by=use_by.at,
            last_day=seen.last_day,
            days_left=seen.days_left,
            freshness=seen.freshness,
            known=use_by.known,
            reason=use_by.reason,
            source=use_by.source,
            cautions=list(seen.cautions),
        )


class Shelf(Schema):
    """Everything in the house, what must be used first at the top."""

    at: Moment
    lots: list[Lot]


class Added(Schema):
    """The ids of new lots."""

    lots: list[str]


class Logged(Schema):
    """What was written down, and what is left of the lot [g]."""

    lot: str
    name: str
    deed: Deed
    grams: float
    left_g: float


class Purchase(Schema):
    """What was really bought."""

    lot: str
    name: str
    grams: float
    paid: int


class ToBuy(Schema):
    """One food on one day's list. `key` names it in the address of its tick: plan, day and food."""

    food: str
    name: str
    packs: str
    grams: float
    cost: int
    feeds: list[str]
    bought: Purchase | None

    @classmethod
    def of(cls, item: Item) -> ToBuy:
        """From the service's item."""
        said: Any = item.bought
        bought = said and Purchase(lot=said["lot"], name=said["name"], grams=said["grams"], paid=said["paid"])
        return cls(
            food=item.food,
            name=item.name,
            packs=item.packs,
            grams=item.grams,
            cost=item.cost,
            feeds=list(item.feeds),
            bought=bought or None,
        )


class DayList(Schema):
    """One day's list; `market` is false where only the daily stalls are there."""

    day: date
    market: bool
    items: list[ToBuy]

    @classmethod
    def of(cls, day: DayToBuy) -> DayList:
        """From the service's day."""
        return cls(day=day.day, market=day.market, items=[ToBuy.of(item) for item in day.items])


class MarketLists(Schema):
    """The market lists of the plan in force."""

    plan: int
    currency: str
    budget: int | None
    cost: int
    days: list[DayList]

    @classmethod
    def of(cls, seen: Lists) -> MarketLists:
        """From the service's view."""
        return cls(
            plan=seen.plan,
            currency=seen.currency,
            budget=seen.budget,
            cost=seen.cost,
            days=[DayList.of(day) for day in seen.days],
        )


class Ticked(Schema):
    """Whether this request ticked it off; false where it was already."""

    new: bool


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


class Action(Schema):
    """One action of the ledger."""

    number: int
    at: Moment
    task: str
    note: str
    taken_back: bool

    @classmethod
    def of(cls, done: Done) -> Action:
        """From the service's view."""
        return cls(number=done.number, at=done.at, task=done.task, note=done.note, taken_back=done.taken_back)


class Past(Schema):
    """Actions, the newest first; ask on with `before=older`, null at the end."""

    actions: list[Action]
    older: int | None


class Undone(Schema):
    """The action that was taken back, or done again."""

    number: int
    task: str
    note: str


class Token(Schema):
    """Send it as `Authorization: Bearer …`; it ends after 30 days of absence."""

    token: str


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
