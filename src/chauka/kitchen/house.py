"""A house: its people, equipment, measures, temperatures, money and rules."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, time
from enum import StrEnum
from types import MappingProxyType

from chauka.errors import Complaints
from chauka.kitchen.forms import Meal, Technique, Vessel


class Sex(StrEnum):
    """As the reference-intake tables split people."""

    FEMALE = "female"
    MALE = "male"


class Condition(StrEnum):
    """What changes a person's reference intakes or food-safety advice."""

    PREGNANT = "pregnant"
    LACTATING = "lactating"
    LOW_SALT = "low-salt advice"
    INFANT = "infant"
    FRAIL = "old or weakened"


@dataclass(frozen=True, slots=True)
class Person:
    """Someone who eats here.

    `activity` is the physical activity level (energy need ÷ basal). `chilli` is the hottest dish
    (0–3) eaten as it is. `allergies` are allergen ids of the allergen table; `aversions` food codes.
    `liking` maps dish ids to 1 (dislikes) … 5 (loves); a dish not named counts 3.
    """

    id: str
    name: str
    sex: Sex
    born: date
    weight_kg: float
    activity: float = 1.6
    conditions: frozenset[Condition] = frozenset()
    allergies: frozenset[str] = frozenset()
    aversions: frozenset[str] = frozenset()
    chilli: int = 3
    liking: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))

    def __post_init__(self) -> None:
        bad = Complaints(f"person {self.name}")
        bad.check(2 <= self.weight_kg <= 300, "weight_kg", f"{self.weight_kg:g} kg cannot be right")
        bad.check(1.2 <= self.activity <= 2.5, "activity", f"{self.activity:g} lies outside 1.2 to 2.5")
        bad.check(0 <= self.chilli <= 3, "chilli", f"{self.chilli} must lie between 0 and 3")
        bad.raise_if_any()

    def age_years(self, on: date) -> float:
        """Age [year] on that day."""
        return (on - self.born).days / 365.25


class RuleKind(StrEnum):
    """What a day may forbid or ask."""

    NO_ONION_GARLIC = "no onion or garlic"
    FAST = "fast"  # no grain, no pulse
    GUESTS = "guests"
    AWAY = "away"


@dataclass(frozen=True, slots=True)
class DayRule:
    """A rule for one weekday (0 = Monday) or one date; `people` are who is away, `guests` how many come."""

    kind: RuleKind
    weekday: int | None = None
    on: date | None = None
    meal: Meal | None = None
    people: frozenset[str] = frozenset()
    guests: int = 0

    def __post_init__(self) -> None:
        bad = Complaints(f"day rule {self.kind}")
        bad.check((self.weekday is None) != (self.on is None), "", "give either a weekday or a date")
        bad.check(
            self.weekday is None or 0 <= self.weekday <= 6,
            "weekday",
            f"{self.weekday} is not 0 (Monday) to 6",
        )
        bad.check(self.guests >= 0, "guests", f"{self.guests} is below zero")
        bad.raise_if_any()

    def holds(self, day: date, meal: Meal) -> bool:
        """Whether the rule holds for that sitting."""
        that_day = self.on == day if self.on else self.weekday == day.weekday()
        return that_day and self.meal in (None, meal)


@dataclass(frozen=True, slots=True)
class MealTime:
    """A sitting of the house's week: when it is served and how many hands-on minutes it may take."""

    meal: Meal
    weekday: int
    serve: time
    hands_on_min: int


@dataclass(frozen=True, slots=True)
class Measures:
    """The house's own cup and spoons [ml]; sources give 180–250 ml for a cup, so it is a setting."""

    cup_ml: float = 240.0
    katori_ml: float = 150.0
    tablespoon_ml: float = 15.0
    teaspoon_ml: float = 5.0


@dataclass(frozen=True, slots=True)
class VesselStock:
    """So many vessels of one kind and one size [litre]; a house lists a kind once for each size.

    `litres` None: nobody has measured it.
    """

    kind: Vessel
    count: int = 1
    litres: float | None = None


HOT_OIL = frozenset({Technique.DEEP_FRY, Technique.SHALLOW_FRY, Technique.TEMPER})
"""What a child does not do at the stove: a rule of the program."""


@dataclass(frozen=True, slots=True)
class Cook:
    """Someone who cooks here: `cannot` are techniques left to others, `pace` is minutes taken ÷ minutes written.

    A child is `Cook(name, cannot=HOT_OIL)`.
    """

    name: str
    cannot: frozenset[Technique] = frozenset()
    pace: float = 1.0

    def __post_init__(self) -> None:
        bad = Complaints(f"cook {self.name}")
        bad.check(0.25 <= self.pace <= 4, "pace", f"{self.pace:g} lies outside 0.25 (very quick) to 4 (very slow)")
        bad.raise_if_any()


