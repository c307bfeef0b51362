"""A table plan → the bench list: every step that is done ahead, merged, on its day and time."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta

from chauka.kitchen import Batch, Book, Dish, Form, Line, Step, TablePlan, Technique
from chauka.kitchen.counts import counted_text
from chauka.scheduling.bench import BenchEntry, BenchList, Share
from chauka.scheduling.bench_boxes import WORTH_A_BOX_G, dish_boxes, food_boxes
from chauka.scheduling.bench_times import Placed, place_ahead, slots
from chauka.scheduling.larder import HouseLarder, Larder
from chauka.scheduling.sheet import Amount, joined
from chauka.scheduling.times import is_wait, planned_minutes

_SAME_BENCH = timedelta(minutes=90)
_PICKING_MIN_PER_100_G = 2.0
"""Two minutes for 100 g of leaves: common practice, no source."""

_FROM_MARKET = time(11)
_AT_HOME = time(6)


def bench_list(
    plan: TablePlan, book: Book, start: date | None = None, days: int | None = None, *, larder: Larder | None = None
) -> BenchList:
    """The work ahead for everything cooked in `days` days from `start` (by default the plan's).

    Every `ahead` step is placed backwards from its cooking: soaking and setting on the evening or
    morning from which they are just right, work that only has to be done before on the last free
    quarter-hour. The same work on the same food at the same time is one entry. Leafy greens are
    picked over on the day they come from market, or later where the form would not keep so long.
    """
    book = book.whole()
    first, count = start or plan.start, days or plan.days
    maker = _Bench(plan, book, first, count, larder or HouseLarder(book.house))
    entries = _in_turn(e for e in _merged([*maker.ahead(), *maker.picking()], book) if not _a_garnish(e))
    cooked = [(batch.id, serve) for batch, _, serve in maker.batches()]
    labels = [*food_boxes(entries, book, maker.larder), *dish_boxes(cooked, plan, book, maker.larder)]
    return BenchList(first, count, entries, tuple(sorted(labels, key=lambda b: (b.packed, b.name))))


_WATER = frozenset({"K505"})
"""Soaking water is no food to look for in a box."""


@dataclass(frozen=True, slots=True)
class _Greens:
    """A leafy green for one cooking: how much, since when it is in the house, and whether picked already."""

    food: str
    grams: float
    home: datetime
    picked: bool


@dataclass(frozen=True, slots=True)
class _Bench:
    plan: TablePlan
    book: Book
    start: date
    days: int
    larder: Larder

    def batches(self) -> Iterator[tuple[Batch, Dish, datetime]]:
        """Everything cooked on these days, with its dish and serving time."""
        serves = {(s.day, s.meal): datetime.combine(s.day, s.serve) for s in self.plan.sittings}
        for batch in self.plan.batches:
            if self.start <= batch.day < self.start + timedelta(days=self.days):
                yield batch, self.book.dish(batch.dish), serves[batch.day, batch.meal]

    def ahead(self) -> Iterator[BenchEntry]:
        """The `ahead` steps; greens are picked over as soon as they are home and keep well that way."""
        for batch, dish, serve in self.batches():
            for placed in place_ahead(dish, batch.portions, serve, self.book.house):
                greens = self._greens(batch, dish, placed.step)
                if greens is None:
                    yield self._entry(batch, dish, placed, serve, _why(placed))
                elif not greens.picked:
                    start, why = self._picking_time(greens, placed.needed, placed.earliest)
                    moved = replace(placed, start=start, end=start + (placed.end - placed.start))
                    yield self._entry(batch, dish, moved, serve, why)

    def _entry(self, batch: Batch, dish: Dish, placed: Placed, serve: datetime, why: str) -> BenchEntry:
        step, ratio = placed.step, batch.portions / dish.portions
        lines = [line for i in step.lines if (line := dish.line(i)).food not in _WATER]
        amounts = _amounts(lines, ratio)
        minutes = (placed.end - placed.start).total_seconds() / 60
        detail = counted_text(step.text, ratio)
        text = f"{dish.name}: {detail.rstrip('. ')}"
        if step.technique is Technique.SOAK and amounts:
            text = _soaking(amounts, [dish.name])
        return BenchEntry(
            start=placed.start,
            minutes=minutes,
            hands_min=0.0 if is_wait(step) else minutes,
            technique=step.technique,
            text=text,
            amounts=amounts,
            foods=tuple(dict.fromkeys(line.food for line in lines)),
            dishes=(dish.id,),
            steps=((batch.id, step.id),),
            done_by=placed.end,
            needed=placed.needed,
            detail=detail,
            why=why,
            overdue=placed.start.date() < self.start,
            shares=(Share(dish.id, serve, math.fsum(a.grams for a in amounts)),),
        )

    def picking(self) -> Iterator[BenchEntry]:
        """Leafy greens whose dish does not say when to pick them: done on market day all the same."""
        for batch, dish, serve in self.batches():
            for line in dish.lines:
                pick = [s for s in dish.steps if s.technique is Technique.PICK and line.id in s.lines]
                greens = self._greens_of(batch, line.food)
                if greens is None or greens.picked or any(s.ahead for s in pick):
                    continue
                start, why = self._picking_time(greens, serve - timedelta(hours=1), None)
                minutes = greens.grams / 100 * _PICKING_MIN_PER_100_G
                if pick:
                    minutes = sum(planned_minutes(s, batch.portions / dish.portions)[0] for s in pick)
                yield BenchEntry(
                    start=start,
                    minutes=minutes,
                    hands_min=minutes,
                    technique=Technique.PICK,
                    text=f"{dish.name}: pick over the {line.said} and wrap it dry",
                    amounts=(Amount(line.said, greens.grams),),
                    foods=(line.food,),
                    dishes=(dish.id,),
                    steps=tuple((batch.id, s.id) for s in pick),
                    done_by=start + timedelta(minutes=minutes),
                    needed=serve,
                    why=why,
                    overdue=start.date() < self.start,
                    shares=(Share(dish.id, serve, greens.grams),),
                )

    def _greens(self, batch: Batch, dish: Dish, step: Step) -> _Greens | None:
        """The leafy green that a picking step is about."""
        if step.technique is not Technique.PICK:
            return None
        foods = [dish.line(i).food for i in step.lines]
        return next((g for g in (self._greens_of(batch, f) for f in foods) if g is not None), None)

    def _greens_of(self, batch: Batch, food: str) -> _Greens | None:
        """Where a batch's leafy green comes from; None for any other food, and where the plan draws none."""
        draws = [d for d in self.plan.draws if d.batch == batch.id and d.food == food]
        if not draws or not self.larder.leafy(food):
            return None
        bought = {p.id: datetime.combine(p.day, _FROM_MARKET) for p in self.plan.purchases}
        lots = {lot.id: lot for lot in self.book.lots}
        here = datetime.combine(self.start, _AT_HOME)
        home = max(bought.get(d.source, here) for d in draws)
        picked = all(d.source in lots and lots[d.source].form is not Form.WHOLE for d in draws)
        return _Greens(food, math.fsum(d.grams for d in draws), home, picked)

    def _picking_time(self, greens: _Greens, needed: datetime, earliest: datetime | None) -> tuple[datetime, str]:
        """The first free quarter-hour from which the picked leaves keep until they are needed."""
        life = self.larder.food(greens.food, Form.PICKED)
        first = max(greens.home, earliest or greens.home)
        days = range((needed.date() - greens.home.date()).days + 1)
        free = [s for d in days for s in slots(self.book.house, greens.home.date() + timedelta(d))]
        free = [s for s in free if first <= s < needed]
        for slot in free:
            if life.allow(needed - slot):
                same_day = slot.date() == greens.home.date()
                return slot, f"picked dry it keeps ({life.why})" if same_day else f"not sooner: picked, {life.why}"
        last = free[-1] if free else needed - timedelta(minutes=30)
        return last, "the last free quarter-hour before cooking"


def _a_garnish(entry: BenchEntry) -> bool:
    """A few sprigs that no step asks to pick are picked when they are used."""
    few = math.fsum(a.grams for a in entry.amounts) < WORTH_A_BOX_G
    return entry.technique is Technique.PICK and not entry.steps and few


def _merged(entries: list[BenchEntry], book: Book) -> list[BenchEntry]:
    """The same work on the same food at about the same time, once."""
    out: list[BenchEntry] = []
    for entry in sorted(entries, key=lambda e: (e.start, e.needed, e.steps)):
        for i, other in enumerate(out):
            if other.foods and _same(entry, other):
                names = [book.dish(d).name for d in dict.fromkeys((*other.dishes, *entry.dishes))]
                out[i] = _both(other, entry, names)
                break
        else:
            out.append(entry)
    return out


def _in_turn(entries: Iterable[BenchEntry]) -> tuple[BenchEntry, ...]:
    """One pair of hands: picking that would begin while other leaves are picked begins after them, if it still can."""
    out: list[BenchEntry] = []
    free: datetime | None = None
    for entry in sorted(entries, key=lambda e: e.start):
        if entry.technique is Technique.PICK:
            later = timedelta(0) if free is None else max(timedelta(0), free - entry.start)
            if entry.end + later <= entry.needed:
                entry = replace(entry, start=entry.start + later, done_by=entry.done_by + later)  # noqa: PLW2901
            free = entry.end
        out.append(entry)
    return tuple(sorted(out, key=lambda e: e.start))


def _same(one: BenchEntry, two: BenchEntry) -> bool:
    alike = one.technique is two.technique and one.foods == two.foods
    return alike and abs(one.start - two.start) <= _SAME_BENCH


def _both(one: BenchEntry, two: BenchEntry, names: list[str]) -> BenchEntry:
    grams: dict[str, float] = defaultdict(float)
    for amount in (*one.amounts, *two.amounts):
        grams[amount.said] += amount.grams
    amounts = tuple(Amount(said, g) for said, g in grams.items())
    # Two dishes' potatoes boil in one pot; two dishes' onions are cut one after the other.
    hands = (max if one.technique.cooks else sum)((one.hands_min, two.hands_min))
    waiting = max(one.minutes - one.hands_min, two.minutes - two.hands_min)
    verb = _VERBS.get(one.technique, str(one.technique))
    return replace(
        one,
        minutes=waiting + hands,
        hands_min=hands,
        text=f"{verb} {joined([str(a) for a in amounts])} for {joined(names)}",
        amounts=amounts,
        dishes=tuple(dict.fromkeys((*one.dishes, *two.dishes))),
        steps=(*one.steps, *two.steps),
        done_by=max(one.done_by, two.done_by),
        needed=min(one.needed, two.needed),
        overdue=one.overdue or two.overdue,
        shares=(*one.shares, *two.shares),
    )


def _soaking(amounts: Iterable[Amount], names: list[str]) -> str:
    return f"wash and soak {joined([str(a) for a in amounts])} for {joined(names)}"


_VERBS = {Technique.PICK: "pick over", Technique.SOAK: "wash and soak", Technique.CUT: "chop"}


def _amounts(lines: Iterable[Line], ratio: float) -> tuple[Amount, ...]:
    return tuple(Amount(line.said, 0.0 if line.to_taste else line.grams.mean * ratio) for line in lines)


def _why(placed: Placed) -> str:
    when = f"{placed.needed:%a %H:%M}"
    if not is_wait(placed.step):
        return f"for what begins {when}" if placed.for_bench else f"the last free quarter-hour before cooking, {when}"
    if placed.ideal:
        return f"just right for {'the next step' if placed.for_bench else 'cooking'}, {when}"
    return f"done by {placed.end:%a %H:%M}; keep it cool until {when}"
