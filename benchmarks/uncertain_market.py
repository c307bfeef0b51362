"""Markets that lack things: what is wasted when the plan is made anew at each trip, and when dishes are just swapped.

    python -m benchmarks.uncertain_market --runs 200 --missing 0.2 --seconds 3 --json

Each item is missing at each trip (Sunday and Wednesday, until the next) with a given probability,
known only when one stands there. Keys: `waste_ratio` realised waste by weight over the undisturbed
plan's, `waste_worth_ratio` the same by what it cost, `bad_waste_ratio` what one run in ten exceeds,
`naive_ratio` and `naive_worth_ratio` for a cook who keeps the list and the plan and puts the best
liked dish that can be made in place of one that cannot, `missed` and `naive_missed` the positions
that stay empty a run, `undisturbed_waste_g` the plan's own waste, `runs`.
"""

from __future__ import annotations

import argparse
import random
import statistics
from collections.abc import Callable
from dataclasses import dataclass, replace

from benchmarks.disturb import bought, from_now_on, missing
from benchmarks.figures import tell
from benchmarks.houses import MARKET_WEEKDAYS, START_WEEKDAY, house
from chauka.errors import SolverError
from chauka.planning.greedy import Manner, greedy
from chauka.planning.model import Choice, Model, Solution
from chauka.planning.problem import Problem, Term
from chauka.planning.solve import solve

SLOTS_A_DAY = 3


@dataclass(frozen=True, slots=True)
class Realised:
    """What came of one run."""

    waste_g: float
    waste_worth: float
    missed: int


def measure(problem: Problem, solution: Solution) -> Realised:
    """Waste by weight and worth, and empty positions."""
    return Realised(
        waste_g=sum(
            mg / 1000 for s, mg in zip(problem.sources, solution.left_mg, strict=True) if not problem.outlives(s)
        ),
        waste_worth=solution.terms[Term.WASTE] / (problem.waste_percent / 100),
        missed=sum(problem.slots[s].places[p].term is Term.MISSED for s, p in solution.empty),
    )


def trips(problem: Problem) -> list[tuple[int, int]]:
    """(slot of the trip, slot of the next) for each market day."""
    days = range(problem.slots[-1].day + 1)
    first = [SLOTS_A_DAY * d + 1 for d in days if (START_WEEKDAY + d) % 7 in MARKET_WEEKDAYS]
    return list(zip(first, [*first[1:], len(problem.slots)], strict=True))


Policy = Callable[[Problem, Choice, set[int], tuple[int, int]], tuple[Problem, Solution]]
"""(problem, plan so far, items missing, (slot of the trip, of the next)) → the problem as it is then, the new plan."""


def lived_through(problem: Problem, plan: Solution, chance: float, seed: int, policy: Policy) -> Realised:
    """One run: at each trip some items are missing, and the policy answers."""
    dice, now, current = random.Random(seed), problem, plan
    for trip in trips(problem):
        gone = {i for i in range(len(problem.items)) if dice.random() < chance}
        listed = {s for s in current.choice.packs if trip[0] <= now.sources[s].first < trip[1]}
        if any(gone & set(now.sources[s].items) for s in listed):
            now, current = policy(now, current.choice, gone, trip)
    return measure(now, current)


def planned_anew(seconds: float) -> Policy:
    """The rest is planned anew at the market, staying near the plan."""

    def policy(problem: Problem, plan: Choice, gone: set[int], trip: tuple[int, int]) -> tuple[Problem, Solution]:
        now = missing(from_now_on(problem, plan, trip[0]), gone, *trip)
        return now, solve(now, seconds=seconds, gap=0.005).solution

    return policy


