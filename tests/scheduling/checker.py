"""An independent look at a schedule, in plain Python and moment by moment: what rules does it break?

It shares the problem's nouns with the scheduler and none of its code.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from itertools import combinations

from tests.scheduling.kitchen_checker import house_broken

from chauka.kitchen import Dish, House, Served, Step, Technique
from chauka.scheduling.problem import Edge, Problem
from chauka.scheduling.schedule import Spot
from chauka.scheduling.sheet import Entry, RunSheet


def broken(problem: Problem, spots: Mapping[str, Spot]) -> list[str]:
    """Every rule of the problem that the schedule breaks, as a sentence."""
    return [
        *_tasks_broken(problem, spots),
        *_lags_broken(problem, spots),
        *_ways_broken(problem, spots),
        *_capacities_broken(problem, spots),
    ]


def _tasks_broken(problem: Problem, spots: Mapping[str, Spot]) -> list[str]:
    out = []
    for task in problem.tasks:
        if task.id not in spots:
            out.append(f"{task.id} is missing")
            continue
        spot = spots[task.id]
        mode = task.modes[spot.mode]
        if not mode.low <= spot.end - spot.start <= mode.high:
            out.append(f"{task.id} takes {spot.end - spot.start}, not {mode.low} to {mode.high}")
        last = problem.horizon if task.latest_end is None else task.latest_end
        if spot.start < task.earliest or spot.end > last:
            out.append(f"{task.id} at {spot.start}–{spot.end} is outside {task.earliest}–{last}")
    return out


def _lags_broken(problem: Problem, spots: Mapping[str, Spot]) -> list[str]:
    def at(task: str, edge: Edge) -> int:
        return {Edge.START: spots[task].start, Edge.END: spots[task].end}[edge]

    out = []
    for lag in problem.lags:
        waits = at(lag.second, lag.to) - at(lag.first, lag.of)
        if (lag.low is not None and waits < lag.low) or (lag.high is not None and waits > lag.high):
            out.append(f"{lag.second} comes {waits} after {lag.first}, not {lag.low} to {lag.high}")
    return out


def _way(problem: Problem, spots: Mapping[str, Spot], task_id: str) -> str:
    return next(t.modes[spots[t.id].mode].way for t in problem.tasks if t.id == task_id)


def _ways_broken(problem: Problem, spots: Mapping[str, Spot]) -> list[str]:
    chosen = [(same, {_way(problem, spots, t) for t in same.tasks}) for same in problem.alike]
    return [f"{', '.join(same.tasks)} are done in ways {sorted(ways)}" for same, ways in chosen if len(ways) > 1]


def _capacities_broken(problem: Problem, spots: Mapping[str, Spot]) -> list[str]:
    used: Counter[tuple[str, int]] = Counter()
    for task in problem.tasks:
        spot = spots[task.id]
        for need in task.modes[spot.mode].needs:
            for tick in range(spot.start, spot.end):
                used[need.resource, tick] += need.amount
    for hold in problem.holds:
        if hold.way and _way(problem, spots, hold.tasks[0]) != hold.way:
            continue
        for tick in range(min(spots[t].start for t in hold.tasks), max(spots[t].end for t in hold.tasks)):
            used[hold.resource, tick] += hold.amount
    capacity = {r.name: r.capacity for r in problem.resources}
    return sorted({f"{name} over-used" for (name, _), amount in used.items() if amount > capacity[name]})


def value(problem: Problem, spots: Mapping[str, Spot]) -> tuple[int, int, int, int]:
    """Lateness, hold beyond the cap, hot hold, session length [tick]."""
    ends = {due.id: max(spots[t].end for t in due.tasks) for due in problem.dues}
    late = sum(max(0, ends[d.id] - d.at) for d in problem.dues)
    hot = [(max(0, d.at - ends[d.id]), d.cap) for d in problem.dues if d.cap is not None]
    over = sum(max(0, waits - cap) for waits, cap in hot)
    last = max(d.at for d in problem.dues)
    return late, over, sum(waits for waits, _ in hot), last - min(s.start for s in spots.values())


def sheet_broken(sheet: RunSheet, dishes: list[tuple[Dish, float]], house: House, burners: int) -> list[str]:
    """What is wrong with a run sheet, judged by the dishes alone."""
    out = []
    when: dict[tuple[str, str], list[Entry]] = {}
    for entry in sheet:
        for key in entry.steps:
            when.setdefault(key, []).append(entry)
    for dish, _ in dishes:
        out += _dish_broken(dish, when)
    fires = [e for e in sheet if e.burner]
    for one, two in combinations(fires, 2):
        if one.burner == two.burner and one.start < two.end and two.start < one.end:
            out.append(f"burner {one.burner} has two vessels at {max(one.start, two.start):%H:%M}")
    out += [f"{e.text} is on burner {e.burner} of {burners}" for e in fires if not 1 <= (e.burner or 0) <= burners]
    return out + house_broken(sheet, dishes, house, burners)


def _dish_broken(dish: Dish, when: dict[tuple[str, str], list[Entry]]) -> list[str]:
    out = []
    for step in dish.steps:
        if step.ahead:
            continue
        rows = when.get((dish.id, step.id))
        if not rows and _falls_no_pressure(dish, step, when):
            continue
        if not rows:
            out.append(f"{dish.id}: {step.id} is not on the sheet")
            continue
        for after in step.after:
            before = when.get((dish.id, after.step))
            if before is None:
                continue
            waits = (min(r.start for r in rows) - max(r.end for r in before)).total_seconds() / 60
            if waits < after.min_lag_min or (after.max_lag_min is not None and waits > after.max_lag_min):
                out.append(f"{dish.id}: {step.id} comes {waits} min after {after.step}")
    return out


def _falls_no_pressure(dish: Dish, step: Step, when: dict[tuple[str, str], list[Entry]]) -> bool:
    """Whether the step waits for a cooker that an open pot stands in for."""
    before = [dish.step(after.step) for after in step.after]
    cooked = [r for b in before if b.technique is Technique.PRESSURE_COOK for r in when.get((dish.id, b.id), [])]
    return bool(cooked) and all("pressure cooker" not in (row.vessel or "") for row in cooked)


def waits_min(sheet: RunSheet, dish: Dish) -> float:
    """Minutes between a dish's last step and serving."""
    last = max(e.end for e in sheet if any(d == dish.id for d, _ in e.steps))
    return (sheet.serve - last).total_seconds() / 60


def is_hot(dish: Dish) -> bool:
    """Whether it suffers from waiting."""
    return dish.served is not Served.COOL
