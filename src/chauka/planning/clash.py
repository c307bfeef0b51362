"""When no plan fits: the smallest set of rules that clash over a position, and the cheapest way out."""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Iterator

from chauka.kitchen import Clash
from chauka.planning.build import Built
from chauka.planning.carry import carried_over
from chauka.planning.elastic import Elastic, Kind, Position, Rule, WayRound
from chauka.planning.menu import DAYS_BETWEEN, Ground
from chauka.planning.problem import Term
from chauka.planning.sittings import filled_by
from chauka.planning.solve import Result

MOST = 6
"""So many empty positions are looked into; the rest is counted."""


def clashes(built: Built, result: Result, seconds: float, widen: Callable[[], Built]) -> tuple[Clash, ...]:
    """What kept required positions empty; nothing where the plan is whole.

    `widen` builds the same problem without the rules that leave decisions out; it is asked only when
    there is something to explain.
    """
    slots = built.problem.slots
    missed = [(s, p) for s, p in result.solution.empty if slots[s].places[p].term is Term.MISSED]
    if not missed:
        return ()
    wide = widen()
    elastic = Elastic(wide, carried_over(result.solution.choice, built, wide))
    teller, until = _Teller(built, wide), time.monotonic() + seconds
    groups = dict[tuple[Rule, ...], set[Position]]()
    for key in missed[:MOST]:
        if not groups or time.monotonic() < until:
            groups.setdefault(elastic.clash(*key), set()).add(key)
    out = [one for rules, positions in groups.items() for one in teller.told(elastic, rules, positions)]
    more = len(missed) - sum(len(positions) for positions in groups.values())
    if more:
        out.append(Clash((f"{more} more positions stay empty",), "see to these first, then plan anew"))
    return tuple(out)


class _Teller:
    def __init__(self, built: Built, wide: Built) -> None:
        self.built, self.wide, self.house = built, wide, built.book.house

    def told(self, elastic: Elastic, rules: tuple[Rule, ...], positions: set[Position]) -> Iterator[Clash]:
        """Positions over which the same rules clash, and the way out; each for itself where no rules were found."""
        if not rules:
            yield from (self._without_rules(elastic, slot, place) for slot, place in sorted(positions))
            return
        slot, place = min(positions)
        labels = " and ".join(self._label(*key) for key in sorted(positions))
        way = elastic.way_round(positions)
        said = (self._rule(rule, slot, place) for rule in rules)
        yield Clash((f"fill {labels}", *said), self._way(way, place, slot), self._cost(way))

    def _without_rules(self, elastic: Elastic, slot: int, place: int) -> Clash:
        label, where = self._label(slot, place), self.built.problem.slots[slot].places
        if not any(place in filled_by(dish, where) for dish in self.built.book.dishes):
            return Clash((f"{label}: no dish in the book is for it",), self._write(slot, place))
        if elastic.can_fill(slot, place, ()):
            return Clash((f"{label} is empty though a dish would fit",), "give the search more time")
        way = elastic.way_round({(slot, place)})
        return Clash((f"fill {label}", "all the rules of that sitting together"), self._way(way, place, slot))

    def _label(self, slot: int, place: int) -> str:
        sitting = self.built.sittings[slot]
        return f"{sitting.day:%A} {sitting.meal}, {self.built.problem.slots[slot].places[place].name}"

    def _write(self, slot: int, place: int) -> str:
        return f"write down a dish for {self.built.problem.slots[slot].places[place].name} that fits that sitting"

    def _rule(self, rule: Rule, slot: int, place: int) -> str:
        """A rule in words, with the commonest way in which it keeps dishes out."""
        sitting = self.built.sittings[slot]
        if rule.kind is Kind.BUDGET:
            return f"spend at most {self._money(self.built.problem.budget or 0)} in these {self.built.days} days"
        if rule.kind is Kind.WORK:
            return f"{sitting.hands_on_min} hands-on minutes on {sitting.day:%A} at {sitting.meal}"
        if rule.kind is Kind.STOVE:
            return f"the burners and vessels on {sitting.day:%A} at {sitting.meal}"
        if rule.kind is Kind.ONCE:
            return f"no dish twice in {DAYS_BETWEEN} days"
        where, dishes = self.built.problem.slots[slot].places, self.built.book
        kept_out = {
            (x.dish, x.rule)
            for x in self.built.menu.exclusions
            if x.slot == slot and x.ground == Ground(rule.kind.value) and place in filled_by(dishes.dish(x.dish), where)
        }
        why = Counter(rule for _, rule in sorted(kept_out))
        common, count = why.most_common(1)[0]
        return f"{common} ({count} of {len({d.id for d in dishes.dishes if place in filled_by(d, where)})} dishes)"

    def _way(self, way: WayRound | None, place: int, slot: int) -> str:
        if way is None:
            return self._write(slot, place)
        parts = dict.fromkeys(self._lets_go(way))
        dishes = dict.fromkeys(self.wide.dish(self.wide.problem.cookings[c].recipe).name for c in way.chosen)
        served = f": then {', '.join(dishes)} can be served" if dishes else ""
        return f"the cheapest way out found is {' and '.join(parts) or 'a longer search'}{served}"

    def _lets_go(self, way: WayRound) -> Iterator[str]:
        for rule, amount in sorted(way.over.items()):
            sitting = None if rule.slot is None else self.built.sittings[rule.slot]
            at = f"on {sitting.day:%A} at {sitting.meal}" if sitting else ""
            if rule.kind is Kind.BUDGET:
                yield f"{self._money(amount)} more"
            elif rule.kind is Kind.WORK:
                yield f"{amount:.0f} more hands-on minutes {at}"
            elif rule.kind is Kind.STOVE and not any(Kind.VESSEL in broken for _, broken in way.cookings):
                yield f"another burner or vessel for {amount:.0f} minutes {at}"
            elif rule.kind is Kind.ONCE:
                yield f"a dish twice in {DAYS_BETWEEN} days"
        for c, broken in way.cookings:
            dish = self.wide.dish(self.wide.problem.cookings[c].recipe)
            for exclusion in self.wide.menu.exclusions:
                same = exclusion.dish == dish.id and exclusion.slot == self.wide.problem.cookings[c].slot
                if same and exclusion.ground.value in {kind.value for kind in broken - {Kind.WORK}}:
                    yield f"{dish.name} although {exclusion.rule}"

    def _cost(self, way: WayRound | None) -> int | None:
        more = way.over.get(Rule(Kind.BUDGET)) if way else None
        return None if more is None else round(more)

    def _money(self, coins: float) -> str:
        return f"{self.house.currency} {coins / 100:,.0f}"
