"""Dishes, a house and a serving time → a `Problem`, and which task is which step."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import pairwise

from chauka.kitchen import Attention, Dish, Heat, House, Served, Step, Technique, Vessel
from chauka.scheduling.problem import Due, Goal, Hold, Kind, Lag, Mode, Need, Problem, Resource, Task
from chauka.scheduling.times import (
    BOARD_WORK,
    COOK_UNITS,
    TICKS_PER_MIN,
    UNHURRIED,
    WASH_MIN,
    attention_units,
    planned_minutes,
    ticks,
)  # fmt: skip

BURNERS = "burners"
_GOALS = (Goal.LATENESS, Goal.OVER_HOLD, Goal.HOLD, Goal.SESSION, Goal.ORDER)

_PIECE_MIN = 4.0
_MOST_PIECES = 5
_BETWEEN_PIECES_MIN = 4.0
"""Flatbreads come off the griddle a few at a time; between two lots there may be time to pour a
tempering, but not to let the griddle go cold (common practice, no source)."""

_PREP_EARLY, _COOKED_WAITS = 1, 2
"""Cosmetic weights: cut everything before the rush; leave nothing half cooked on the side."""


@dataclass(frozen=True, slots=True)
class Part:
    """One step of one dish, made `ratio` times as large as written."""

    dish: Dish
    ratio: float
    step: Step


@dataclass(frozen=True, slots=True)
class Job:
    """One task as the cook sees it: a step, several steps done in one go, a lot of breads, or a wash."""

    task: str
    parts: tuple[Part, ...]
    vessel: Vessel | None = None
    piece: int = 0
    wash: bool = False

    @property
    def step(self) -> Step:
        """The (first) step."""
        return self.parts[0].step


@dataclass(frozen=True, slots=True)
class Kitchen:
    """How many hands and flames there are at this sitting, when the first may stir, and what is done already."""

    house: House
    cooks: int
    burners: int
    serve: datetime
    not_before: datetime | None = None
    done: frozenset[tuple[str, str]] = frozenset()
    pad: float = 0.0


@dataclass(frozen=True, slots=True)
class KitchenProblem:
    """The problem, its tasks as jobs, and the tick at which dinner stands on the table."""

    problem: Problem
    jobs: Mapping[str, Job]
    serve: datetime
    serve_tick: int

    def moment(self, tick: int) -> datetime:
        """The wall time of a tick."""
        return self.serve + timedelta(minutes=(tick - self.serve_tick) / TICKS_PER_MIN)


def cook_name(number: int) -> str:
    """Name of the cook's resource, from 1."""
    return f"cook {number}"


def missing_vessels(dishes: Sequence[tuple[Dish, float]], house: House) -> dict[Vessel, list[str]]:
    """Kinds of vessel that the house has none of, with the dishes that ask for one."""
    gone: dict[Vessel, list[str]] = defaultdict(list)
    for dish, _ in dishes:
        for vessel in {s.vessel for s in dish.steps if s.vessel and not s.ahead}:
            if not house.vessel_count(vessel):
                gone[vessel].append(dish.name)
    return dict(gone)


def kitchen_problem(dishes: Sequence[tuple[Dish, float]], kitchen: Kitchen) -> KitchenProblem:
    """The session's problem: every step that is not `ahead` or done, for so many portions of each dish.

    A dish named twice is cooked once, for the sum of its portions.
    """
    portions: dict[str, float] = defaultdict(float)
    for dish, count in dishes:
        portions[dish.id] += count
    distinct = {dish.id: dish for dish, _ in dishes}.values()
    parts = [
        Part(dish, portions[dish.id] / dish.portions, step)
        for dish in distinct
        for step in dish.steps
        if not step.ahead and (dish.id, step.id) not in kitchen.done
    ]
    return _Builder(parts, kitchen).build()


