"""Many small houses made by chance: each answer is valid, and where no plan fits that is right.

    python -m benchmarks.made_houses --houses 2000 --json

Every answer is judged by the independent checker of the tests; on the tiny houses every choice is tried,
and none is better nor leaves fewer positions empty. Keys: `houses`, `valid`, `proven` (the search ended
with a proof), `no_plan_fits` (a position stays empty in the best plan), `tried_out` (by brute force) and
`agreed` of those, `no_plan_fits_tried_out` of which the brute force agrees too.
"""

from __future__ import annotations

import argparse
import json
import sys
from dataclasses import asdict, dataclass
from importlib import import_module

from hypothesis import HealthCheck, Phase, given, seed, settings

from chauka.planning.model import Solution
from chauka.planning.problem import Problem, Term
from chauka.planning.solve import solve

brute, checker, made = (import_module(f"tests.planning.{name}") for name in ("brute", "checker", "made_houses"))
"""The judges are the tests' own; they are not typed."""

MOST_CHOICES = 300
"""Houses with no more choices than this are tried out whole."""


@dataclass(slots=True)
class Count:
    """What came of the houses so far."""

    houses: int = 0
    valid: int = 0
    proven: int = 0
    no_plan_fits: int = 0
    tried_out: int = 0
    agreed: int = 0
    no_plan_fits_tried_out: int = 0

    @property
    def whole(self) -> bool:
        """Whether every answer was right."""
        return self.valid == self.proven == self.houses and self.agreed == self.tried_out


def missed(problem: Problem, solution: Solution) -> int:
    """Positions that stay empty though they should not."""
    return sum(problem.slots[s].places[p].term is Term.MISSED for s, p in solution.empty)


def judge(problem: Problem, count: Count) -> None:
    """Plan one house and book what came of it."""
    result = solve(problem, seconds=10, gap=0)
    solution = result.solution
    count.houses += 1
    count.valid += not checker.faults(problem, solution) and result.bound <= solution.value + 1
    count.proven += result.status == "optimal"
    empty = missed(problem, solution)
    count.no_plan_fits += bool(empty)
    if brute.size(problem) <= MOST_CHOICES:
        best = min(brute.solutions(problem), key=lambda s: s.value)
        count.tried_out += 1
        count.agreed += abs(best.value - solution.value) <= 1
        count.no_plan_fits_tried_out += bool(empty) and missed(problem, best) == empty


def run(houses: int, first: int) -> Count:
    """Judge so many houses of the series that begins with a seed."""
    count = Count()

    @seed(first)
    @settings(
        max_examples=houses,
        deadline=None,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
    )
    @given(made.problems())
    def each(problem: Problem) -> None:
        judge(problem, count)

    each()
    return count


def main() -> int:
    """Read the arguments, judge, print; 1 where an answer was wrong."""
    parser = argparse.ArgumentParser(description="Plan many small houses made by chance.")
    parser.add_argument("--houses", type=int, default=2000)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--json", action="store_true")
    args = parser.parse_args()
    count = run(args.houses, args.seed)
    if args.json:
        print(json.dumps(asdict(count)))
    else:
        for name, value in asdict(count).items():
            print(f"{name.replace('_', ' '):24} {value:6d}")
    return 0 if count.whole else 1


if __name__ == "__main__":
    sys.exit(main())
