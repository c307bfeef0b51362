"""Published project-scheduling instances through our problem type.

    python -m benchmarks.psplib FOLDER --seconds 10 --json

reads every `.sm` (single mode) and `.sch` (minimum and maximum lags) file of a folder, with a
`best_known.csv` beside them, and compares. Formats: R. Kolisch and A. Sprecher, "PSPLIB: a project
scheduling problem library", European Journal of Operational Research 96 (1996) 205-216;
`.sch` is ProGen/max's (C. Schwindt), whose arcs carry start-to-start lags, negative for a maximum.
"""

from __future__ import annotations

import argparse
import csv
import importlib
import importlib.util
import json
import math
import re
import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from chauka.scheduling.problem import Edge, Goal, Lag, Mode, Need, Problem, Resource, Task
from chauka.scheduling.schedule import Schedule, Status
from chauka.scheduling.solve import solve


@dataclass(frozen=True, slots=True)
class Known:
    """What the literature knows of an instance; `best` is None where it is infeasible."""

    status: str
    best: int | None


@dataclass(frozen=True, slots=True)
class Outcome:
    """One instance, solved."""

    name: str
    status: Status
    makespan: int | None
    bound: int | None
    known: Known
    seconds: float

    @property
    def proven(self) -> bool:
        """Whether the answer is proven, an "impossible" included."""
        return self.status in (Status.PROVEN, Status.IMPOSSIBLE)

    @property
    def wrong(self) -> bool:
        """Whether a proof contradicts what is known."""
        if self.known.status == "infeasible":
            return self.makespan is not None
        if self.status is Status.IMPOSSIBLE:
            return True
        if self.known.best is None or self.makespan is None:
            return False
        beats_an_optimum = self.known.status == "optimal" and self.makespan < self.known.best
        return beats_an_optimum or (self.status is Status.PROVEN and self.makespan > self.known.best)

    @property
    def gap_percent(self) -> float:
        """How far above the best known makespan [%]; 100 where nothing was found."""
        if self.known.best is None:
            return 0.0
        if self.makespan is None:
            return 100.0
        return 100 * (self.makespan - self.known.best) / self.known.best


_UNKNOWN = Known("unknown", None)


def read_instance(path: Path) -> Problem:
    """The problem in a `.sm` or `.sch` file, with the makespan as its only goal."""
    return read_sm(path.read_text()) if path.suffix == ".sm" else read_sch(path.read_text())


def read_sm(text: str) -> Problem:
    """A PSPLIB single-mode file."""
    part = re.split(r"\*{10,}\n", text)
    section = {p.split(":", 1)[0].strip(): p.splitlines() for p in part if ":" in p}
    lags = []
    for row in section["PRECEDENCE RELATIONS"][2:]:
        job, _, _, *after = row.split()
        lags += [Lag(job, other) for other in after]
    capacities = [int(x) for x in section["RESOURCEAVAILABILITIES"][2].split()]
    rows = [[int(x) for x in row.split()] for row in section["REQUESTS/DURATIONS"][3:]]
    works = [(str(job), duration, needs) for job, _, duration, *needs in rows]
    return _project(works, capacities, lags, sum(w[1] for w in works))


def read_sch(text: str) -> Problem:
    """A ProGen/max file: arcs with start-to-start lags, then the activities, then the capacities."""
    lines = [line.split() for line in text.splitlines() if line.strip()]
    jobs = int(lines[0][0]) + 2
    lags, longest = [], 0
    for row in lines[1 : 1 + jobs]:
        job, _, count, *rest = row
        after, waits = rest[: int(count)], [int(x.strip("[]")) for x in rest[int(count) :]]
        for other, least in zip(after, waits, strict=True):
            if least >= 0:
                lags.append(Lag(job, other, low=least, of=Edge.START, to=Edge.START))
            else:
                lags.append(Lag(other, job, low=None, high=-least, of=Edge.START, to=Edge.START))
        longest += max([0, *waits])
    works = [(row[0], int(row[2]), [int(x) for x in row[3:]]) for row in lines[1 + jobs : 1 + 2 * jobs]]
    capacities = [int(x) for x in lines[1 + 2 * jobs]]
    return _project(works, capacities, lags, sum(w[1] for w in works) + longest)


