"""The book: everything that one household has written down, as one immutable value."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, timedelta

from chauka.errors import Complaints
from chauka.kitchen.dish import Dish, Swap, with_swaps
from chauka.kitchen.house import House, RuleKind, Sitting
from chauka.kitchen.parts import check_parts, parts_of, with_parts
from chauka.kitchen.plan import TablePlan
from chauka.kitchen.stock import Lot, Offer


@dataclass(frozen=True, slots=True)
class Book:
    """A house, its dish book, what the market offers, and what is on the shelf."""

    house: House
    dishes: tuple[Dish, ...]
    offers: tuple[Offer, ...]
    lots: tuple[Lot, ...]

    def __post_init__(self) -> None:
        bad = Complaints("book")
        ids = [d.id for d in self.dishes]
        for twice in {i for i in ids if ids.count(i) > 1}:
            bad.add("dishes", f"the id {twice!r} stands twice")
        for lot in self.lots:
            bad.check(
                lot.dish is None or lot.dish in ids,
                "lots",
                f"lot {lot.id} holds dish {lot.dish!r}, not in the dish book",
            )
        check_parts(self.dishes, bad)
        bad.raise_if_any()

    def whole(self) -> Book:
        """The book as engines need it: each dish with its made-ahead parts put in. Itself where there are none."""
        if not any(parts_of(dish) for dish in self.dishes):
            return self
        measures = self.house.measures
        return replace(self, dishes=tuple(with_parts(dish, self.dishes, measures) for dish in self.dishes))

    def dish(self, dish_id: str) -> Dish:
        """The dish of that id; an `InputError` names what there is."""
        for dish in self.dishes:
            if dish.id == dish_id:
                return dish
        bad = Complaints("dish")
        bad.add(
            "",
            f"{dish_id!r} is not in the dish book; it holds {', '.join(sorted(d.id for d in self.dishes))}",
        )
        bad.raise_if_any()
        raise AssertionError


def as_planned(book: Book, plan: TablePlan) -> Book:
    """The book with each dish as the plan has it cooked: with the swaps that all its batches share."""
    swaps = dict[str, set[tuple[Swap, ...]]]()
    for batch in plan.batches:
        swaps.setdefault(batch.dish, set()).add(batch.swaps)
    shared = {dish: next(iter(found)) for dish, found in swaps.items() if len(found) == 1}
    if not any(shared.values()):
        return book
    return replace(book, dishes=tuple(with_swaps(dish, shared.get(dish.id, ())) for dish in book.dishes))


def sittings(house: House, start: date, days: int) -> tuple[Sitting, ...]:
    """The sittings of `days` days from `start`, with who eats and which rules hold."""
    out = []
    for day in (start + timedelta(d) for d in range(days)):
        for when in sorted((m for m in house.meal_times if m.weekday == day.weekday()), key=lambda m: m.meal.order):
            holding = [r for r in house.rules if r.holds(day, when.meal)]
            away = frozenset[str]().union(*(r.people for r in holding if r.kind is RuleKind.AWAY))
            out.append(
                Sitting(
                    day=day,
                    meal=when.meal,
                    serve=when.serve,
                    hands_on_min=when.hands_on_min,
                    eaters=tuple(p.id for p in house.people if p.id not in away),
                    guests=sum(r.guests for r in holding if r.kind is RuleKind.GUESTS),
                    rules=frozenset(r.kind for r in holding),
                )
            )
    return tuple(out)
