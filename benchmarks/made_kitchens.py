"""Kitchens that hypothesis makes up, through the run sheet and past the independent checkers.

    python -m benchmarks.made_kitchens --kitchens 2000 --json

Each is one to four dishes of any shape in a house that is short of something: small burners, vessels of
several sizes, one place at the bench, a child who keeps away from hot oil. Every sheet is checked moment
by moment and row by row, and two laws are tried on it: one more burner, and maximum waits that are five
minutes longer, never make anything worse.
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
from collections import Counter
from dataclasses import dataclass, field, replace
from datetime import datetime

from hypothesis import HealthCheck, Phase, given, seed, settings
from tests.scheduling.checker import broken, sheet_broken
from tests.scheduling.made_kitchens import dinners, houses

from chauka.kitchen import Dish, House
from chauka.scheduling import RunSheet, run_sheet
from chauka.scheduling.problem import Kind, Problem
from chauka.scheduling.schedule import Status
from chauka.scheduling.solve import solve

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time
SECONDS, LAW_SECONDS = 2.0, 4.0
_FIVE_MINUTES, _TOLD_EVERY = 10, 100


@dataclass(slots=True)
class Tally:
    """What came of the kitchens so far; `faults` are sentences of the checkers, of which there should be none."""

    outcomes: Counter[str] = field(default_factory=Counter)
    faults: list[str] = field(default_factory=list)
    laws: Counter[str] = field(default_factory=Counter)
    seconds: list[float] = field(default_factory=list)

    def figures(self) -> dict[str, object]:
        """For printing."""
        return {
            "kitchens": sum(self.outcomes.values()),
            **dict(sorted(self.outcomes.items())),
            "broken_rules": len(self.faults),
            "laws_tried": self.laws["tried"],
            "laws_broken": self.laws["broken"],
            "median_seconds": round(statistics.median(self.seconds or [0.0]), 3),
            "slowest_seconds": round(max(self.seconds, default=0.0), 2),
        }


def look_at(dishes: list[tuple[Dish, float]], kit: House, tally: Tally) -> None:
    """Solve one kitchen, check the sheet, try the laws."""
    sheet = run_sheet(dishes, kit, SERVE, seconds=SECONDS)
    if not sheet.entries or sheet.kitchen is None or sheet.schedule is None:
        tally.outcomes["without a sheet, said why" if sheet.clashes else "without a sheet or a reason"] += 1
        return
    tally.outcomes[sheet.proof.status] += 1
    tally.seconds.append(sheet.proof.seconds)
    problem = sheet.kitchen.problem
    tally.faults += broken(problem, sheet.schedule.spots)
    tally.faults += sheet_broken(sheet, dishes, kit, kit.burners)
    for looser in (_one_more_burner(problem), _longer_waits(problem)):
        _try_law(sheet, looser, tally)


def _try_law(sheet: RunSheet, looser: Problem, tally: Tally) -> None:
    """What is proven for the kitchen as it is must not get worse in a more generous one."""
    if sheet.schedule is None or sheet.schedule.status is not Status.PROVEN:
        return
    then = solve(looser, seconds=LAW_SECONDS)
    if then.status is Status.PROVEN:
        tally.laws["tried"] += 1
        before = [level.value for level in sheet.schedule.levels]
        tally.laws["broken"] += [level.value for level in then.levels] > before


def _one_more_burner(problem: Problem) -> Problem:
    more = tuple(replace(r, capacity=r.capacity + 1) if r.kind is Kind.BURNER else r for r in problem.resources)
    return replace(problem, resources=more, goals=problem.goals[:-1])


def _longer_waits(problem: Problem) -> Problem:
    lags = (lag if lag.high is None else replace(lag, high=lag.high + _FIVE_MINUTES) for lag in problem.lags)
    return replace(problem, lags=tuple(lags), goals=problem.goals[:-1])


def run(kitchens: int, first_seed: int) -> Tally:
    """So many kitchens from one seed."""
    tally = Tally()

    @seed(first_seed)
    @settings(
        max_examples=kitchens,
        deadline=None,
        database=None,
        phases=(Phase.generate,),
        suppress_health_check=list(HealthCheck),
    )
    @given(dinners(), houses())
    def every_one(dishes: list[tuple[Dish, float]], kit: House) -> None:
        look_at(dishes, kit, tally)
        if sum(tally.outcomes.values()) % _TOLD_EVERY == 0:
            print(tally.figures(), file=sys.stderr, flush=True)

    every_one()
    return tally


def main() -> None:
    """Read the command line, run, print."""
    parser = argparse.ArgumentParser(description="Made-up kitchens through the run sheet and its checkers.")
    parser.add_argument("--kitchens", type=int, default=200)
    parser.add_argument("--seed", type=int, default=0)
    parser.add_argument("--json", action="store_true")
    args = parser.parse_args()
    tally = run(args.kitchens, args.seed)
    figures = tally.figures()
    if args.json:
        print(json.dumps({**figures, "faults": tally.faults[:20]}))
        return
    for name, value in figures.items():
        print(f"{name}: {value}")
    for fault in tally.faults[:20]:
        print(f"! {fault}")


if __name__ == "__main__":
    main()