def _project(
    works: Sequence[tuple[str, int, list[int]]], capacities: list[int], lags: list[Lag], horizon: int
) -> Problem:
    resources = tuple(Resource(f"R{i}", capacity) for i, capacity in enumerate(capacities))
    tasks = []
    for job, duration, amounts in works:
        needs = tuple(Need(r.name, n) for r, n in zip(resources, amounts, strict=True) if n)
        tasks.append(Task(job, (Mode(duration, duration, needs),)))
    return Problem(tuple(tasks), resources, horizon, tuple(lags), goals=(Goal.MAKESPAN,))


def best_known(folder: Path) -> dict[str, Known]:
    """What `best_known.csv` says, by file name."""
    with (folder / "best_known.csv").open() as file:
        return {
            row["instance"]: Known(row["status"], int(row["best_makespan"]) if row["best_makespan"] else None)
            for row in csv.DictReader(file)
        }


def run_one(path: Path, known: Known, seconds: float) -> Outcome:
    """Solve one instance with two workers."""
    answer = solve(read_instance(path), seconds=seconds)
    makespan, bound = _makespan(answer)
    return Outcome(path.name, answer.status, makespan, bound, known, answer.seconds)


def _makespan(answer: Schedule) -> tuple[int | None, int | None]:
    if not answer.levels:
        return None, None
    return answer.levels[0].value, answer.levels[0].bound


def run_peer(path: Path, known: Known, seconds: float) -> Outcome:
    """The same single-mode instance through pyjobshop, a general-purpose modeller over the same solver."""
    peer: Any = importlib.import_module("pyjobshop")
    problem, model = read_instance(path), peer.Model()
    resources = {r.name: model.add_renewable(capacity=r.capacity) for r in problem.resources}
    tasks = {}
    for task in problem.tasks:
        mode = task.modes[0]
        tasks[task.id] = model.add_task()
        needed = [resources[need.resource] for need in mode.needs]
        model.add_mode(tasks[task.id], needed, mode.low, [need.amount for need in mode.needs])
    for lag in problem.lags:
        model.add_end_before_start(tasks[lag.first], tasks[lag.second])
    answer = model.solve(time_limit=seconds, num_workers=2, display=False)
    if not math.isfinite(answer.objective):
        return Outcome(path.name, Status.UNKNOWN, None, None, known, answer.runtime)
    status = Status.PROVEN if answer.status.value == "Optimal" else Status.FOUND
    return Outcome(path.name, status, int(answer.objective), int(answer.lower_bound), known, answer.runtime)


def peer_figures(paths: Sequence[Path], known: Mapping[str, Known], seconds: float) -> dict[str, float] | str:
    """The peer's figures on the single-mode files, or why there are none."""
    single = [p for p in paths if p.suffix == ".sm"]
    if not single:
        return "no single-mode instance here"
    if importlib.util.find_spec("pyjobshop") is None:
        return "pyjobshop is not installed; it is no dependency of ours (pip install pyjobshop)"
    return summary([run_peer(p, known.get(p.name, _UNKNOWN), seconds) for p in single])


def summary(outcomes: Sequence[Outcome]) -> dict[str, float]:
    """The figures of one folder."""
    return {
        "instances": len(outcomes),
        "proven": sum(o.proven for o in outcomes),
        "wrong": sum(o.wrong for o in outcomes),
        "mean_gap_percent": round(statistics.fmean(o.gap_percent for o in outcomes), 3),
        "median_seconds": round(statistics.median(o.seconds for o in outcomes), 3),
    }


def main() -> None:
    """Read the command line, solve, print."""
    parser = argparse.ArgumentParser(description="Solve every instance of a folder through our problem type.")
    parser.add_argument("folder", type=Path)
    parser.add_argument("--seconds", type=float, default=10.0, help="per instance")
    parser.add_argument("--json", action="store_true")
    parser.add_argument("--peer", action="store_true", help="also through pyjobshop, if it is installed")
    args = parser.parse_args()
    known = best_known(args.folder)
    paths = sorted(p for p in args.folder.iterdir() if p.suffix in (".sm", ".sch"))
    outcomes = [run_one(p, known.get(p.name, _UNKNOWN), args.seconds) for p in paths]
    figures: dict[str, Any] = {**summary(outcomes)}
    if args.peer:
        figures["peer"] = peer_figures(paths, known, args.seconds)
    if args.json:
        print(json.dumps(figures))
        return
    for o in outcomes:
        found = f"{o.makespan!s:>5} bound {o.bound!s:>5} known {o.known.best!s:>5}"
        print(f"{o.name:14} {o.status:24} {found} {o.seconds:6.2f} s")
    print(figures)


if __name__ == "__main__":
    main()