def swapped_by_liking(
    problem: Problem, plan: Choice, gone: set[int], trip: tuple[int, int]
) -> tuple[Problem, Solution]:
    """Buy what is on the list and there, keep what can be made, else the best liked dish; nothing is planned anew."""
    now = from_now_on(problem, plan, trip[0])
    open_to = missing(now, gone, *trip).sources
    listed = tuple(
        bought(s, plan.packs[k]) if k in plan.packs and not s.stock and s.most and trip[0] <= s.first < trip[1] else s
        for k, s in enumerate(open_to)
    )
    more = tuple(s for s, before in zip(open_to, listed, strict=True) if s is not before)
    now = replace(now, sources=(*listed, *more))
    model = Model(now)
    for choice in (greedy(now, Manner.LIKING), greedy(now, Manner.USE_BY), _without(problem, plan, gone, trip)):
        solution = model.complete(choice)
        if solution:
            return now, solution
    raise SolverError("what was already cooked cannot be kept")


def _without(problem: Problem, plan: Choice, gone: set[int], trip: tuple[int, int]) -> Choice:
    """What has been, and of the rest only what needs nothing that is missing; no packs beyond the list."""

    def stays(e: int) -> bool:
        cooking = problem.cookings[problem.eatings[e].cooking]
        return cooking.slot < trip[0] or not gone & {need.item for need in cooking.needs}

    eatings = frozenset(e for e in plan.eatings if stays(e))
    ready = {c for c, cooking in enumerate(problem.cookings) if cooking.ready is not None}
    later = {s: n for s, n in plan.packs.items() if problem.sources[s].first >= trip[1]}
    return Choice(frozenset(ready | {problem.eatings[e].cooking for e in eatings}), eatings, later)


def compare(days: int, dishes: int, people: int, seed: int, args: argparse.Namespace) -> dict[str, list[float]]:
    """All runs of one house."""
    problem = house(days, dishes, people, seed)
    plan = solve(problem, seconds=args.plan_seconds).solution
    base = measure(problem, plan)
    out: dict[str, list[float]] = {"base_g": [], "base": []}
    policies: dict[str, Policy] = {"anew": planned_anew(args.seconds), "naive": swapped_by_liking}
    for run in range(args.runs // args.houses):
        try:
            runs = {n: lived_through(problem, plan, args.missing, 1000 * seed + run, p) for n, p in policies.items()}
        except SolverError:
            continue  # left out of every figure; `runs` tells how many are in
        out["base_g"].append(base.waste_g)
        out["base"].append(base.waste_worth)
        for name, got in runs.items():
            for key, value in (("g", got.waste_g), ("worth", got.waste_worth), ("missed", got.missed)):
                out.setdefault(f"{name}_{key}", []).append(value)
    return out


def summary(found: dict[str, list[float]]) -> dict[str, float]:
    """Means over all runs, against the undisturbed plans."""
    mean = {key: statistics.fmean(values) for key, values in found.items()}
    ratios = sorted(g / max(1.0, b) for g, b in zip(found["anew_g"], found["base_g"], strict=True))
    return {
        "waste_ratio": mean["anew_g"] / mean["base_g"],
        "waste_worth_ratio": mean["anew_worth"] / mean["base"],
        "bad_waste_ratio": ratios[int(0.9 * (len(ratios) - 1))],
        "naive_ratio": mean["naive_g"] / mean["base_g"],
        "naive_worth_ratio": mean["naive_worth"] / mean["base"],
        "missed": mean["anew_missed"],
        "naive_missed": mean["naive_missed"],
        "undisturbed_waste_g": mean["base_g"],
        "runs": len(ratios),
    }


def main() -> None:
    """Read the arguments, live through the runs, print."""
    parser = argparse.ArgumentParser(description="Plan invented houses whose markets lack things.")
    for name, default in (("days", 7), ("dishes", 60), ("people", 4), ("houses", 5), ("runs", 200)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--missing", type=float, default=0.2)
    parser.add_argument("--seconds", type=float, default=3.0, help="for each plan made anew")
    parser.add_argument("--plan-seconds", type=float, default=20.0, help="for each undisturbed plan")
    parser.add_argument("--json", action="store_true")
    args = parser.parse_args()
    found: dict[str, list[float]] = {}
    for seed in range(1, args.houses + 1):
        for key, values in compare(args.days, args.dishes, args.people, seed, args).items():
            found.setdefault(key, []).extend(values)
    tell(summary(found), as_json=args.json)


if __name__ == "__main__":
    main()
