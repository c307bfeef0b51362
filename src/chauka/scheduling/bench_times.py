"""When to do what is done ahead: quarter-hours of the house, and steps placed backwards from cooking."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta

from chauka.kitchen import Dish, House, Step
from chauka.scheduling.times import is_wait, planned_minutes

_MORNING = time(7, 30)
_BEFORE_FIRST_MEAL = timedelta(hours=1)
_AFTER_MEAL = timedelta(hours=1)
"""Free quarter-hours: before the day's first meal, and an hour after each one. A custom of the
program, not a finding; a house that says otherwise can be given its own slots later."""

_LONG_WAIT = timedelta(hours=2)
_EPOCH = datetime(2000, 1, 1)  # noqa: DTZ001 - local wall time, only to count from
_TRIED = 6
"""So many free quarter-hours, counted back, are tried for each step."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A step done ahead, from `start` to `end`.

    `needed` is when its result is asked for, `earliest` when it may be ready at the earliest (None:
    any time). `for_bench` says that another step ahead follows. A wait that is not `ideal` is over
    before it is needed; `free` says that its work begins at a free quarter-hour.
    """

    step: Step
    start: datetime
    end: datetime
    needed: datetime
    earliest: datetime | None = None
    for_bench: bool = False
    ideal: bool = True
    free: bool = True


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
    """The `ahead` steps of one cooking, each as late as its waiting times and the house's slots allow.

    All ways to put them on free quarter-hours are tried, for there are few: first as many as can be
    on one, then as many waits as can be just right, then late.
    """
    cooking = _Cooking(dish, portions / dish.portions, cooking_begins(dish, portions, serve), house)
    ways = cooking.ways([s for s in dish.steps if s.ahead], {})
    return tuple(min(ways, key=_badness).values())


def _badness(placed: Mapping[str, Placed]) -> tuple[float, ...]:
    all_placed = placed.values()
    begins = min((p.start for p in all_placed), default=_EPOCH)
    return (
        sum(not p.free for p in all_placed),
        sum(not p.ideal for p in all_placed),
        -sum((p.start - begins).total_seconds() for p in all_placed),
        -(begins - _EPOCH).total_seconds(),
    )


@dataclass(frozen=True, slots=True)
class _Cooking:
    dish: Dish
    ratio: float
    begins: datetime
    house: House

    def ways(self, steps: Sequence[Step], placed: Mapping[str, Placed]) -> Iterator[dict[str, Placed]]:
        """Every way to place the steps, last first, given those that are placed already."""
        if not steps:
            yield dict(placed)
            return
        *before, step = steps
        for choice in self._choices(step, placed):
            yield from self.ways(before, {step.id: choice, **placed})

    def _choices(self, step: Step, placed: Mapping[str, Placed]) -> Iterator[Placed]:
        needed, earliest, for_bench = self._needed(step, placed)
        low, high = self._minutes(step)
        by_hand = not is_wait(step)
        at_once = Placed(step, needed - low, needed, needed, earliest, for_bench, free=by_hand and for_bench)
        if by_hand and for_bench:
            yield at_once
            return
        starts = self._slots_before(step, needed - low)
        if earliest is not None:
            starts = [s for s in starts if s >= earliest - high]
        for start in starts[:_TRIED]:
            # A wait goes on until its result is needed, or as long as it may.
            end = start + low if by_hand else min(start + high, needed)
            yield Placed(step, start, end, needed, earliest, for_bench, ideal=by_hand or end == needed)
        if not starts:
            yield at_once

    def _needed(self, step: Step, placed: Mapping[str, Placed]) -> tuple[datetime, datetime | None, bool]:
        """When its result is needed at the latest, may be ready at the earliest, and whether for the bench."""
        needed, earliest, for_bench = self.begins, None, False
        for follower in self.dish.steps:
            for after in follower.after:
                if after.step != step.id:
                    continue
                starts = placed[follower.id].start if follower.ahead else self.begins
                for_bench = for_bench or follower.ahead
                needed = min(needed, starts - timedelta(minutes=after.min_lag_min))
                if after.max_lag_min is not None:
                    may_end = starts - timedelta(minutes=after.max_lag_min)
                    earliest = may_end if earliest is None else max(earliest, may_end)
        return needed, earliest, for_bench

    def _slots_before(self, step: Step, latest: datetime) -> list[datetime]:
        """Starts for which the work that leads up to the step begins at a free quarter-hour, latest first."""
        lead = self._lead(step)
        days = (latest.date() - timedelta(days=d) for d in range(3))
        starts = [slot + lead for day in days for slot in slots(self.house, day)]
        return sorted((s for s in starts if s <= latest), reverse=True)

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
        return _in_fives(low), max(_in_fives(low), timedelta(minutes=high))


def _in_fives(minutes: float) -> timedelta:
    """Rounded up to five minutes: nobody soaks beans to the minute."""
    return timedelta(minutes=5 * math.ceil(minutes / 5 - 1e-9))
