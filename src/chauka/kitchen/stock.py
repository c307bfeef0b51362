"""What is in the house and what the market offers: lots, packs, and the ledger's rows."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum

from chauka.errors import Complaints
from chauka.kitchen.forms import Form, Place


@dataclass(frozen=True, slots=True)
class Lot:
    """An amount of one food or one dish, in one form, in one place, since one moment.

    `grams` is as purchased for a food in form WHOLE and edible portion in every other form.
    `since` is when it came into this form and place; `age_days` how old it already was then
    (market greens are rarely picked the same hour). `covered` means bagged or boxed. `cost` is what
    was paid, in the smallest coin; None where nobody knows.
    """

    id: str
    grams: float
    form: Form
    place: Place
    since: datetime
    food: str | None = None
    dish: str | None = None
    age_days: float = 0.0
    covered: bool = True
    cost: int | None = None
    note: str = ""

    def __post_init__(self) -> None:
        bad = Complaints(f"lot {self.id}")
        bad.check((self.food is None) != (self.dish is None), "", "is either of a food or of a dish")
        bad.check(self.grams >= 0, "grams", f"{self.grams:g} g is below zero; give the weight that is there")
        bad.check(self.age_days >= 0, "age_days", f"{self.age_days:g} days is below zero")
        bad.check(self.since.tzinfo is None, "since", "is local wall time: leave the time zone out")
        bad.raise_if_any()

    def check_not_from_the_future(self, now: datetime) -> None:
        """Refuse a lot that came in after `now`."""
        bad = Complaints(f"lot {self.id}")
        bad.check(
            self.since <= now,
            "since",
            f"{self.since:%Y-%m-%d %H:%M} is still to come (now is {now:%Y-%m-%d %H:%M})",
        )
        bad.raise_if_any()


@dataclass(frozen=True, slots=True)
class Offer:
    """One pack that a stall sells: `grams` as purchased for `price` smallest coins.

    `weekdays` are the market days on which it is usually there (0 = Monday); an empty tuple means
    every market day. `stall` is the kind of stall, by which the market list is sorted.
    """

    food: str
    pack: str
    grams: float
    price: int
    stall: str
    weekdays: tuple[int, ...] = ()

    def __post_init__(self) -> None:
        bad = Complaints(f"offer {self.pack} of {self.food}")
        bad.check(self.grams > 0, "grams", f"{self.grams:g} g must be above zero")
        bad.check(self.price >= 0, "price", f"{self.price} is below zero")
        bad.raise_if_any()


WAY_ROUND = ("dry goods", "spices", "dairy", "roots and vegetables", "fruit", "greens")
"""The stalls in the order in which one walks: what is heavy and keeps goes into the bag first, what wilts lies on
top (common practice, no source). Any other stall comes after them, by name."""


def stall_order(stall: str) -> tuple[int, str]:
    """Where a stall comes on the way round the market."""
    return (WAY_ROUND.index(stall) if stall in WAY_ROUND else len(WAY_ROUND), stall)


class Deed(StrEnum):
    """What a ledger row records."""

    BOUGHT = "bought"
    USED = "used"
    COOKED = "cooked"
    EATEN = "eaten"
    BINNED = "binned"
    OPENED = "opened"
    MOVED = "moved"


@dataclass(frozen=True, slots=True)
class LedgerRow:
    """One thing that really happened; the ledger is append-only."""

    at: datetime
    deed: Deed
    grams: float
    lot: str | None = None
    food: str | None = None
    dish: str | None = None
    cost: int | None = None
    minutes: float | None = None
    why: str = ""


@dataclass(frozen=True, slots=True)
class PriceSeen:
    """A price really paid on a day, in the smallest coin per pack of `grams`."""

    food: str
    on: date
    grams: float
    price: int
