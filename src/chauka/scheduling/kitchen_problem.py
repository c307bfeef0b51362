"""Dishes, a house and a serving time → a `Problem`, and which task is which step."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise

from chauka.kitchen import Attention, Dish, Heat, Served, Step, Technique
from chauka.scheduling.jobs import (
    BENCH,
    BURNERS,
    LARGE_BURNERS,
    SMALL_BURNERS,
    Job,
    Kitchen,
    KitchenProblem,
    Part,
    cook_name,
)  # fmt: skip
from chauka.scheduling.modes import Lot, crew, job_modes, needs_bench, span, wash_modes
from chauka.scheduling.problem import Alike, Due, Goal, Hold, Kind, Lag, Need, Problem, Resource, Task
from chauka.scheduling.times import COOK_UNITS, TICKS_PER_MIN, UNHURRIED, WASH_MIN, ticks
from chauka.scheduling.together import done_in_one_go
from chauka.scheduling.vessels import Pot, Use, uses

_GOALS = (Goal.LATENESS, Goal.OVER_HOLD, Goal.HOLD, Goal.SESSION, Goal.ORDER)

_PIECE_MIN = 4.0
_MOST_PIECES = 5
_BETWEEN_PIECES_MIN = 4.0
"""Flatbreads come off the griddle a few at a time; between two lots there may be time to pour a
tempering, but not to let the griddle go cold (common practice, no source)."""

_PREP_EARLY, _COOKED_WAITS = 1, 2
"""Cosmetic weights: cut everything before the rush; leave nothing half cooked on the side."""


def missing(dishes: Sequence[tuple[Dish, float]], kitchen: Kitchen) -> list[str]:
    """Sentences on vessels that the house has none of, and on work that nobody here does."""
    groups = done_in_one_go(parts_of(dishes, kitchen))
    gone: dict[str, list[str]] = defaultdict(list)
    for use in uses(groups, kitchen):
        if not use.ways:
            gone[f"needs a {use.kind}, and the house has none"] += [p.dish.name for p in use.groups[0]]
    cooks = crew(kitchen)
    for parts in groups:
        step = parts[0].step
        if step.attention is not Attention.HANDS_OFF and all(step.technique in c.cannot for c in cooks):
            gone[f"is to {step.technique}, which none of the cooks here does"] += [p.dish.name for p in parts]
    return [f"{' and '.join(dict.fromkeys(names))} {what}" for what, names in gone.items()]


def parts_of(dishes: Sequence[tuple[Dish, float]], kitchen: Kitchen) -> list[Part]:
    """Every step that is not `ahead` or done; a dish named twice is cooked once, for the sum of its portions."""
    portions: dict[str, float] = defaultdict(float)
    for dish, count in dishes:
        portions[dish.id] += count
    distinct = {dish.id: dish for dish, _ in dishes}.values()
    return [
        Part(dish, portions[dish.id] / dish.portions, step)
        for dish in distinct
        for step in dish.steps
        if not step.ahead and (dish.id, step.id) not in kitchen.done
    ]


def kitchen_problem(dishes: Sequence[tuple[Dish, float]], kitchen: Kitchen) -> KitchenProblem:
    """The session's problem for so many portions of each dish; `missing` must be empty."""
    parts = parts_of(dishes, kitchen)
    cooked = {part.dish.id for part in parts}
    made_ahead = tuple(dict.fromkeys(dish.name for dish, _ in dishes if dish.id not in cooked))
    return replace(_Builder(parts, kitchen).build(), made_ahead=made_ahead)


