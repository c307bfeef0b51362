"""Invented houses of any size, the same for the same seed: what the planner is measured on.

Foods, packs, prices, lives, dishes and likings are drawn by chance within ranges that a home cook
would find ordinary; nothing here is a figure about any real food. A house is made as a planning
problem directly, so that the benchmark measures the planner and no table.
"""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass

from chauka.kitchen import Weights
from chauka.planning.problem import (
    Among,
    Cooking,
    Eating,
    Limit,
    Need,
    Place,
    Problem,
    Recipe,
    Slot,
    Source,
    Target,
    Term,
)  # fmt: skip
from chauka.planning.rules import base_once_a_day, once_in_days, with_most_packs

NUTRIENTS = (
    "energy", "protein", "fibre", "iron", "calcium", "zinc", "folate", "vitamin A", "vitamin C", "B12", "sodium",
    "sugar",
)  # fmt: skip
CEILINGS = ("sodium", "sugar")
MARKET_WEEKDAYS = (2, 6)
START_WEEKDAY = 6
WEIGHTS = Weights()
"""What a new house minds."""


@dataclass(frozen=True, slots=True)
class Kind:
    """A class of foods: how many, life [slots], pack [g], price [coin per kg], and nutrient strength."""

    name: str
    share: float
    life: tuple[int, int]
    packs: tuple[int, ...]
    price: tuple[int, int]
    portion_g: tuple[int, int]
    daily: bool = False
    strong: tuple[str, ...] = ()


KINDS = (
    Kind("leaf", 0.16, (5, 8), (250, 300, 400), (4_000, 9_000), (60, 110),
         strong=("folate", "vitamin A", "iron", "calcium")),
    Kind("vegetable", 0.34, (9, 20), (250, 500, 1000), (3_000, 9_000), (50, 120), strong=("vitamin C", "fibre")),
    Kind("root", 0.10, (45, 90), (500, 1000), (2_500, 5_000), (30, 100), strong=("vitamin C",)),
    Kind("pulse", 0.15, (600, 900), (500, 1000), (9_000, 16_000), (30, 50),
         strong=("protein", "iron", "folate", "zinc", "fibre")),
    Kind("grain", 0.11, (600, 900), (1000, 2000), (4_000, 8_000), (60, 90), strong=("energy", "protein", "fibre")),
    Kind("dairy", 0.06, (7, 14), (200, 400, 500), (6_000, 38_000), (40, 100), daily=True,
         strong=("calcium", "protein", "B12")),
    Kind("cupboard", 0.08, (800, 1200), (100, 200, 500), (12_000, 60_000), (3, 15), strong=("energy",)),
)  # fmt: skip