@dataclass(frozen=True, slots=True)
class Weights:
    """What the house minds, in its smallest coin, so that a plan's parts can be added.

    Each is a price on one unit of what it names; the table plan lists every term. `order` names terms of
    a plan that come one after the other instead ("waste", then "money"): a later one may worsen an
    earlier one by `order_tolerance` of it at most.
    """

    waste_per_coin: float = 2.0  # a coin of food binned counts this many coins
    missed_dish: int = 20_000  # a position of a sitting that stays empty
    shortfall_percent: int = 60  # one person, one nutrient, one per cent of the week's reference
    excess_percent: int = 40  # the same for sodium and free sugar above their ceilings
    repeat: int = 3_000  # the same base twice on one day
    dislike_point: int = 250  # one point of liking below 5, per person and serving
    minute: int = 100  # one hands-on minute
    change: int = 1_500  # one serving that differs from the plan before
    order: tuple[str, ...] = ()
    order_tolerance: float = 0.02


@dataclass(frozen=True, slots=True)
class House:
    """Everything that stays the same from week to week.

    `small_burners` of the `burners` carry only small vessels. `crew` says more about the first of the
    `cooks`; who is not described can do everything. `bench_places` is how many can cut, knead and roll
    at once; None: as many as there are.
    """

    name: str
    people: tuple[Person, ...]
    burners: int
    vessels: tuple[VesselStock, ...]
    meal_times: tuple[MealTime, ...]
    market_weekdays: tuple[int, ...]
    cooks: int = 1
    rules: tuple[DayRule, ...] = ()
    region: str = ""
    altitude_m: float = 0.0
    fridge_c: float = 7.0
    room_c: float = 25.0
    freezer_c: float = -18.0
    currency: str = "INR"
    weekly_budget: int | None = None
    measures: Measures = Measures()
    weights: Weights = Weights()
    frying_fat: str = "T012"
    small_burners: int = 0
    bench_places: int | None = None
    crew: tuple[Cook, ...] = ()

    def __post_init__(self) -> None:
        bad = Complaints(f"house {self.name}")
        bad.check(
            self.burners >= 1,
            "burners",
            "a kitchen needs at least one burner to cook on; enter how many there are",
        )
        bad.check(self.cooks >= 1, "cooks", "somebody has to cook; enter at least one")
        bad.check(
            0 <= self.small_burners <= self.burners,
            "small_burners",
            f"{self.small_burners} small ones of {self.burners} burners; say how many of them are small",
        )
        places = self.bench_places is None or self.bench_places >= 1
        bad.check(places, "bench_places", "one place to work at is the least; leave it out if you do not know")
        bad.check(bool(self.people), "people", "nobody eats here; add a person")
        bad.check(-2 <= self.fridge_c <= 15, "fridge_c", f"{self.fridge_c:g} °C is no refrigerator; measure it")
        bad.check(
            self.weekly_budget is None or self.weekly_budget >= 0,
            "weekly_budget",
            "money cannot be below zero",
        )
        ids = [p.id for p in self.people]
        bad.check(len(ids) == len(set(ids)), "people", "two people have one id")
        bad.raise_if_any()

    def person(self, person_id: str) -> Person:
        """The person of that id."""
        return next(p for p in self.people if p.id == person_id)

    def vessel_count(self, kind: Vessel) -> int:
        """How many vessels of a kind there are; bowls and boxes not counted are taken as many."""
        counted = [v.count for v in self.vessels if v.kind is kind]
        return sum(counted) if counted or kind not in (Vessel.BOWL, Vessel.BOX) else 99

    def largest_l(self, kind: Vessel) -> float | None:
        """What the largest vessel of a kind holds [litre]; None where there is none, or none was measured."""
        return max((v.litres for v in self.vessels if v.kind is kind and v.count and v.litres), default=None)


@dataclass(frozen=True, slots=True)
class Sitting:
    """One meal on one day, with who eats; `portions` are in adult portions."""

    day: date
    meal: Meal
    serve: time
    hands_on_min: int
    eaters: tuple[str, ...]
    guests: int = 0
    rules: frozenset[RuleKind] = frozenset()

    @property
    def key(self) -> str:
        """As in `2027-03-14 dinner`."""
        return f"{self.day.isoformat()} {self.meal}"
