"""The planning problem in integers: what could be cooked and eaten when, from which sources, at which price.

Nothing here knows a kitchen. Amounts are milligrams, portions are per cent of one adult portion, time
is minutes, money is the smallest coin, nutrients are thousandths of their unit. Slots are the
sittings in order; everything refers to everything else by its index.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from chauka.errors import Complaints


class Term(StrEnum):
    """The parts of the objective, as the answer lists them."""

    WASTE = "waste"
    MONEY = "money"
    SHORTFALL = "shortfall"
    EXCESS = "excess"
    REPETITION = "repetition"
    LIKING = "liking"
    MINUTES = "minutes"
    MISSED = "missed"
    CHANGE = "change"


@dataclass(frozen=True, slots=True)
class Place:
    """One position of a slot; leaving it empty costs `empty` coins, booked under `term`."""

    name: str
    empty: int
    term: Term = Term.MISSED


@dataclass(frozen=True, slots=True)
class Slot:
    """One sitting: its day, the minutes of work it may take, its portions, its positions and who eats."""

    name: str
    day: int
    minutes: int
    portions: int
    places: tuple[Place, ...]
    eaters: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Source:
    """A supply of edible matter: a lot that is there (`stock`) or packs that can be bought.

    It serves any of `items` from slot `first` to slot `last`; `last` at or beyond the number of
    slots means that it outlives the horizon. A pack holds `pack_mg` and costs `price`; what is left
    and dead is charged at `worth` per pack times the waste weight, what is left and alive is still
    worth `carry` per pack. At most `most` packs are bought. Stock is one pack at no price.
    """

    name: str
    items: tuple[int, ...]
    first: int
    last: int
    pack_mg: int
    price: int
    worth: int
    carry: int = 0
    most: int = 1
    stock: bool = False


@dataclass(frozen=True, slots=True)
class Recipe:
    """Something that can be cooked; `nutrients` are per portion, in the order of `Problem.nutrients`.

    One cooking feeds at most `most_servings` slots. An `ahead` recipe need not be eaten in the slot
    where it is cooked; any other is eaten there and then, and perhaps once more later.
    """

    name: str
    nutrients: tuple[int, ...]
    most_servings: int = 1
    ahead: bool = False


@dataclass(frozen=True, slots=True)
class Need:
    """So many milligrams of an item per portion, taken out in slot `slot`."""

    item: int
    slot: int
    mg: int


@dataclass(frozen=True, slots=True)
class Cooking:
    """One recipe cooked in one slot.

    `minutes` fall in that slot and `before_minutes` at another time. `ready` is the portions
    [% of one] of a finished batch that is already there: it needs no work and no items, and
    `worth` coins are charged as waste for what of it is not eaten.
    """

    recipe: int
    slot: int
    minutes: int
    needs: tuple[Need, ...]
    before_minutes: int = 0
    ready: int | None = None
    worth: int = 0


@dataclass(frozen=True, slots=True)
class Eating:
    """One cooking eaten in one slot, filling `places` of it.

    `liking` is what it costs in coins that people like other food better, `minutes` the work in the
    slot where it is eaten, `cook_minutes` what the larger pot adds in the slot where it is cooked.
    """

    cooking: int
    slot: int
    places: tuple[int, ...]
    liking: int = 0
    minutes: int = 0
    cook_minutes: int = 0


@dataclass(frozen=True, slots=True)
class Target:
    """What one eater should get of one nutrient over the horizon: a floor, or a ceiling.

    `portion` is the eater's share of an adult portion [%]; each per cent short of (or above)
    `amount` costs `weight` coins.
    """

    eater: int
    nutrient: int
    amount: int
    portion: int
    floor: bool
    weight: int


@dataclass(frozen=True, slots=True)
class Limit:
    """At most so many of these cookings and eatings; each one more costs `weight`, or is forbidden (None)."""

    name: str
    at_most: int
    cookings: tuple[int, ...] = ()
    eatings: tuple[int, ...] = ()
    weight: int | None = None


@dataclass(frozen=True, slots=True)
class Among:
    """Of these groups of cookings at least so many are touched; each group less costs `weight`."""

    name: str
    at_least: int
    groups: tuple[tuple[int, ...], ...]
    weight: int


@dataclass(frozen=True, slots=True)
class Load:
    """A capacity of one slot (minutes on a burner or in a vessel): cookings and what each takes of it."""

    name: str
    slot: int
    at_most: int
    uses: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True)
class Wish:
    """One of these recipes to be eaten in a slot: not doing so costs `weight`, or is forbidden (None)."""

    slot: int
    recipes: tuple[int, ...]
    weight: int | None


@dataclass(frozen=True, slots=True)
class Cap:
    """One term of the objective may come to so many coins at most."""

    term: Term
    at_most: float


@dataclass(frozen=True, slots=True)
class Problem:
    """Everything the model needs; see the parts for their units."""

    slots: tuple[Slot, ...]
    items: tuple[str, ...]
    sources: tuple[Source, ...]
    recipes: tuple[Recipe, ...]
    cookings: tuple[Cooking, ...]
    eatings: tuple[Eating, ...]
    nutrients: tuple[str, ...] = ()
    eaters: tuple[str, ...] = ()
    targets: tuple[Target, ...] = ()
    limits: tuple[Limit, ...] = ()
    among: tuple[Among, ...] = ()
    loads: tuple[Load, ...] = ()
    wishes: tuple[Wish, ...] = ()
    caps: tuple[Cap, ...] = ()
    budget: int | None = None
    minute_cost: int = 0
    waste_percent: int = 200

    def __post_init__(self) -> None:
        bad = Complaints("planning problem")
        for c in self.cookings:
            bad.check(0 <= c.recipe < len(self.recipes), "cookings", f"recipe {c.recipe} is not there")
            bad.check(c.slot < len(self.slots), "cookings", f"slot {c.slot} is not there")
        for e in self.eatings:
            bad.check(e.slot >= self.cookings[e.cooking].slot, "eatings", "food is eaten before it is cooked")
        for s in self.sources:
            bad.check(s.pack_mg > 0, "sources", f"{s.name} holds nothing")
            bad.check(s.stock or s.carry <= s.price, "sources", f"{s.name} is worth more than it costs")
        bad.raise_if_any()

    def portions(self, eating: Eating) -> int:
        """Portions that one eating takes [% of one]."""
        return self.slots[eating.slot].portions

    def outlives(self, source: Source) -> bool:
        """Whether what is left of a source is still good after the last slot."""
        return source.last >= len(self.slots)

    def is_fresh(self, eating: Eating) -> bool:
        """Whether cooking it means eating it there and then, so that both are one decision."""
        cooking = self.cookings[eating.cooking]
        return eating.slot == cooking.slot and cooking.ready is None and not self.recipes[cooking.recipe].ahead
