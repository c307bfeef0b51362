"""Planning anew after a disturbance: how good the answer is after 3 and after 15 seconds, and how much it changes.

    python -m benchmarks.replanning --seeds 2 --json

On the third day, before lunch, one of five things happens to a plan that is being followed: a lot goes
off, a guest comes for two days, three foods of the next list are missing, prices rise by 30 %, the
house is out for a day. Keys: `gap_3s_percent` and `gap_15s_percent` how far the answer is above the best
that a long search (`--long` seconds) from the better of both found [% of all that is minded], median over
houses and disturbances; `worst_3s_percent`, `worst_15s_percent`; `changed` and `most_changed`, the
servings of the old plan that the 15-second answer does not keep though it could, of `servings` still to come; for each
disturbance the same under its name.
"""

from __future__ import annotations

import argparse
import json
import random
import statistics
from collections.abc import Callable
from dataclasses import asdict, dataclass, replace

from benchmarks.disturb import dishes_changed, from_now_on, missing
from benchmarks.figures import tell
from benchmarks.houses import house
from chauka.planning.model import Choice
from chauka.planning.problem import Limit, Problem, Source
from chauka.planning.solve import solve

NOW = 7
"""Lunch of the third day: the trip of that day is still to come."""

DEARER = 1.3


@dataclass(frozen=True, slots=True)
class Row:
    """One disturbance of one house."""

    seed: int
    what: str
    gap_3s_percent: float
    gap_15s_percent: float
    changed_3s: int
    changed: int
    servings: int


def lot_off(problem: Problem, plan: Choice, dice: random.Random) -> Problem:
    """All that is in the house of the fresh food of which the plan would still use most is thrown away."""
    used = _uses(problem, plan)
    fresh = [s for s in problem.sources if s.stock and s.first <= NOW <= s.last < len(problem.slots)]
    items = sorted({i for s in fresh for i in s.items})
    gone = max(items, key=lambda i: (used.get(i, 0.0), dice.random()))

    def off(source: Source) -> bool:
        return source.stock and gone in source.items

    sources = tuple(replace(s, last=min(s.last, NOW - 1)) if off(s) else s for s in problem.sources)
    return replace(problem, sources=sources)


def guest(problem: Problem, _: Choice, __: random.Random) -> Problem:
    """One adult more at every sitting of two days, but where a pot that is already cooked is eaten up."""
    day = problem.slots[NOW].day
    pots = {w.slot for w in problem.wishes if w.weight is None}
    slots = tuple(
        replace(s, portions=s.portions + 100) if k >= NOW and s.day <= day + 1 and k not in pots else s
        for k, s in enumerate(problem.slots)
    )
    return replace(problem, slots=slots)


def three_missing(problem: Problem, plan: Choice, dice: random.Random) -> Problem:
    """Three of the foods that the next list names are not there until the trip after."""
    listed = sorted({i for s in plan.packs if problem.sources[s].first >= NOW for i in problem.sources[s].items})
    return missing(problem, set(dice.sample(listed, min(3, len(listed)))), NOW, len(problem.slots))


def dearer(problem: Problem, _: Choice, __: random.Random) -> Problem:
    """Everything costs 30 % more from now on."""
    return replace(
        problem,
        sources=tuple(s if s.stock else replace(s, price=round(DEARER * s.price)) for s in problem.sources),
    )


def day_out(problem: Problem, _: Choice, __: random.Random) -> Problem:
    """Nobody eats at home on the fifth day: its positions cost nothing when empty, and nothing is eaten there."""
    day = problem.slots[NOW].day + 2
    away = {k for k, s in enumerate(problem.slots) if s.day == day}
    slots = tuple(
        replace(s, places=tuple(replace(p, empty=0) for p in s.places)) if k in away else s
        for k, s in enumerate(problem.slots)
    )
    nobody = Limit("away", 0, eatings=tuple(k for k, e in enumerate(problem.eatings) if e.slot in away))
    wishes = tuple(w for w in problem.wishes if w.slot not in away)
    targets = tuple(replace(t, amount=round(t.amount * (1 - 1 / (problem.slots[-1].day + 1)))) for t in problem.targets)
    return replace(problem, slots=slots, limits=(*problem.limits, nobody), wishes=wishes, targets=targets)


