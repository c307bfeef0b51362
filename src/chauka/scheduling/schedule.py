"""What a solver answers: when each task runs, in which mode, and how good that is."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from chauka.scheduling.problem import Goal


class Status(StrEnum):
    """How an attempt ended."""

    PROVEN = "proven best"
    FOUND = "found, not proven best"
    IMPOSSIBLE = "proven impossible"
    UNKNOWN = "nothing found in time"


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a task stands: from tick `start` to tick `end`, in the mode of that index."""

    start: int
    end: int
    mode: int = 0


@dataclass(frozen=True, slots=True)
class Level:
    """One goal's value, the best bound known for it, and the seconds it took."""

    goal: Goal
    value: int
    bound: int
    seconds: float

    @property
    def proven(self) -> bool:
        """Whether no schedule can have a smaller value, the goals before it being as they are."""
        return self.value <= self.bound


@dataclass(frozen=True, slots=True)
class Schedule:
    """The answer; `spots` is empty where there is none."""

    status: Status
    spots: Mapping[str, Spot]
    levels: tuple[Level, ...]
    seconds: float

    def level(self, goal: Goal) -> Level:
        """The level of that goal."""
        return next(level for level in self.levels if level.goal is goal)
