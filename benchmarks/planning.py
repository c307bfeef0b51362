"""How good the planner is on invented houses, against cooks without a computer.

    python -m benchmarks.planning --days 7 --dishes 60 --people 4 --seeds 5 --seconds 60 --json
    python -m benchmarks.planning --growth --seconds 30

The baselines plan the same houses under the same rules, leftovers allowed; of the two greedy cooks the
better one (by the whole penalty) counts. Waste is money's worth thrown away, cost is what the food
takes out of the purse and the cupboard, shortfall the mean over people and nutrients. All plan with the weights
that a new house has. Times on a machine that does other work say little: the load average is told on stderr.
"""

from __future__ import annotations

import argparse
import json
import os
import statistics
import sys
from dataclasses import asdict, dataclass, replace

from benchmarks.figures import tell
from benchmarks.houses import WEIGHTS, house
from chauka.planning.greedy import Manner, greedy
from chauka.planning.model import Model, Solution
from chauka.planning.problem import Problem, Term
from chauka.planning.solve import solve


@dataclass(frozen=True, slots=True)
class Measured:
    """One plan in a reader's terms."""

    value: float
    waste: float
    cost: float
    shortfall_percent: float
    liking: float
    missed: int


@dataclass(frozen=True, slots=True)
class Row:
    """One house: the planner's proof and all plans."""

    seed: int
    gap_percent: float
    seconds: float
    first_plan_seconds: float
    plan: Measured
    by_liking: Measured
    by_use_by: Measured
    at_random: Measured


def measure(problem: Problem, solution: Solution) -> Measured:
    """A solution's waste, cost, shortfall, liking and misses."""
    floors = [(t, s) for t, s in zip(problem.targets, solution.shares, strict=True) if t.floor]
    eatings = [problem.eatings[e] for e in solution.choice.eatings]
    mains = [e for e in eatings if not problem.recipes[problem.cookings[e.cooking].recipe].ahead]
    points = sum(e.liking for e in mains) / max(1, sum(250 * len(problem.slots[e.slot].eaters) for e in mains))
    return Measured(
        value=solution.value,
        waste=solution.terms[Term.WASTE] / (problem.waste_percent / 100),
        cost=solution.terms[Term.MONEY],
        shortfall_percent=100 * statistics.fmean(max(0.0, 1 - share) for _, share in floors),
        liking=5 - points,
        missed=sum(problem.slots[s].places[p].term is Term.MISSED for s, p in solution.empty),
    )


def baseline(model: Model, manner: Manner, seed: int) -> Measured:
    """A greedy or random plan with the best packs and flows that its choice allows."""
    solution = model.complete(greedy(model.problem, manner, seed))
    if solution is None:
        raise AssertionError(f"the {manner} plan of seed {seed} breaks a rule")
    return measure(model.problem, solution)


def with_shortfall_at(problem: Problem, coins: int) -> Problem:
    """The problem with another price on a per cent that one person falls short of one nutrient."""
    return replace(problem, targets=tuple(replace(t, weight=coins) if t.floor else t for t in problem.targets))


def row(problem: Problem, seed: int, seconds: float) -> Row:
    """Plan one house."""
    model, result = Model(problem), solve(problem, seconds=seconds)
    return Row(
        seed=seed,
        gap_percent=100 * (result.solution.value - result.bound) / result.solution.value,
        seconds=result.seconds,
        first_plan_seconds=result.first_seconds,
        plan=measure(problem, result.solution),
        by_liking=baseline(model, Manner.LIKING, seed),
        by_use_by=baseline(model, Manner.USE_BY, seed),
        at_random=baseline(model, Manner.RANDOM, seed),
    )


def summary(rows: list[Row]) -> dict[str, float]:
    """Medians over the houses, ratios against the better greedy cook of each."""
    pairs = [(r.plan, min(r.by_liking, r.by_use_by, key=lambda m: m.value)) for r in rows]
    return {
        "median_gap_percent": statistics.median(r.gap_percent for r in rows),
        "first_plan_seconds": max(r.first_plan_seconds for r in rows),
        "waste_ratio": statistics.median(p.waste / max(1.0, g.waste) for p, g in pairs),
        "cost_ratio": statistics.median(p.cost / max(1.0, g.cost) for p, g in pairs),
        "shortfall_ratio": statistics.median(p.shortfall_percent / max(0.01, g.shortfall_percent) for p, g in pairs),
        "liking_ratio": statistics.median(p.liking / g.liking for p, g in pairs),
    }


GROWTH = (
    (3, 60, 4), (7, 60, 4), (14, 60, 4), (28, 60, 4),
    (7, 30, 4), (7, 150, 4), (7, 500, 4),
    (7, 60, 2), (7, 60, 8), (7, 60, 12),
)  # fmt: skip
"""Days, dishes and people of the growth table: one grows while the others stay."""


def growth(seconds: float, seed: int) -> None:
    """How size and gap grow with days, dishes and people, as a Markdown table."""
    print("| days | dishes | people | decisions | columns | first plan, s | gap, % | seconds |\n|" + "---|" * 8)
    for days, dishes, people in GROWTH:
        problem = house(days, dishes, people, seed)
        columns, result = len(Model(problem).lp.cost), solve(problem, seconds=seconds)
        gap = 100 * (result.solution.value - result.bound) / result.solution.value
        size = f"{days} | {dishes} | {people} | {len(problem.eatings)} | {columns}"
        print(f"| {size} | {result.first_seconds:.2f} | {gap:.1f} | {result.seconds:.0f} |", flush=True)


def main() -> None:
    """Read the arguments, plan, print."""
    parser = argparse.ArgumentParser(description="Plan invented houses and compare with greedy cooks.")
    for name, default in (("days", 7), ("dishes", 60), ("people", 4), ("seeds", 5)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--first-seed", type=int, default=1)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--shortfall", type=int, default=WEIGHTS.shortfall_percent, help="coins a per cent, for all")
    parser.add_argument("--growth", action="store_true", help="the growth table instead, for the first seed")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--rows", action="store_true", help="also print every house")
    args = parser.parse_args()
    if args.growth:
        growth(args.seconds, args.first_seed)
        return
    seeds = range(args.first_seed, args.first_seed + args.seeds)
    houses = ((seed, house(args.days, args.dishes, args.people, seed)) for seed in seeds)
    rows = [row(with_shortfall_at(problem, args.shortfall), seed, args.seconds) for seed, problem in houses]
    figures = summary(rows)
    print("load average:", *(round(x, 1) for x in os.getloadavg()), file=sys.stderr)
    if args.rows:
        for r in rows:
            print(json.dumps(asdict(r)))
    tell(figures, as_json=args.json)


if __name__ == "__main__":
    main()
