"""What to do when the coming market lacks something: the sittings it would have fed are filled anew, the rest stays.

For each food on the list the plan is mended with that food gone: lines may take their substitutes, dishes may
change, other packs may be bought on that day or later; every sitting that the food does not touch stays.
The mending is the same mixed-integer programme with nearly everything fixed, so it is solved in a moment.
"""

from __future__ import annotations

import math
import time
from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from chauka.kitchen import Instead, MarketRisk, Recourse, StandIn, TablePlan
from chauka.planning.additions import MAIN_G
from chauka.planning.build import Built
from chauka.planning.carry import carried_over
from chauka.planning.markets import Chance, Market, assumed, markets
from chauka.planning.model import Choice, Model, Solution
from chauka.planning.problem import Eating, Term
from chauka.planning.sittings import MARKET_TIME

SCENARIOS, SEED = 40, 11
MEND_SECONDS, MEND_GAP = 0.8, 0.005
MORE_PACKS = 3
"""So many packs beyond the list may be bought of one thing on one day."""

BAD = 0.9
LIKELY = 0.05
"""What is missing less often stands on no recourse list."""

CHOICES = 12
"""How many dishes are considered for each place that has to be filled anew: the same with a swap, then by liking."""

PACK_TROUBLE = 50
"""What a pack costs besides its price while the list is mended [coin], so that nothing is bought for nothing."""


@dataclass(frozen=True, slots=True)
class Answer:
    """The recourse list of one market day and the risk of that day."""

    recourse: tuple[Recourse, ...]
    risk: MarketRisk | None


NOTHING = Answer((), None)


def coming_market(plan: TablePlan, since: datetime | None) -> date | None:
    """The next day on which something is to be bought."""
    days = [p.day for p in plan.purchases if since is None or datetime.combine(p.day, MARKET_TIME) >= since]
    return min(days, default=None)


def likely_missing(plan: TablePlan, built: Built, day: date, chances: Mapping[str, Chance]) -> dict[str, Chance]:
    """What stands on that day's list, feeds something and may well be missing, the likeliest first."""
    foods = {p.food for p in plan.purchases if p.day == day and p.feeds}
    known = {food: chances.get(food) or _assumed(food, built, day) for food in foods}
    kept = [food for food in foods if known[food].missing >= LIKELY]
    return {food: known[food] for food in sorted(kept, key=lambda f: (-known[f].missing, f))}


def _assumed(food: str, built: Built, day: date) -> Chance:
    life = max((o.use_by.date() - day).days for o in built.supply.origins if o.offer and o.offer.food == food)
    return assumed(life, built.facts.season_points(food, day.month))


def recourse(
    plan: TablePlan,
    choice: Choice,
    built: Built,
    wide: Built,
    day: date,
    *,
    chances: Mapping[str, Chance],
    seconds: float,
) -> Answer:
    """The recourse list of a market day.

    `choice` answers `built`; `wide` is the same problem with the foods in `chances` swappable. After
    `seconds` [s] what was found so far comes back.
    """
    until = time.monotonic() + seconds
    model = Model(wide.problem)
    base = model.complete(carried_over(choice, built, wide))
    if base is None:
        return NOTHING
    mender = _Mender(plan, model, model.without_spare_packs(base), wide, day)
    out = []
    for food, chance in chances.items():
        mended = mender.without(frozenset({food})) if time.monotonic() < until else None
        if mended:
            out.append(mender.told(food, mended, chance))
    return Answer(tuple(out), mender.risk(chances, until))


