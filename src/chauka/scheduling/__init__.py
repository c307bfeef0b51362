"""When to do what: bench lists for the coming days, run sheets for one session."""

from chauka.scheduling.bench import BenchEntry, BenchList, BoxLabel
from chauka.scheduling.bench_making import bench_list
from chauka.scheduling.evenings import Evenings, evenings
from chauka.scheduling.live import Event, Tap, follow
from chauka.scheduling.session import run_sheet
from chauka.scheduling.sheet import Amount, Entry, Lane, RunSheet

__all__ = [
    "Amount", "BenchEntry", "BenchList", "BoxLabel", "Entry", "Evenings", "Event", "Lane", "RunSheet", "Tap",
    "bench_list", "evenings", "follow", "run_sheet",
]  # fmt: skip
