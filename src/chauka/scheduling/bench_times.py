"""When to do what is done ahead: quarter-hours of the house, and steps placed backwards from cooking."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta

from chauka.kitchen import Attention, Dish, House, Step
from chauka.scheduling.times import UNHURRIED, planned_minutes

_MORNING = time(7, 30)
_BEFORE_FIRST_MEAL = timedelta(hours=1)
_AFTER_MEAL = timedelta(hours=1)
"""Free quarter-hours: before the day's first meal, and an hour after each one. A custom of the
program, not a finding; a house that says otherwise can be given its own slots later."""

_LONG_WAIT = timedelta(hours=2)


@dataclass(frozen=True, slots=True)
class Placed:
    """A step done ahead, from `start` to `end`.

    `needed` is when its result is asked for, `earliest` when it may be ready at the earliest (None:
    any time). `ideal` is False for a wait that ends before it is needed.
    """

    step: Step
    start: datetime
    end: datetime
    needed: datetime
    ideal: bool
    earliest: datetime | None = None


def slots(house: House, day: date) -> tuple[datetime, ...]:
    """The free quarter-hours of a day, in order."""
    serves = sorted(datetime.combine(day, m.serve) for m in house.meal_times if m.weekday == day.weekday())
    morning = datetime.combine(day, _MORNING)
    if serves:
        morning = min(morning, serves[0] - _BEFORE_FIRST_MEAL)
    return tuple(sorted({morning, *(s + _AFTER_MEAL for s in serves)}))


def cooking_begins(dish: Dish, portions: float, serve: datetime) -> datetime:
    """When the dish's session begins at the latest, by its longest chain of steps, to the quarter-hour below."""
    ends: dict[str, float] = {}
    for step in dish.steps:
        if not step.ahead:
            begin = max((ends[a.step] + a.min_lag_min for a in step.after if a.step in ends), default=0.0)
            ends[step.id] = begin + planned_minutes(step, portions / dish.portions)[0]
    begins = serve - timedelta(minutes=max(ends.values(), default=0.0))
    return begins.replace(minute=begins.minute // 15 * 15, second=0, microsecond=0)


def place_ahead(dish: Dish, portions: float, serve: datetime, house: House) -> tuple[Placed, ...]:
    """The `ahead` steps of one cooking, each as late as its waiting times and the house's slots allow."""
    cooking = _Cooking(dish, portions / dish.portions, cooking_begins(dish, portions, serve), house)
    for step in reversed(dish.steps):
        if step.ahead:
            cooking.place(step)
    return tuple(cooking.placed[s.id] for s in dish.steps if s.ahead)


@dataclass(frozen=True, slots=True)
class _Cooking:
    dish: Dish
    ratio: float
    begins: datetime
    house: House
    placed: dict[str, Placed] = field(default_factory=dict)

    def place(self, step: Step) -> None:
        """Place one step, all that follow it being placed already."""
        needed, earliest, for_bench = self._needed(step)
        low, high = self._minutes(step)
        start: datetime | None
        if not is_wait(step):
            start = needed - low
            if not for_bench:
                start = self._slot_within(step, earliest and earliest - low, needed - low) or start
            self.placed[step.id] = Placed(step, start, start + low, needed, ideal=True, earliest=earliest)
            return
        start = self._slot_within(step, needed - high, needed - low)
        if start is None and earliest is not None:
            start = self._slot_within(step, earliest - high, needed - low) or needed - low
        if start is None:
            start = self._slot_within(step, None, needed - low) or needed - low
        # A wait goes on until its result is needed, or as long as it may.
        ends = min(start + high, needed)
        self.placed[step.id] = Placed(step, start, ends, needed, ideal=ends == needed, earliest=earliest)

    def _needed(self, step: Step) -> tuple[datetime, datetime | None, bool]:
        """When its result is needed at the latest, may be ready at the earliest, and whether for the bench."""
        needed, earliest, for_bench = self.begins, None, False
        for follower in self.dish.steps:
            for after in follower.after:
                if after.step != step.id:
                    continue
                starts = self.placed[follower.id].start if follower.ahead else self.begins
                for_bench = for_bench or follower.ahead
                needed = min(needed, starts - timedelta(minutes=after.min_lag_min))
                if after.max_lag_min is not None:
                    may_end = starts - timedelta(minutes=after.max_lag_min)
                    earliest = may_end if earliest is None else max(earliest, may_end)
        return needed, earliest, for_bench

    def _slot_within(self, step: Step, earliest: datetime | None, latest: datetime) -> datetime | None:
        """The latest start between two moments for which the work that leads up to it begins at a free quarter-hour."""
        lead = self._lead(step)
        days = (latest.date() - timedelta(days=d) for d in range(2))
        starts = [slot + lead for day in days for slot in slots(self.house, day)]
        return max((s for s in starts if s <= latest and (earliest is None or s >= earliest)), default=None)

    def _lead(self, step: Step) -> timedelta:
        """How long the cook works and waits at the bench before this step, without a long wait between."""
        leads = [timedelta(0)]
        for after in step.after:
            before = self.dish.step(after.step)
            low, _ = self._minutes(before)
            if before.ahead and after.max_lag_min is not None and low < _LONG_WAIT:
                leads.append(self._lead(before) + low + timedelta(minutes=after.min_lag_min))
        return max(leads)

    def _minutes(self, step: Step) -> tuple[timedelta, timedelta]:
        low, high = planned_minutes(step, self.ratio)
        return timedelta(minutes=low), timedelta(minutes=high)


def is_wait(step: Step) -> bool:
    """Soaking, sprouting, setting, resting, cooling: nobody stands by, and it may last a while longer."""
    return step.technique in UNHURRIED and step.attention is Attention.HANDS_OFF
