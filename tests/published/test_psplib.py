"""Published project-scheduling instances, solved to their known value through our problem type.

R. Kolisch and A. Sprecher, "PSPLIB: a project scheduling problem library", European Journal of
Operational Research 96 (1996) 205-216. Known makespans: `best_known.csv` beside the instances.
The instances are not ours to pass on; without the folder beside the checkout this is skipped.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from benchmarks.psplib import best_known, read_instance, read_sch, read_sm
from tests.scheduling.checker import broken

from chauka.scheduling.schedule import Status
from chauka.scheduling.solve import solve

INSTANCES = Path(__file__).parents[2] / ".." / "shared" / "reference" / "scheduling"

needs_instances = pytest.mark.skipif(
    not INSTANCES.exists(), reason="the published instances are not beside this checkout; they may not be shipped"
)

QUICK = [
    "j30/j301_5.sm", "j30/j302_4.sm", "j30/j303_9.sm", "j30/j3010_5.sm", "j30/j3024_7.sm", "j30/j3034_5.sm",
    "max_j10/psp21.sch", "max_j10/psp47.sch", "max_j10/psp123.sch", "max_j20/psp16.sch", "max_j30/psp45.sch",
    "max_ubo20/psp28.sch", "max_ubo20/psp9.sch",
]  # fmt: skip


@needs_instances
@pytest.mark.parametrize("name", QUICK)
def test_the_known_makespan_is_found_and_proven(name):
    """The value is the published one, the schedule keeps every rule; an infeasible instance is proven so."""
    path = INSTANCES / name
    known, problem = best_known(path.parent)[path.name], read_instance(path)
    answer = solve(problem, seconds=10)
    if known.status == "infeasible":
        assert answer.status is Status.IMPOSSIBLE
        return
    assert answer.status is Status.PROVEN
    assert answer.levels[0].value == known.best
    assert broken(problem, answer.spots) == []


@needs_instances
@pytest.mark.slow
@pytest.mark.parametrize("path", sorted((INSTANCES / "j30").glob("*.sm")), ids=lambda p: p.stem)
def test_no_j30_answer_contradicts_the_literature(path):
    """Two seconds each: never below a known optimum, and never proven above it."""
    known, answer = best_known(path.parent)[path.name], solve(read_instance(path), seconds=2)
    assert answer.levels[0].value >= known.best
    assert answer.status is not Status.PROVEN or answer.levels[0].value == known.best


SM = """\
************************************************************************
PRECEDENCE RELATIONS:
jobnr.    #modes  #successors   successors
   1        1          1           2
   2        1          1           3
   3        1          0
************************************************************************
REQUESTS/DURATIONS:
jobnr. mode duration  R 1  R 2
------------------------------------------------------------------------
  1      1     0       0    0
  2      1     6       0    7
  3      1     0       0    0
************************************************************************
RESOURCEAVAILABILITIES:
  R 1  R 2
   11    9
************************************************************************
"""


def test_a_single_mode_file_is_read_whole():
    """Jobs, their needs, the arcs and the capacities."""
    problem = read_sm(SM)
    assert [t.id for t in problem.tasks] == ["1", "2", "3"]
    assert problem.task("2").modes[0].needs[0].amount == 7
    assert [(lag.first, lag.second) for lag in problem.lags] == [("1", "2"), ("2", "3")]
    assert [r.capacity for r in problem.resources] == [11, 9]


def test_a_negative_arc_is_a_maximum_lag():
    """`2 → 1 [-5]` says that 2 starts at most 5 after 1."""
    text = "2 1 0 0\n0 1 1 1 [0]\n1 1 1 2 [3]\n2 1 2 1 3 [-5] [2]\n3 1 0\n0 1 0 0\n1 1 3 1\n2 1 2 1\n3 1 0 0\n2\n"
    problem = read_sch(text)
    assert [(lag.first, lag.second, lag.low, lag.high) for lag in problem.lags] == [
        ("0", "1", 0, None), ("1", "2", 3, None), ("1", "2", None, 5), ("2", "3", 2, None),
    ]  # fmt: skip
    assert solve(problem, seconds=5).levels[0].value == 5
