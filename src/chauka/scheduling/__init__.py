"""When to do what: bench lists for the coming days, run sheets for one session."""

from chauka.scheduling.bench import BenchEntry, BenchList, BoxLabel
from chauka.scheduling.bench_making import bench_list
from chauka.scheduling.evenings import Evenings, evenings
from chauka.scheduling.live import Event, Tap, follow
from chauka.scheduling.problem import Alike, Due, Edge, Goal, Hold, Kind, Lag, Mode, Need, Problem, Resource, Task
from chauka.scheduling.schedule import Level, Schedule, Spot, Status
from chauka.scheduling.session import run_sheet
from chauka.scheduling.sheet import Amount, Entry, Lane, RunSheet
from chauka.scheduling.solve import solve

__all__ = [
    "Alike", "Amount", "BenchEntry", "BenchList", "BoxLabel", "Due", "Edge", "Entry", "Evenings", "Event", "Goal",
    "Hold", "Kind", "Lag", "Lane", "Level", "Mode", "Need", "Problem", "Resource", "RunSheet", "Schedule", "Spot",
    "Status", "Tap", "Task", "bench_list", "evenings", "follow", "run_sheet", "solve",
]  # fmt: skip
