"""What there is and what can be bought, as sources of the planning problem."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from chauka.kitchen import Book, Form, Lot, Offer
from chauka.planning.amounts import FREE_FOODS, as_bought_g, bought_form, can_become, line_need_g
from chauka.planning.facts import Facts
from chauka.planning.problem import Source
from chauka.planning.sittings import MARKET_TIME, market_days

LONG_LIFE_DAYS = 30
"""What keeps this long after the horizon is worth nearly what it cost."""

FRESH_SHARE = 0.8
"""Fair value of fresh food with its whole life before it when the horizon ends, as a share of the price; cupboard
goods are worth what they cost. Our own choice: below 1, so that nothing fresh is bought to be carried."""

DISHES_OF_A_FOOD = 6
"""A pack of cupboard goods is not larger than what the six dishes that take most of it need together."""


@dataclass(frozen=True, slots=True)
class Origin:
    """Where a source comes from: a lot, or an offer on a day; and when its life ends."""

    lot: Lot | None
    offer: Offer | None
    day: date | None
    use_by: datetime


@dataclass(frozen=True, slots=True)
class Supply:
    """Items, sources, and what they stand for; `item_of` gives the item for (food, form)."""

    items: tuple[str, ...]
    item_of: Mapping[tuple[str, Form], int]
    sources: tuple[Source, ...]
    origins: tuple[Origin, ...]

    def food_of(self, item: int) -> str:
        """Food code of an item."""
        return self.items[item].split("/")[0]

    def has(self, item: int) -> bool:
        """Whether anything of an item is in the house or on sale."""
        return any(item in source.items for source in self.sources)


def supply(book: Book, start: date, days: int, moments: Sequence[datetime], facts: Facts) -> Supply:
    """Every lot and every pack on every market day, for the foods that the dishes use."""
    forms = defaultdict[str, set[Form]](set)
    for dish in book.dishes:
        for line in dish.lines:
            for food in (line.food, *(s.food for s in line.substitutes)):
                forms[food].add(line.form)
    item_of, items = _items(book.lots, forms)
    builder = _Builder(book, start, days, moments=moments, facts=facts, item_of=item_of)
    found = [x for lot in book.lots if lot.food in forms for x in builder.from_lot(lot)]
    for offer in book.offers:
        if offer.food in forms and offer.food not in FREE_FOODS:
            found.extend(builder.from_offer(offer))
    return Supply(items, item_of, tuple(s for s, _ in found), tuple(o for _, o in found))


def _items(lots: Sequence[Lot], forms: Mapping[str, set[Form]]) -> tuple[dict[tuple[str, Form], int], tuple[str, ...]]:
    """Forms of a food that the same lots can become are one item."""
    item_of, items = dict[tuple[str, Form], int](), list[str]()
    for food in sorted(forms):
        seen = dict[frozenset[str], int]()
        for form in sorted(forms[food]):
            group = frozenset(lot.id for lot in lots if lot.food == food and can_become(lot.form, form))
            if group not in seen:
                seen[group] = len(items)
                items.append(f"{food}/{form}")
            item_of[food, form] = seen[group]
    return item_of, tuple(items)


class _Builder:
    def __init__(
        self,
        book: Book,
        start: date,
        days: int,
        *,
        moments: Sequence[datetime],
        facts: Facts,
        item_of: Mapping[tuple[str, Form], int],
    ) -> None:
        self.book, self.start, self.days = book, start, days
        self.moments, self.facts, self.item_of = moments, facts, item_of
        self.ends = datetime.combine(start + timedelta(days=days), MARKET_TIME)

    def from_lot(self, lot: Lot) -> list[tuple[Source, Origin]]:
        """The lot as a source, unless nothing of it can be used in time."""
        food = lot.food or ""
        traits = self.facts.traits(food)
        edible = self.facts.edible_fraction(food) if lot.form is Form.WHOLE else 1.0
        mg = round(1000 * as_bought_g(lot.grams * edible, lot.form, traits))
        items = sorted({i for (f, form), i in self.item_of.items() if f == food and can_become(lot.form, form)})
        if mg < 1000 or not items:
            return []
        use_by = self.facts.lot_use_by(lot)
        worth = round(self._coin_per_mg(food, lot) * mg)
        first, last = self._span(max(lot.since, self.moments[0]) if self.moments else lot.since, use_by)
        life = (use_by - lot.since) / timedelta(days=1)
        source = Source(
            lot.id, tuple(items), first, last, mg, 0, worth, self._carry(worth, use_by, life), stock=True
        )  # fmt: skip
        return [(source, Origin(lot, None, None, use_by))]

    def from_offer(self, offer: Offer) -> list[tuple[Source, Origin]]:
        """The offer's packs on each of its market days.

        Cupboard goods come in one size of pack and on the first market day: what is left of them is
        worth what it cost, so another size or day could only cost more.
        """
        form, life = self._bought(offer.food)
        edible = self.facts.edible_fraction(offer.food) if form is Form.WHOLE else 1.0
        items = tuple(sorted({i for (f, _), i in self.item_of.items() if f == offer.food}))
        bought_on = market_days(self.book.house, self.start, self.days, offer.weekdays)
        if life >= self.days + LONG_LIFE_DAYS:
            if offer is not self._cupboard_pack(offer.food):
                return []
            bought_on = bought_on[:1]
        mg, out = round(1000 * offer.grams * edible), []
        worth = round(self._coin_per_mg(offer.food, None) * mg)
        for day in bought_on:
            arrives = datetime.combine(day, MARKET_TIME)
            use_by = arrives + timedelta(days=life)
            first, last = self._span(arrives, use_by)
            if first <= last:
                name = f"{offer.food} {offer.pack} {day.isoformat()}"
                carry = min(offer.price, self._carry(worth, use_by, life))
                source = Source(name, items, first, last, mg, offer.price, worth, carry)
                out.append((source, Origin(None, offer, day, use_by)))
        return out

    def _bought(self, food: str) -> tuple[Form, float]:
        """The form in which a food is bought, and how long it keeps then [day]."""
        forms = frozenset(form for f, form in self.item_of if f == food)
        form = bought_form(forms, self.facts.edible_fraction(food))
        return form, self.facts.bought_life_days(food, form)

    def _cupboard_pack(self, food: str) -> Offer:
        """The pack with the lowest price per gram that is not larger than the dishes can use."""
        heads = 1.5 * len(self.book.house.people)
        takes = sorted(
            (heads * line_need_g(line, self.facts.traits(food)) / dish.portions)
            for dish in self.book.dishes
            for line in dish.lines
            if line.food == food
        )
        offers = [o for o in self.book.offers if o.food == food]
        small = min(o.grams for o in offers)
        fit = [o for o in offers if o.grams <= max(small, sum(takes[-DISHES_OF_A_FOOD:]))]
        return min(fit, key=lambda o: (o.price / o.grams, o.grams))

    def _span(self, arrives: datetime, use_by: datetime) -> tuple[int, int]:
        first = next((k for k, at in enumerate(self.moments) if at >= arrives), len(self.moments))
        if use_by >= self.ends:
            return first, len(self.moments)
        return first, sum(at <= use_by for at in self.moments) - 1

    def _carry(self, worth: int, use_by: datetime, life_days: float) -> int:
        beyond = (use_by - self.ends) / timedelta(days=1)
        if beyond < 0:
            return 0
        if beyond >= LONG_LIFE_DAYS:
            return worth
        return int(worth * FRESH_SHARE * min(1.0, beyond / max(life_days, 1e-9)))

    def _coin_per_mg(self, food: str, lot: Lot | None) -> float:
        """The food's usual price per edible milligram: of the pack one would buy, else what the lot cost."""
        offered = [o for o in self.book.offers if o.food == food]
        if not offered:
            return lot.cost / (1000 * lot.grams) if lot and lot.cost and lot.grams else 0.0
        form, life = self._bought(food)
        edible = self.facts.edible_fraction(food) if form is Form.WHOLE else 1.0
        if life >= self.days + LONG_LIFE_DAYS:
            offered = [self._cupboard_pack(food)]
        return min(o.price / (1000 * o.grams * edible) for o in offered)
