"""How good the planner is on invented houses, against cooks without a computer.

    python -m benchmarks.planning --days 7 --dishes 60 --people 4 --seeds 5 --seconds 60 --json

The baselines plan the same houses under the same rules, leftovers allowed; of the two greedy cooks the
better one (by the whole penalty) counts. Waste is money's worth thrown away, cost is what the food
takes out of the purse and the cupboard, shortfall the mean over people and nutrients.
"""

from __future__ import annotations

import argparse
import json
import statistics
from dataclasses import asdict, dataclass

from benchmarks.houses import house
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


def row(days: int, dishes: int, people: int, seed: int, seconds: float) -> Row:
    """Plan one house."""
    problem = house(days, dishes, people, seed)
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


def main() -> None:
    """Read the arguments, plan, print."""
    parser = argparse.ArgumentParser(description="Plan invented houses and compare with greedy cooks.")
    for name, default in (("days", 7), ("dishes", 60), ("people", 4), ("seeds", 5)):
        parser.add_argument(f"--{name}", type=int, default=default)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--rows", action="store_true", help="also print every house")
    args = parser.parse_args()
    rows = [row(args.days, args.dishes, args.people, seed, args.seconds) for seed in range(1, args.seeds + 1)]
    figures = summary(rows)
    if args.rows:
        for r in rows:
            print(json.dumps(asdict(r)))
    if args.json:
        print(json.dumps(figures))
    else:
        for name, value in figures.items():
            print(f"{name.replace('_', ' '):24} {value:10.3f}")


if __name__ == "__main__":
    main()