@dataclass(slots=True)
class _Builder:
    parts: list[Part]
    kitchen: Kitchen
    uses: tuple[Use, ...] = ()
    jobs: dict[str, Job] = field(default_factory=dict)
    tasks: list[Task] = field(default_factory=list)
    lags: list[Lag] = field(default_factory=list)
    holds: list[Hold] = field(default_factory=list)
    alike: list[Alike] = field(default_factory=list)
    alone: list[Resource] = field(default_factory=list)
    """One for each vessel that is the dish's own, but can do only one of its steps at a time."""
    first: dict[tuple[str, str], str] = field(default_factory=dict)
    """(dish, step) → the task that begins it."""
    last: dict[tuple[str, str], str] = field(default_factory=dict)
    """(dish, step) → the task that ends it."""

    def build(self) -> KitchenProblem:
        groups = done_in_one_go(self.parts)
        self.uses = uses(groups, self.kitchen)
        in_use = {key: use for use in self.uses for key in use.keys}
        for parts in groups:
            self._add_job(parts, in_use.get(parts[0].key))
        for lag in self._lags():
            self.lags.append(lag)
        for use in self.uses:
            self._add_use(use)
        serve_tick = sum(max(m.low for m in t.modes) for t in self.tasks) + sum(lag.low or 0 for lag in self.lags)
        problem = Problem(
            tasks=tuple(self._windowed(serve_tick)),
            resources=self._resources(),
            horizon=2 * serve_tick + 2,
            lags=tuple(self.lags),
            holds=tuple(self.holds),
            dues=tuple(self._dues(serve_tick)),
            goals=_GOALS,
            alike=tuple(self.alike),
        )
        return KitchenProblem(
            problem,
            self.jobs,
            self.kitchen.serve,
            serve_tick,
            cautions=tuple(_too_full(use, use.too_full) for use in self.uses if use.too_full),
            large_burners=self.kitchen.large_burners,
        )

    # -- steps ---------------------------------------------------------------------------------

    def _add_job(self, parts: tuple[Part, ...], use: Use | None) -> None:
        step = parts[0].step
        count = _piece_count(parts[0].dish, step, span(parts)[0])
        name = "+".join(f"{p.dish.id}/{p.step.id}" for p in parts)
        names = [name] if count == 1 else [f"{name}#{i + 1}" for i in range(count)]
        ways = use.ways if use else ()
        vessel_name = ways[0].pot.name if len(ways) == 1 else ""
        instead = frozenset(way.pot.name for way in ways if way.stands_in)
        weight = _PREP_EARLY if step.heat is Heat.NONE and step.attention is Attention.HANDS_ON else 0
        for i, task_id in enumerate(names):
            self.tasks.append(Task(task_id, job_modes(parts, use, self.kitchen, Lot(i, count)), weight=weight))
            self.jobs[task_id] = Job(task_id, parts, step.vessel, i, vessel_name=vessel_name, instead=instead)
        for one, next_one in pairwise(names):
            self.lags.append(Lag(one, next_one, 0, ticks(_BETWEEN_PIECES_MIN), close=2 * _COOKED_WAITS))
        for part in parts:
            self.first[part.key], self.last[part.key] = names[0], names[-1]

    def _lags(self) -> Iterator[Lag]:
        """What each dish says of the order of its steps; said by two dishes of shared work, it is asked for once."""
        seen = set[Lag]()
        for part in self.parts:
            for after in part.step.after:
                before = part.dish.step(after.step)
                if (part.dish.id, before.id) not in self.last:
                    continue
                high = None if after.max_lag_min is None else after.max_lag_min * TICKS_PER_MIN
                one, two = self.last[part.dish.id, before.id], self.first[part.key]
                waiting = UNHURRIED & {before.technique, part.step.technique}
                close = _COOKED_WAITS if _hot_by(part.dish, before) else int(bool(waiting))
                lag = Lag(one, two, after.min_lag_min * TICKS_PER_MIN, high, close=close)
                if one != two and lag not in seen:
                    seen.add(lag)
                    yield lag

    # -- vessels -------------------------------------------------------------------------------

    def _add_use(self, use: Use) -> None:
        """A scarce vessel is held from its first use until it is washed, whichever it is."""
        tasks = [t for t, job in self.jobs.items() if job.parts[0].key in use.keys and not job.wash]
        beside = use.side_by_side()
        wanted = sum(other.kind is use.kind for other in self.uses)
        if beside and (use.tied or wanted >= self.kitchen.house.vessel_count(use.kind)):
            self._one_at_a_time(
                f"the {use.kind} of {use.dish}", [t for t in tasks if self.jobs[t].parts[0].key in beside]
            )
        if not use.tied:
            return
        held = list(tasks)
        if any(WASH_MIN[way.pot.kind] for way in use.ways):
            wash = f"{use.dish}/wash the {use.kind}"
            self.tasks.append(Task(wash, wash_modes(use, self.kitchen)))
            name = use.ways[0].pot.name if len(use.ways) == 1 else ""
            self.jobs[wash] = Job(wash, use.groups[-1], use.kind, wash=True, vessel_name=name)
            self.lags += [Lag(task, wash) for task in tasks]
            held.append(wash)
        if len(use.ways) == 1:
            self.holds.append(Hold(f"{use.kind} for {use.dish}", use.ways[0].pot.name, tuple(held)))
            return
        if len(held) > 1:
            self.alike.append(Alike(tuple(held)))
        for way in use.ways:
            name = way.pot.name
            self.holds.append(Hold(f"{name} for {use.dish}", name, tuple(held), way=name))

    def _one_at_a_time(self, name: str, tasks: Collection[str]) -> None:
        self.alone.append(Resource(name, 1))
        for i, task in enumerate(self.tasks):
            if task.id in tasks:
                modes = tuple(replace(m, needs=(*m.needs, Need(name))) for m in task.modes)
                self.tasks[i] = replace(task, modes=modes)

    # -- the rest ------------------------------------------------------------------------------

    def _resources(self) -> tuple[Resource, ...]:
        kitchen = self.kitchen
        cooks = [Resource(cook_name(i + 1), COOK_UNITS, Kind.COOK) for i in range(kitchen.cooks)]
        fires = [Resource(BURNERS, kitchen.burners, Kind.BURNER)]
        if kitchen.small_burners:
            fires.append(Resource(LARGE_BURNERS, kitchen.large_burners))
            fires.append(Resource(SMALL_BURNERS, kitchen.small_burners))
        pots = {way.pot.name: way.pot for use in self.uses if use.tied for way in use.ways}
        held = [Resource(pots[name].name, pots[name].count, Kind.VESSEL) for name in sorted(pots)]
        places = kitchen.house.bench_places
        bench = any(needs_bench(part.step, kitchen) for part in self.parts)
        at_bench = [Resource(BENCH, places)] if bench and places else []
        return (*cooks, *fires, *held, *at_bench, *self.alone)

    def _windowed(self, serve_tick: int) -> list[Task]:
        """No task starts before the cook is there."""
        if self.kitchen.not_before is None:
            return self.tasks
        ahead_min = (self.kitchen.serve - self.kitchen.not_before).total_seconds() / 60
        earliest = max(0, serve_tick - int(ahead_min * TICKS_PER_MIN))
        return [replace(t, earliest=earliest) for t in self.tasks]

    def _dues(self, serve_tick: int) -> list[Due]:
        by_dish: dict[str, list[Part]] = defaultdict(list)
        for part in self.parts:
            by_dish[part.dish.id].append(part)
        dues = []
        for dish_id, parts in by_dish.items():
            followed = {after.step for p in parts for after in p.step.after}
            finals = tuple(self.last[p.key] for p in parts if p.step.id not in followed)
            dish = parts[0].dish
            cap = None if dish.served is Served.COOL else dish.hold_min * TICKS_PER_MIN
            first = self._first_lot(parts)
            if first and self.kitchen.breads_min:
                dues.append(Due(dish_id, (first,), serve_tick))
                dues.append(Due(dish_id, finals, serve_tick + ticks(self.kitchen.breads_min), cap))
            else:
                dues.append(Due(dish_id, finals, serve_tick, cap))
        return dues

    def _first_lot(self, parts: list[Part]) -> str | None:
        """The first lot of a dish that comes off the griddle lot by lot."""
        return next((self.first[p.key] for p in parts if self.first[p.key] != self.last[p.key]), None)


def _too_full(use: Use, pot: Pot) -> str:
    names = " and ".join(dict.fromkeys(p.dish.name for p in use.groups[0]))
    return (
        f"{names} asks for a {use.kind} of {use.least_l(use.kind):.1f} l, so that it is not too full, "
        f"and the largest holds {pot.litres:g} l: cook it in two lots"
    )


def _hot_by(dish: Dish, step: Step) -> bool:
    """Whether the dish has been on the fire when this step ends."""
    if step.heat is not Heat.NONE:
        return True
    return any(_hot_by(dish, dish.step(after.step)) for after in step.after)


def _piece_count(dish: Dish, step: Step, low: int) -> int:
    """Into how many lots griddle work is split."""
    by_lots = step.technique is Technique.GRIDDLE and step.attention is Attention.HANDS_ON
    if not by_lots or dish.served is Served.COOL:
        return 1
    return max(1, min(_MOST_PIECES, round(low / ticks(_PIECE_MIN))))
