"""When to do what: bench lists for the coming days, run sheets for one session."""

from chauka.scheduling.session import run_sheet
from chauka.scheduling.sheet import Amount, Entry, Lane, RunSheet

__all__ = ["Amount", "Entry", "Lane", "RunSheet", "run_sheet"]