@dataclass(slots=True)
class _Builder:
    parts: list[Part]
    kitchen: Kitchen
    jobs: dict[str, Job] = field(default_factory=dict)
    tasks: list[Task] = field(default_factory=list)
    lags: list[Lag] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    first: dict[tuple[str, str], str] = field(default_factory=dict)
    """(dish, step) → the task that begins it."""
    last: dict[tuple[str, str], str] = field(default_factory=dict)
    """(dish, step) → the task that ends it."""

    def build(self) -> KitchenProblem:
        for parts in self._merged():
            self._add_job(parts)
        for part in self.parts:
            self._add_lags(part)
        self._add_vessels()
        serve_tick = sum(t.modes[0].low for t in self.tasks) + sum(lag.low or 0 for lag in self.lags)
        problem = Problem(
            tasks=tuple(self._windowed(serve_tick)),
            resources=self._resources(),
            horizon=2 * serve_tick + 2,
            lags=tuple(self.lags),
            holds=tuple(self.holds),
            dues=tuple(self._dues(serve_tick)),
            goals=_GOALS,
        )
        return KitchenProblem(problem, self.jobs, self.kitchen.serve, serve_tick)

    # -- steps ---------------------------------------------------------------------------------

    def _merged(self) -> list[tuple[Part, ...]]:
        """Parts that are done in one go: the same cutting of the same food for several dishes."""
        groups: dict[tuple[object, ...], list[Part]] = defaultdict(list)
        for part in self.parts:
            groups[_same_work(part)].append(part)
        return [tuple(group) for group in groups.values()]

    def _add_job(self, parts: tuple[Part, ...]) -> None:
        step = parts[0].step
        spans = [planned_minutes(p.step, p.ratio, self.kitchen.pad) for p in parts]
        low, high = ticks(sum(s[0] for s in spans)), ticks(sum(s[1] for s in spans))
        pieces = _piece_count(parts[0].dish, step, low)
        name = "+".join(f"{p.dish.id}/{p.step.id}" for p in parts)
        names = [name] if pieces == 1 else [f"{name}#{i + 1}" for i in range(pieces)]
        for i, task_id in enumerate(names):
            share = (low * (i + 1) // pieces - low * i // pieces, high * (i + 1) // pieces - high * i // pieces)
            weight = _PREP_EARLY if step.heat is Heat.NONE and step.attention is Attention.HANDS_ON else 0
            self.tasks.append(Task(task_id, self._modes(step, *share), weight=weight))
            self.jobs[task_id] = Job(task_id, parts, step.vessel, piece=i)
        for one, next_one in pairwise(names):
            self.lags.append(Lag(one, next_one, 0, ticks(_BETWEEN_PIECES_MIN), close=2 * _COOKED_WAITS))
        for part in parts:
            self.first[part.dish.id, part.step.id], self.last[part.dish.id, part.step.id] = names[0], names[-1]

    def _modes(self, step: Step, low: int, high: int) -> tuple[Mode, ...]:
        fire = (Need(BURNERS),) if step.heat is not Heat.NONE else ()
        return self._by_whom(attention_units(step), low, high, fire)

    def _by_whom(self, units: int, low: int, high: int, others: tuple[Need, ...] = ()) -> tuple[Mode, ...]:
        if not units:
            return (Mode(low, high, others),)
        cooks = [cook_name(i + 1) for i in range(self.kitchen.cooks)]
        return tuple(Mode(low, high, (Need(cook, units), *others), cook) for cook in cooks)

    def _add_lags(self, part: Part) -> None:
        for after in part.step.after:
            before = part.dish.step(after.step)
            if (part.dish.id, before.id) not in self.last:
                continue
            high = None if after.max_lag_min is None else after.max_lag_min * TICKS_PER_MIN
            one, two = self.last[part.dish.id, before.id], self.first[part.dish.id, part.step.id]
            if one != two:
                waiting = UNHURRIED & {before.technique, part.step.technique}
                close = _COOKED_WAITS if _hot_by(part.dish, before) else int(bool(waiting))
                self.lags.append(Lag(one, two, after.min_lag_min * TICKS_PER_MIN, high, close=close))

    # -- vessels -------------------------------------------------------------------------------

    def _add_vessels(self) -> None:
        """Where more dishes want a kind of vessel than there are, each holds one until it is washed."""
        users: dict[Vessel, dict[str, list[str]]] = defaultdict(lambda: defaultdict(list))
        for task_id, job in self.jobs.items():
            if job.vessel:
                users[job.vessel]["+".join(p.dish.id for p in job.parts)].append(task_id)
        for vessel, by_dish in users.items():
            if len(by_dish) > self.kitchen.house.vessel_count(vessel):
                for dish, uses in by_dish.items():
                    self._add_hold(vessel, dish, uses)

    def _add_hold(self, vessel: Vessel, dish: str, uses: list[str]) -> None:
        wash, long = f"{dish}/wash the {vessel}", ticks(WASH_MIN[vessel])
        self.tasks.append(Task(wash, self._by_whom(3, long, long)))
        self.jobs[wash] = Job(wash, self.jobs[uses[-1]].parts, vessel, wash=True)
        self.lags += [Lag(use, wash) for use in uses]
        self.holds.append(Hold(f"{vessel} for {dish}", str(vessel), (*uses, wash)))

    # -- the rest ------------------------------------------------------------------------------

    def _resources(self) -> tuple[Resource, ...]:
        cooks = [Resource(cook_name(i + 1), COOK_UNITS, Kind.COOK) for i in range(self.kitchen.cooks)]
        held = sorted({hold.resource for hold in self.holds})
        vessels = [Resource(v, self.kitchen.house.vessel_count(Vessel(v)), Kind.VESSEL) for v in held]
        return (*cooks, Resource(BURNERS, self.kitchen.burners, Kind.BURNER), *vessels)

    def _windowed(self, serve_tick: int) -> list[Task]:
        """No task starts before the cook is there."""
        if self.kitchen.not_before is None:
            return self.tasks
        ahead_min = (self.kitchen.serve - self.kitchen.not_before).total_seconds() / 60
        earliest = max(0, serve_tick - int(ahead_min * TICKS_PER_MIN))
        return [Task(t.id, t.modes, earliest, t.latest_end, t.weight) for t in self.tasks]

    def _dues(self, serve_tick: int) -> list[Due]:
        by_dish: dict[str, list[Part]] = defaultdict(list)
        for part in self.parts:
            by_dish[part.dish.id].append(part)
        dues = []
        for dish_id, parts in by_dish.items():
            followed = {after.step for p in parts for after in p.step.after}
            finals = tuple(self.last[dish_id, p.step.id] for p in parts if p.step.id not in followed)
            dish = parts[0].dish
            cap = None if dish.served is Served.COOL else dish.hold_min * TICKS_PER_MIN
            dues.append(Due(dish_id, finals, serve_tick, cap))
        return dues


def _hot_by(dish: Dish, step: Step) -> bool:
    """Whether the dish has been on the fire when this step ends."""
    if step.heat is not Heat.NONE:
        return True
    return any(_hot_by(dish, dish.step(after.step)) for after in step.after)


def _same_work(part: Part) -> tuple[object, ...]:
    """A key that two parts share if one board and one knife do both at once."""
    step, dish = part.step, part.dish
    lines = [dish.line(i) for i in step.lines]
    free = not step.after and step.vessel in (None, Vessel.BOWL) and step.heat is Heat.NONE
    rushed = any(a.step == step.id and a.max_lag_min is not None for s in dish.steps for a in s.after)
    if step.technique in BOARD_WORK and free and not rushed and len({line.food for line in lines}) == 1:
        return step.technique, lines[0].food, lines[0].form
    return dish.id, step.id


def _piece_count(dish: Dish, step: Step, low: int) -> int:
    """Into how many lots griddle work is split."""
    by_lots = step.technique is Technique.GRIDDLE and step.attention is Attention.HANDS_ON
    if not by_lots or dish.served is Served.COOL:
        return 1
    return max(1, min(_MOST_PIECES, round(low / ticks(_PIECE_MIN))))