DISTURBANCES: dict[str, Callable[[Problem, Choice, random.Random], Problem]] = {
    "lot off": lot_off,
    "guest": guest,
    "three missing": three_missing,
    "prices up": dearer,
    "day out": day_out,
}


def _uses(problem: Problem, plan: Choice) -> dict[int, float]:
    out: dict[int, float] = {}
    for e in plan.eatings:
        for need in problem.cookings[problem.eatings[e].cooking].needs:
            if need.slot >= NOW:
                out[need.item] = out.get(need.item, 0.0) + need.mg
    return out


def rows(seed: int, args: argparse.Namespace) -> list[Row]:
    """All disturbances of one house."""
    before = house(args.days, args.dishes, args.people, seed)
    plan = solve(before, seconds=args.plan_seconds).solution.choice
    followed, out = from_now_on(before, plan, NOW), list[Row]()
    for what, disturbed in DISTURBANCES.items():
        problem = disturbed(followed, plan, random.Random(seed))
        short, long = solve(problem, seconds=3).solution, solve(problem, seconds=15).solution
        best = min(short, long, key=lambda s: s.value)
        best = min(best, solve(problem, seconds=args.long, start=best.choice).solution, key=lambda s: s.value)
        _, servings = dishes_changed(problem, plan, plan)
        kept = {w.slot for w in problem.wishes}
        forced = sum(problem.eatings[e].slot not in kept for e in plan.eatings)
        out.append(
            Row(
                seed=seed,
                what=what,
                gap_3s_percent=100 * (short.value - best.value) / best.value,
                gap_15s_percent=100 * (long.value - best.value) / best.value,
                changed_3s=dishes_changed(problem, plan, short.choice)[0] - forced,
                changed=dishes_changed(problem, plan, long.choice)[0] - forced,
                servings=servings - forced,
            )
        )
    return out


def summary(found: list[Row]) -> dict[str, float]:
    """Medians and worst cases, over all and for each disturbance."""
    out = {
        "gap_3s_percent": statistics.median(r.gap_3s_percent for r in found),
        "worst_3s_percent": max(r.gap_3s_percent for r in found),
        "gap_15s_percent": statistics.median(r.gap_15s_percent for r in found),
        "worst_15s_percent": max(r.gap_15s_percent for r in found),
        "changed": statistics.median(r.changed for r in found),
        "most_changed": max(r.changed for r in found),
        "servings": statistics.median(r.servings for r in found),
    }
    for what in DISTURBANCES:
        of_it = [r for r in found if r.what == what]
        out[f"{what.replace(' ', '_')}_gap_3s_percent"] = statistics.median(r.gap_3s_percent for r in of_it)
        out[f"{what.replace(' ', '_')}_changed"] = statistics.median(r.changed for r in of_it)
    return out


def main() -> None:
    """Read the arguments, disturb, print."""
    parser = argparse.ArgumentParser(description="Plan invented houses anew after disturbances.")
    for name, default in (("days", 7), ("dishes", 60), ("people", 4), ("seeds", 2)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--plan-seconds", type=float, default=40.0, help="for the plan that is followed")
    parser.add_argument("--long", type=float, default=60.0, help="for the search that the answers are held against")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--rows", action="store_true", help="also print every disturbance")
    args = parser.parse_args()
    found = [row for seed in range(1, args.seeds + 1) for row in rows(seed, args)]
    figures = summary(found)
    if args.rows:
        for row in found:
            print(json.dumps(asdict(row)))
    tell(figures, as_json=args.json, width=32)


if __name__ == "__main__":
    main()
