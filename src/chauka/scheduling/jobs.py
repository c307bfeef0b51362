"""What a session's tasks are to the cook: steps of dishes, done in one go or in lots; and the kitchen."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from chauka.kitchen import Dish, House, Step, Vessel
from chauka.scheduling.problem import Problem
from chauka.scheduling.times import TICKS_PER_MIN

BURNERS, LARGE_BURNERS, SMALL_BURNERS, BENCH = "burners", "large burners", "small burners", "bench"
"""Names of resources."""


@dataclass(frozen=True, slots=True)
class Part:
    """One step of one dish, made `ratio` times as large as written."""

    dish: Dish
    ratio: float
    step: Step

    @property
    def key(self) -> tuple[str, str]:
        """(dish id, step id)."""
        return self.dish.id, self.step.id


@dataclass(frozen=True, slots=True)
class Job:
    """One task as the cook sees it: a step, several steps done in one go, a lot of breads, or a wash.

    `vessel_name` is empty where the schedule chooses among several vessels; `instead` names those that
    stand in for the kind the dish asks for.
    """

    task: str
    parts: tuple[Part, ...]
    vessel: Vessel | None = None
    piece: int = 0
    wash: bool = False
    vessel_name: str = ""
    instead: frozenset[str] = frozenset()

    @property
    def step(self) -> Step:
        """The (first) step."""
        return self.parts[0].step


@dataclass(frozen=True, slots=True)
class Kitchen:
    """How many hands and flames there are at this sitting, when the first may stir, and what is done already.

    `stand_ins` lets an open pot stand in for a pressure cooker that is taken, and a covered pan for the oven.
    Breads may come off the griddle until `breads_min` minutes after serving.
    """

    house: House
    cooks: int
    burners: int
    serve: datetime
    not_before: datetime | None = None
    done: frozenset[tuple[str, str]] = frozenset()
    stand_ins: bool = False
    breads_min: float = 0.0

    @property
    def small_burners(self) -> int:
        """How many of the burners are small. The large ones are lit first; where all are small, none is called so."""
        large = self.house.burners - self.house.small_burners
        return max(0, min(self.house.small_burners, self.burners - large)) if large else 0

    @property
    def large_burners(self) -> int:
        """The others."""
        return self.burners - self.small_burners


@dataclass(frozen=True, slots=True)
class KitchenProblem:
    """The problem, its tasks as jobs, the tick at which dinner stands on the table, and what the cook should know.

    `made_ahead` are names of dishes that need nothing more at the stove, `cautions` sentences.
    """

    problem: Problem
    jobs: Mapping[str, Job]
    serve: datetime
    serve_tick: int
    cautions: tuple[str, ...] = ()
    made_ahead: tuple[str, ...] = ()
    large_burners: int = 0

    def moment(self, tick: int) -> datetime:
        """The wall time of a tick."""
        return self.serve + timedelta(minutes=(tick - self.serve_tick) / TICKS_PER_MIN)


def cook_name(number: int) -> str:
    """Name of the cook's resource, from 1."""
    return f"cook {number}"