COURSES = (
    ("breakfast", 0.16, ("grain", "vegetable", "dairy")),
    ("pulse", 0.19, ("pulse", "vegetable", "leaf")),
    ("vegetable", 0.29, ("vegetable", "leaf", "root")),
    ("grain", 0.09, ("grain",)),
    ("one-pot", 0.09, ("grain", "pulse", "vegetable")),
    ("side", 0.18, ("vegetable", "dairy", "leaf")),
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Food:
    """One invented food."""

    index: int
    kind: Kind
    life: int
    pack_g: int
    price: int
    content: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class InventedDish:
    """One invented dish; `lines` are (food, grams per portion)."""

    course: str
    lines: tuple[tuple[Food, int], ...]
    minutes: int
    life: int
    likings: tuple[int, ...]
    ahead: bool

    @property
    def base(self) -> str:
        """The food it is about."""
        return f"food {self.lines[0][0].index}"


def house(days: int = 7, dishes: int = 60, people: int = 4, seed: int = 1) -> Problem:
    """One invented house as a planning problem."""
    dice = random.Random(f"{days}/{dishes}/{people}/{seed}")
    foods = tuple(_foods(dice, count=max(24, int(26 + dishes / 4))))
    factors = [dice.choice((60, 80, 100, 100, 110)) for _ in range(people)]
    slots = _slots(days, factors)
    book = tuple(_dishes(dice, foods, dishes, people))
    sources = tuple(_sources(dice, foods, slots))
    cookings, eatings = _decisions(dice, book, slots)
    grains = frozenset(i for i, dish in enumerate(book) if dish.course == "grain")
    limits: list[Limit] = [
        *once_in_days(slots, cookings, days=5, exempt=grains),
        *base_once_a_day(slots, cookings, eatings, {i: d.base for i, d in enumerate(book)}, WEIGHTS.repeat),
    ]
    return with_most_packs(
        Problem(
            slots=slots,
            items=tuple(f"{f.kind.name} {f.index}" for f in foods),
            sources=sources,
            recipes=tuple(_recipe(d, k) for k, d in enumerate(book)),
            cookings=cookings,
            eatings=eatings,
            nutrients=NUTRIENTS,
            eaters=tuple(f"person {p}" for p in range(people)),
            targets=tuple(_targets(dice, factors, days)),
            limits=tuple(limits),
            among=(_leaves(book, cookings, weeks=max(1, days // 7)),),
            minute_cost=WEIGHTS.minute,
            waste_percent=round(100 * WEIGHTS.waste_per_coin),
        )
    )


def _foods(dice: random.Random, count: int) -> Iterator[Food]:
    index = 0
    for kind in KINDS:
        for _ in range(max(2, round(kind.share * count))):
            pack = dice.choice(kind.packs)
            content = tuple(_content(dice, kind, n) for n in NUTRIENTS)
            price = round(dice.randint(*kind.price) * pack / 1000)
            yield Food(index, kind, dice.randint(*kind.life), pack, price, content)
            index += 1


def _content(dice: random.Random, kind: Kind, nutrient: str) -> float:
    """Share of an adult's daily amount in 100 g."""
    if nutrient == "sodium":
        return dice.uniform(0.0, 0.05)
    if nutrient == "sugar":
        return dice.uniform(0.0, 0.03)
    return dice.uniform(0.12, 0.45) if nutrient in kind.strong else dice.uniform(0.01, 0.10)


def _dishes(dice: random.Random, foods: tuple[Food, ...], count: int, people: int) -> Iterator[InventedDish]:
    for course, share, kinds in COURSES:
        for _ in range(max(4, round(share * count))):
            base = dice.choice(
                [f for f in foods if f.kind.name == kinds[0]]
                if dice.random() < 0.7
                else [f for f in foods if f.kind.name in kinds]
            )
            others = _others(dice, foods, base)
            scale = 0.4 if course == "side" else 1.0
            lines = tuple(
                (f, max(2, round(dice.randint(*f.kind.portion_g) * scale * (1 if f is base else 0.4))))
                for f in (base, *others)
            )
            minutes = {"grain": (10, 22), "one-pot": (20, 40), "side": (6, 15)}.get(course, (10, 30))
            ahead = course == "side" and dice.random() < 0.5
            keeps = dice.choice((6, 9, 15)) if ahead else dice.choice((0, 4, 6))
            likings = tuple(dice.choice((2, 3, 3, 4, 4, 5)) for _ in range(people))
            yield InventedDish(course, lines, dice.randint(*minutes), keeps, likings, ahead)


def _others(dice: random.Random, foods: tuple[Food, ...], base: Food) -> list[Food]:
    """Most dishes share the same few aromatics and cupboard foods; one in three takes another fresh food."""
    common = [f for f in foods if f.kind.name in ("root", "cupboard", "pulse") and f is not base]
    others = dice.sample(common, dice.randint(2, 3))
    if dice.random() < 0.35:
        others.append(
            dice.choice([f for f in foods if f.kind.name in ("vegetable", "leaf", "dairy") and f is not base])
        )
    return others


def _slots(days: int, factors: list[int]) -> tuple[Slot, ...]:
    out, everyone = list[Slot](), tuple(range(len(factors)))
    side = Place("side", WEIGHTS.dislike_point * len(factors), Term.LIKING)
    for day in range(days):
        weekday = (START_WEEKDAY + day) % 7
        for meal, minutes, positions in (
            ("breakfast", 35, ("breakfast",)),
            ("lunch", 45 if weekday < 5 else 70, ("main", "grain")),
            ("dinner", 60 if weekday < 5 else 75, ("pulse", "vegetable", "grain")),
        ):
            places = (*(Place(p, WEIGHTS.missed_dish) for p in positions), side)
            out.append(Slot(f"{day} {meal}", day, minutes, sum(factors), places, everyone))
    return tuple(out)


def _sources(dice: random.Random, foods: tuple[Food, ...], slots: tuple[Slot, ...]) -> Iterator[Source]:
    days = slots[-1].day + 1
    for i, food in enumerate(foods):
        if food.life > 100 or dice.random() < 0.35:
            grams = food.pack_g if food.life > 100 else round(food.pack_g * dice.uniform(0.3, 1.2))
            last = food.life if food.life > 100 else dice.randint(1, food.life)
            worth = round(food.price * grams / food.pack_g)
            yield Source(
                f"stock {i}", (i,), 0, last, grams * 1000, 0, worth, _carry(food, worth, last, len(slots)), stock=True
            )
        for day in range(days):
            weekday = (START_WEEKDAY + day) % 7
            if weekday in MARKET_WEEKDAYS or food.kind.daily:
                first = 3 * day + 1
                last = first + food.life
                yield Source(
                    f"{i} day {day}",
                    (i,),
                    first,
                    last,
                    food.pack_g * 1000,
                    food.price,
                    food.price,
                    _carry(food, food.price, last, len(slots)),
                )


def _carry(food: Food, worth: int, last: int, slots: int) -> int:
    if last < slots:
        return 0
    return round(worth * (0.98 if food.life > 100 else 0.8 * min(1.0, (last - slots + 1) / food.life)))


def _decisions(
    dice: random.Random, book: tuple[InventedDish, ...], slots: tuple[Slot, ...]
) -> tuple[tuple[Cooking, ...], tuple[Eating, ...]]:
    cookings, eatings = list[Cooking](), list[Eating]()
    plain_day = dice.randrange(7)
    forbidden = {food for dish in book for food, _ in dish.lines if food.kind.name == "root" and dice.random() < 0.4}
    for i, dish in enumerate(book):
        liking = WEIGHTS.dislike_point * sum(5 - x for x in dish.likings) // (2 if dish.course == "side" else 1)
        for s, slot in enumerate(slots):
            plain = slot.day % 7 == plain_day and any(food in forbidden for food, _ in dish.lines)
            long_enough = slot.minutes == max(x.minutes for x in slots if x.day == slot.day)
            if plain or not _places(dish, slot) or dish.minutes > slot.minutes or (dish.ahead and not long_enough):
                continue
            c = len(cookings)
            needs = tuple(Need(food.index, s, grams * 1000) for food, grams in dish.lines)
            cookings.append(Cooking(i, s, dish.minutes, needs))
            eatings.append(Eating(c, s, _places(dish, slot), liking))
            for t in range(s + 1, min(len(slots), s + dish.life + 1)):
                if _keeps_for(dish, slot, slots[t]):
                    again = 0 if dish.ahead else WEIGHTS.dislike_point * len(dish.likings)
                    eatings.append(Eating(c, t, _places(dish, slots[t]), liking + again, 2 if dish.ahead else 4, 3))
    return tuple(cookings), tuple(eatings)


def _keeps_for(dish: InventedDish, cooked: Slot, later: Slot) -> bool:
    if not _places(dish, later):
        return False
    return dish.ahead or (later.day > cooked.day and dish.course not in ("grain", "breakfast", "side"))


def _places(dish: InventedDish, slot: Slot) -> tuple[int, ...]:
    names = [p.name for p in slot.places]
    if dish.course == "one-pot":
        return tuple(range(len(names) - 1)) if "grain" in names else ()
    if dish.course in names:
        return (names.index(dish.course),)
    return (0,) if "main" in names and dish.course in ("pulse", "vegetable") else ()


def _recipe(dish: InventedDish, k: int) -> Recipe:
    nutrients = [sum(food.content[n] * grams / 100 for food, grams in dish.lines) for n in range(len(NUTRIENTS))]
    nutrients[NUTRIENTS.index("sodium")] += 0.12
    content = tuple(round(1000 * x) for x in nutrients)
    return Recipe(f"{dish.course} {k}", content, 6 if dish.ahead else 2, ahead=dish.ahead)


def _targets(dice: random.Random, factors: list[int], days: int) -> Iterator[Target]:
    for p, factor in enumerate(factors):
        for n, name in enumerate(NUTRIENTS):
            floor = name not in CEILINGS
            need = dice.uniform(0.8, 1.25) * factor / 100 * (0.75 if floor else 1.0)
            weight = WEIGHTS.shortfall_percent if floor else WEIGHTS.excess_percent
            yield Target(p, n, round(1000 * days * need), factor, floor, weight)


def _leaves(book: tuple[InventedDish, ...], cookings: tuple[Cooking, ...], weeks: int) -> Among:
    groups: dict[int, list[int]] = {}
    for c, cooking in enumerate(cookings):
        for food, _ in book[cooking.recipe].lines:
            if food.kind.name == "leaf":
                groups.setdefault(food.index, []).append(c)
    return Among("leafy greens", 3 * weeks, tuple(tuple(g) for g in groups.values()), WEIGHTS.repeat)
