"""What comes with a table plan: how to mend what is lacking, and what to do when the market lacks something."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from chauka.kitchen.forms import Meal


class MendKind(StrEnum):
    """What is done about a shortfall."""

    ADD = "add"
    HELPING = "more of"
    SIDE = "beside"


@dataclass(frozen=True, slots=True)
class Mend:
    """One way to bring a person nearer to a reference: `before` and `after` are shares of it.

    `grams` are the edible grams of `food` that go into the whole pot (ADD); `portions` what is served
    more at each of `times` sittings from `day` on (HELPING), or to the whole table (SIDE). `cost` is in
    the smallest coin; `pack` is what has to be bought for it, in `packs`, "" where it is in the house.
    """

    kind: MendKind
    dish: str
    day: date
    meal: Meal
    before: float
    after: float
    cost: int
    food: str | None = None
    grams: float = 0.0
    portions: float = 0.0
    times: int = 1
    pack: str = ""
    packs: int = 0

    @property
    def coins_per_percent(self) -> float:
        """Money for each per cent of the gap closed."""
        closed = 100 * (min(1.0, self.after) - self.before)
        return self.cost / closed if closed > 0 else float("inf")


@dataclass(frozen=True, slots=True)
class Gap:
    """What one person lacks of one nutrient, with the mends, the cheapest for what it closes first."""

    person: str
    tag: str
    share: float
    mends: tuple[Mend, ...]


@dataclass(frozen=True, slots=True)
class Instead:
    """A dish that is cooked in place of another at one sitting."""

    day: date
    meal: Meal
    dish: str
    instead: str


@dataclass(frozen=True, slots=True)
class StandIn:
    """Packs of a food to buy on `day` (none: it is in the house) in place of one that is missing."""

    food: str
    pack: str
    packs: int
    cost: int
    day: date | None = None


@dataclass(frozen=True, slots=True)
class Recourse:
    """What to do on a market day when a food that stands on the list is missing.

    `chance` is how often it is missing, and `why` where that is known from. `stand_ins` feed the dishes
    `works`; each of `swaps` is another dish; `lost` are dishes for which nothing was found. `cost` is
    what it costs more than the list (below 0: less), in the smallest coin.
    """

    day: date
    food: str
    chance: float
    why: str
    stand_ins: tuple[StandIn, ...]
    works: tuple[str, ...]
    swaps: tuple[Instead, ...]
    lost: tuple[str, ...]
    cost: int


@dataclass(frozen=True, slots=True)
class MarketRisk:
    """Waste and money over so many markets drawn by chance, each answered by the recourse list.

    `bad` is what one market in ten exceeds. Money is in the smallest coin.
    """

    scenarios: int
    planned_waste_g: float
    expected_waste_g: float
    bad_waste_g: float
    planned_cost: int
    expected_cost: int
    bad_cost: int
    dishes_lost: float