class _Mender:
    def __init__(self, plan: TablePlan, model: Model, base: Solution, built: Built, day: date) -> None:
        self.model, self.base, self.built, self.problem, self.day = model, base, built, built.problem, day
        for column in filter(None, model.v.packs):
            model.lp.cost[column] += PACK_TROUBLE
        self.purchases, self.cooked = plan.purchases, plan.batches
        self.batches = {(b.dish, b.day, b.meal): b.id for b in plan.batches}
        self.feeds = defaultdict[str, set[str]](set)
        for purchase in plan.purchases:
            if purchase.day == day:
                self.feeds[purchase.food] |= set(purchase.feeds)
        self.known = dict[frozenset[str], Solution | None]()

    def without(self, missing: frozenset[str]) -> Solution | None:
        """The plan mended for a market without these foods; None where that was not found in time."""
        if missing not in self.known:
            needed = frozenset(food for food in missing if not self.is_seasoning(food))
            self.known[missing] = self._mended(needed) if needed else self.base
        return self.known[missing]

    def is_seasoning(self, food: str) -> bool:
        """Whether every dish that a food would feed takes so little of it that it is cooked without."""
        fed = [b for b in self.cooked if b.id in self.feeds[food]]
        dishes = [self.built.book.dish(b.dish) for b in fed]
        grams = [sum(x.grams.mean for x in dish.lines if x.food == food) / dish.portions for dish in dishes]
        return max(grams, default=0.0) < MAIN_G

    def _mended(self, missing: frozenset[str]) -> Solution | None:
        lower, upper = list(self.model.lp.lower), list(self.model.lp.upper)
        free, touched = self._free(missing)
        idle = self.only_for(missing)
        for column in {*self.model.v.cook, *self.model.v.eat} - free:
            lower[column] = upper[column] = round(self.base.columns[column])
        for s, source in enumerate(self.problem.sources):
            packs, origin = self.model.v.packs[s], self.built.supply.origins[s]
            if packs is None or origin.offer is None:
                continue
            if origin.day == self.day and origin.offer.food in missing:
                upper[packs] = 0.0
            else:
                planned = self.base.choice.packs.get(s, 0)
                lower[packs] = 0 if source.name in idle else planned
                upper[packs] = planned + (MORE_PACKS if touched & set(source.items) else 0)
        outcome = self.model.lp.solve(bounds=(lower, upper), seconds=MEND_SECONDS, gap=MEND_GAP)
        return self._without_unopened(self.model.read(outcome.values)) if outcome.values else None

    def _without_unopened(self, mended: Solution) -> Solution:
        """Less the packs beyond the list that nobody opens: a search cut short may leave some."""
        packs, left = dict(mended.choice.packs), list(mended.left_mg)
        for s, count in mended.choice.packs.items():
            pack_mg = self.problem.sources[s].pack_mg
            spare = min(count - self.base.choice.packs.get(s, 0), int((left[s] + 1) // pack_mg))
            if spare > 0:
                packs[s] -= spare
                left[s] -= spare * pack_mg
        choice = replace(mended.choice, packs={s: n for s, n in packs.items() if n})
        return self.model.without_spare_packs(replace(mended, choice=choice, left_mg=tuple(left)))

    def only_for(self, missing: frozenset[str]) -> frozenset[str]:
        """Purchases that feed nothing but what the missing foods would have fed, by the name of their source."""
        fed = self._fed(missing)
        return frozenset(f"{p.food} {p.pack} {p.day.isoformat()}" for p in self.purchases if set(p.feeds) <= fed)

    def _fed(self, missing: frozenset[str]) -> set[str]:
        return set[str]().union(*(self.feeds[food] for food in missing))

    def _free(self, missing: frozenset[str]) -> tuple[set[int], set[int]]:
        """The decisions for the positions that the missing foods would have fed, and the items they could take."""
        fed = self._fed(missing)
        eaten = [self.problem.eatings[e] for e in self.base.choice.eatings if self._batch(e) in fed]
        places = {(e.slot, p) for e in eaten for p in e.places}
        free, items = set[int](), set[int]()
        dishes = {self._dish(e) for e in eaten}
        rank = defaultdict[tuple[int, int], int](int)
        for k, e in sorted(
            enumerate(self.problem.eatings), key=lambda x: (self._dish(x[1]) not in dishes, x[1].liking)
        ):
            if all((e.slot, p) in places for p in e.places):
                rank[e.slot, e.places[0]] += 1
                if rank[e.slot, e.places[0]] > CHOICES:
                    continue
                free.add(self.model.v.eat[k])
                items |= {need.item for need in self.problem.cookings[e.cooking].needs}
                if self.problem.recipes[self.problem.cookings[e.cooking].recipe].ahead:
                    free.add(self.model.v.cook[e.cooking])
        return free, items

    def _dish(self, e: Eating) -> str:
        return self.built.dish(self.problem.cookings[e.cooking].recipe).id

    def _batch(self, e: int) -> str | None:
        cooking = self.problem.cookings[self.problem.eatings[e].cooking]
        if cooking.slot < 0:
            return None
        sitting = self.built.sittings[cooking.slot]
        return self.batches.get((self.built.dish(cooking.recipe).id, sitting.day, sitting.meal))

    def told(self, food: str, mended: Solution, chance: Chance) -> Recourse:
        """The difference between the plan and the mended one, as a list for the market."""
        base = self.base
        before, after = self._table(base), self._table(mended)
        works, swaps, lost = list[str](), list[Instead](), list[str]()
        for key in sorted(key for key in before if before[key] != after.get(key)):
            (dish, _), (slot, _) = before[key], key
            new = after.get(key, (None, ()))[0]
            sitting = self.built.sittings[slot]
            if new == dish:
                works.append(dish)
            elif new is None:
                lost.append(dish)
            elif new not in {d for (at, _), (d, _) in before.items() if at == slot}:
                swaps.append(Instead(sitting.day, sitting.meal, dish, new))
        fed = {b.dish for b in self.cooked if b.id in self.feeds[food]}
        if self.is_seasoning(food):
            works.extend(sorted(fed))
        replaced = {swap.dish for swap in swaps} | set(works)
        return Recourse(
            day=self.day,
            food=food,
            chance=chance.missing,
            why=chance.why,
            stand_ins=self._stand_ins(food, base, mended),
            works=tuple(dict.fromkeys(works)),
            swaps=tuple(dict.fromkeys(swaps)),
            lost=tuple(dish for dish in dict.fromkeys(lost) if dish not in replaced),
            cost=self._cost(mended) - self._cost(base),
        )

    def _table(self, solution: Solution) -> dict[tuple[int, int], tuple[str, tuple[object, ...]]]:
        """Dish and swaps at each position."""
        out = dict[tuple[int, int], tuple[str, tuple[object, ...]]]()
        for e in solution.choice.eatings:
            eating = self.problem.eatings[e]
            helping = self.built.menu.helpings[self.problem.cookings[eating.cooking].recipe]
            out.update(((eating.slot, p), (helping.dish.id, helping.swaps)) for p in eating.places)
        return out

    def _stand_ins(self, food: str, base: Solution, mended: Solution) -> tuple[StandIn, ...]:
        out = list[StandIn]()
        for s, packs in sorted(mended.choice.packs.items()):
            origin, more = self.built.supply.origins[s], packs - base.choice.packs.get(s, 0)
            if more > 0 and origin.offer:
                out.append(StandIn(origin.offer.food, origin.offer.pack, more, more * origin.offer.price, origin.day))
        bought = {one.food for one in out}
        used = {
            swap.food
            for e in mended.choice.eatings - base.choice.eatings
            for swap in self.built.menu.helpings[self.problem.cookings[self.problem.eatings[e].cooking].recipe].swaps
        }
        return (*out, *(StandIn(other, "", 0, 0) for other in sorted(used - bought - {food})))

    def _cost(self, solution: Solution, dear: Mapping[str, float] | None = None) -> int:
        """What is paid at the markets, what is dear on the day at its price then."""
        total = 0.0
        for s, packs in solution.choice.packs.items():
            origin = self.built.supply.origins[s]
            food = origin.offer.food if origin.offer else ""
            total += (
                self.problem.sources[s].price * packs * ((dear or {}).get(food, 1) if origin.day == self.day else 1)
            )
        return round(total)

    def _waste_g(self, solution: Solution) -> float:
        return sum(
            mg / 1000
            for source, mg in zip(self.problem.sources, solution.left_mg, strict=True)
            if not self.problem.outlives(source)
        )

    def risk(self, chances: Mapping[str, Chance], until: float) -> MarketRisk | None:
        """Waste and money over markets drawn by chance, each answered by the mended plan."""
        base, seen = self.base, list[tuple[Market, Solution]]()
        for market in markets(tuple(chances), chances, SCENARIOS, SEED):
            if time.monotonic() >= until and market.missing not in self.known:
                continue
            mended = self.without(market.missing)
            if mended:
                seen.append((market, mended))
        if not seen:
            return None
        waste = sorted(self._waste_g(mended) for _, mended in seen)
        cost = sorted(self._cost(mended, market.dear) for market, mended in seen)
        lost = sum(self._missed(mended) - self._missed(base) for _, mended in seen)
        return MarketRisk(
            scenarios=len(seen),
            planned_waste_g=self._waste_g(base),
            expected_waste_g=sum(waste) / len(seen),
            bad_waste_g=waste[_bad(len(seen))],
            planned_cost=self._cost(base),
            expected_cost=round(sum(cost) / len(seen)),
            bad_cost=cost[_bad(len(seen))],
            dishes_lost=max(0.0, lost / len(seen)),
        )

    def _missed(self, solution: Solution) -> int:
        return sum(self.problem.slots[s].places[p].term is Term.MISSED for s, p in solution.empty)


def _bad(count: int) -> int:
    """The place in a sorted list that one in ten exceeds."""
    return max(0, math.ceil(BAD * count) - 1)
