"""A table plan and its proof: what is cooked when, from which lot, bought when, and what is left."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType

from chauka.kitchen.advice import Gap, MarketRisk, Recourse
from chauka.kitchen.dish import Swap
from chauka.kitchen.forms import Course, Meal
from chauka.kitchen.house import Sitting


@dataclass(frozen=True, slots=True)
class Stage:
    """What one wish reached in its turn, where the house takes one after the other; no plan is below `bound` [coin]."""

    term: str
    value: float
    bound: float


@dataclass(frozen=True, slots=True)
class Proof:
    """How good an answer is: its value, the best bound known, and how long it took.

    `value` and `bound` are in the objective's unit (money-like coins for a plan, minutes for a run
    sheet). `gap_percent` is (value − bound) ÷ value, 0 when proven best.
    """

    value: float
    bound: float
    seconds: float
    status: str
    terms: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    order: tuple[Stage, ...] = ()

    @property
    def gap_percent(self) -> float:
        """How much better it could be at most [% of value]."""
        return 0.0 if self.value <= self.bound else 100 * (self.value - self.bound) / max(abs(self.value), 1e-9)


@dataclass(frozen=True, slots=True)
class Batch:
    """One cooking of one dish: for a day and meal, for so many portions, of which some may be kept.

    `swaps` are lines cooked with another food this time.
    """

    id: str
    dish: str
    day: date
    meal: Meal
    portions: float
    swaps: tuple[Swap, ...] = ()


@dataclass(frozen=True, slots=True)
class Serving:
    """One dish at one sitting, from one batch (cooked then, or kept from before) or from a lot.

    `mild` are the people whose part is served without the heat.
    """

    day: date
    meal: Meal
    course: Course
    dish: str
    portions: float
    batch: str | None
    lot: str | None = None
    mild: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Purchase:
    """Packs of one food to buy on one market day, and what it feeds (batch ids)."""

    id: str
    day: date
    food: str
    pack: str
    packs: int
    grams: float
    edible_g: float
    cost: int
    stall: str
    feeds: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Draw:
    """So many edible grams taken from a lot or purchase (its id) into a batch."""

    source: str
    batch: str
    food: str
    grams: float


@dataclass(frozen=True, slots=True)
class LeftOver:
    """What a lot or purchase still holds when the plan ends: binned on `on`, or carried on."""

    source: str
    food: str
    grams: float
    cost: int
    binned: bool
    on: date


@dataclass(frozen=True, slots=True)
class Shortfall:
    """A person's planned intake of one nutrient over the horizon against the reference [share, 1 = met]."""

    person: str
    tag: str
    share: float


@dataclass(frozen=True, slots=True)
class Clash:
    """Rules that cannot all hold, and the least costly way out."""

    rules: tuple[str, ...]
    way_out: str
    cost: int | None = None


@dataclass(frozen=True, slots=True)
class TablePlan:
    """Sittings over the horizon: dishes, portions, purchases, and where every gram comes from and goes.

    `gaps` say how to mend shortfalls, `recourse` and `risk` what to do when the next market lacks something.
    """

    start: date
    days: int
    sittings: tuple[Sitting, ...]
    batches: tuple[Batch, ...]
    servings: tuple[Serving, ...]
    purchases: tuple[Purchase, ...]
    draws: tuple[Draw, ...]
    left_over: tuple[LeftOver, ...]
    shortfalls: tuple[Shortfall, ...]
    proof: Proof
    clashes: tuple[Clash, ...] = ()
    gaps: tuple[Gap, ...] = ()
    recourse: tuple[Recourse, ...] = ()
    risk: MarketRisk | None = None

    @property
    def cost(self) -> int:
        """Money to spend at the market [smallest coin]."""
        return sum(p.cost for p in self.purchases)

    @property
    def waste_g(self) -> float:
        """Edible grams expected in the bin [g]."""
        return sum(left.grams for left in self.left_over if left.binned)

    def batch(self, batch_id: str) -> Batch:
        """The batch of that id."""
        return next(b for b in self.batches if b.id == batch_id)

    def at(self, day: date, meal: Meal) -> tuple[Serving, ...]:
        """What is served at one sitting."""
        return tuple(s for s in self.servings if s.day == day and s.meal is meal)
