"""The model with rules that can be let go: which of them stand in the way of a position, and the cheapest way round.

A rule is let go by a slack in its rows, or by letting in the dishes that only it keeps out.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterable, Mapping
from collections.abc import Set as AbstractSet
from dataclasses import dataclass
from enum import StrEnum

from chauka.planning.build import Built
from chauka.planning.menu import Ground
from chauka.planning.model import Choice, Model
from chauka.planning.problem import Term

SECONDS = 1.5
"""How long one question to the whole model may take [s]."""


class Kind(StrEnum):
    """What a rule is about."""

    BUDGET = "budget"
    WORK = Ground.MINUTES.value
    STOVE = "burners and vessels"
    ONCE = "no dish twice in five days"
    DAY = Ground.DAY.value
    ALLERGY = Ground.ALLERGY.value
    LEAD = Ground.LEAD.value
    REST = Ground.REST.value
    VESSEL = Ground.VESSEL.value
    FOOD = Ground.FOOD.value


@dataclass(frozen=True, slots=True, order=True)
class Rule:
    """One rule; those of a sitting name its slot."""

    kind: Kind
    slot: int | None = None


Position = tuple[int, int]
"""(slot, place)"""
Bounds = tuple[list[float], list[float]]

_GROUND = {ground: Kind(ground.value) for ground in Ground}

PRICE = {Kind.WORK: 300, Kind.STOVE: 100, Kind.ONCE: 3_000, Kind.REST: 3_000, Kind.VESSEL: 8_000, Kind.FOOD: 8_000,
         Kind.DAY: 15_000}  # fmt: skip
"""What letting a rule go counts when the way round is looked for [coin]: a minute, a minute on a burner, a dish, a
borrowed vessel, a food from elsewhere, a day rule. Our own choice: what is easiest first."""

NEVER = frozenset({Kind.ALLERGY, Kind.LEAD})
"""What no way round may break: what makes ill, and time that is over."""


@dataclass(frozen=True, slots=True)
class WayRound:
    """Amounts by which rules are overstepped, and the (cooking, broken kinds) that come by it."""

    over: Mapping[Rule, float]
    cookings: tuple[tuple[int, frozenset[Kind]], ...]
    chosen: tuple[int, ...]


class Elastic:
    """One problem, built without any of the rules that leave decisions out (`wide`)."""

    def __init__(self, wide: Built, choice: Choice) -> None:
        self.wide, self.problem = wide, wide.problem
        self.model = Model(wide.problem)
        self.v = self.model.v
        self.broken = {c: frozenset(_GROUND[g] for g in grounds) for c, grounds in wide.menu.broken.items()}
        self.slacks = defaultdict[Rule, list[int]](list)
        self._add_slacks()
        base = self.model.complete(choice)
        self.base = base.columns if base else ()
        self.filled = {key for key, column in self.v.empty.items() if self.base and self.base[column] < 0.5}

    def _add_slacks(self) -> None:
        """A slack for each row of a rule that may be let go; shut until it is."""
        lp, hard = self.model.lp, {x.name for x in self.problem.limits if x.weight is None}
        cooked = {self.v.cook[c]: k.slot for c, k in enumerate(self.problem.cookings)}
        eaten = {self.v.eat[k]: e.slot for k, e in enumerate(self.problem.eatings)}
        kinds = {"minutes": Kind.WORK, "vessels": Kind.STOVE, "budget": Kind.BUDGET}
        for k, name in enumerate(lp.rules):
            kind = kinds.get(name) or (Kind.ONCE if name in hard else None)
            if name == "whole packs":  # implied by the balances, but only while no dish comes twice
                lp.rows[k] = (-math.inf, math.inf, lp.rows[k][2])
            if kind is None:
                continue
            low, high, terms = lp.rows[k]
            slot = None
            if kind in (Kind.WORK, Kind.STOVE):
                slot = next((cooked[c] for c in terms if c in cooked), None)
                slot = slot if slot is not None else next(eaten[c] for c in terms if c in eaten)
            slack = lp.column(0.0, 0.0)
            lp.rows[k] = (low, high, {**terms, slack: -1.0})
            self.slacks[Rule(kind, slot)].append(slack)
        if self.problem.budget is None:
            self.slacks.pop(Rule(Kind.BUDGET), None)

    def rules(self, slot: int, place: int) -> list[Rule]:
        """The rules that could stand in the way of a position; those that are easiest to change last.

        The filter lets the first go first, so that the last are named where either would do.
        """
        kinds = {
            kind
            for c, broken in self.broken.items()
            for kind in broken - {Kind.WORK}
            if self.problem.cookings[c].slot == slot and self._fills(c, slot, place)
        }
        own = [Rule(kind, slot) for kind in (*sorted(kinds), Kind.STOVE, Kind.WORK)]
        return [*own, Rule(Kind.ONCE), *([Rule(Kind.BUDGET)] if Rule(Kind.BUDGET) in self.slacks else [])]

    def _fills(self, c: int, slot: int, place: int) -> bool:
        return any(e.cooking == c and e.slot == slot and place in e.places for e in self.problem.eatings)

    def can_fill(self, slot: int, place: int, without: Iterable[Rule]) -> bool | None:
        """Whether the position can be filled beside all that the plan fills; None where that was not found out."""
        bounds = self._bounds({(slot, place)}, frozenset(without))
        near = self.model.lp.solve(bounds=self._near(bounds, {slot}), seconds=SECONDS, options={"mip_rel_gap": 1e9})
        if near.values:
            return True
        if self.model.lp.solve(bounds=bounds, relax=True, seconds=SECONDS).status == "infeasible":
            return False
        whole = self.model.lp.solve(bounds=bounds, seconds=SECONDS, options={"mip_rel_gap": 1e9})
        return True if whole.values else False if whole.status == "infeasible" else None

    def _bounds(self, positions: AbstractSet[Position], without: frozenset[Rule]) -> Bounds:
        """These positions and all that the plan fills have to be filled; only the rules in `without` are let go."""
        lower, upper = list(self.model.lp.lower), list(self.model.lp.upper)
        let_go = defaultdict[int | None, set[Kind]](set)
        for rule in without:
            let_go[rule.slot].add(rule.kind)
        for c, broken in self.broken.items():
            if not broken <= let_go[self.problem.cookings[c].slot]:
                upper[self.v.cook[c]] = 0.0
        lacking = {Rule(Kind.STOVE, rule.slot) for rule in without if rule.kind is Kind.VESSEL}
        for rule in without | lacking:
            for slack in self.slacks.get(rule, ()):
                upper[slack] = math.inf
        for slot, place in self.filled | positions:
            if self.problem.slots[slot].places[place].term is Term.MISSED:
                upper[self.v.empty[slot, place]] = 0.0
        return lower, upper

    def _near(self, bounds: Bounds, slots: AbstractSet[int]) -> Bounds:
        """The same with the sittings of all other days as the plan has them."""
        lower, upper = list(bounds[0]), list(bounds[1])
        days = {self.problem.slots[s].day for s in slots}
        fixed = {
            self.v.eat[k] for k, e in enumerate(self.problem.eatings) if self.problem.slots[e.slot].day not in days
        }
        for column in fixed if self.base else ():
            if upper[column] > 0:
                lower[column] = upper[column] = round(self.base[column])
        return lower, upper

    def clash(self, slot: int, place: int) -> tuple[Rule, ...]:
        """A set of rules that cannot all hold with the position filled, none of which can be spared.

        A deletion filter: each rule in turn is let go; where the position still cannot be filled, it is
        not part of the clash. Empty where the position could be filled, or where no dish is for it.
        """
        rules, gone = self.rules(slot, place), list[Rule]()
        if self.can_fill(slot, place, ()) is not False or self.can_fill(slot, place, rules) is False:
            return ()
        for rule in rules:
            if self.can_fill(slot, place, [*gone, rule]) is False:
                gone.append(rule)
        return tuple(rule for rule in rules if rule not in gone)

    def way_round(self, positions: AbstractSet[Position]) -> WayRound | None:
        """The least that has to be let go so that the positions are filled, the other days as they are."""
        rules = frozenset(rule for key in positions for rule in self.rules(*key) if rule.kind not in NEVER)
        bounds = self._near(self._bounds(positions, rules), {slot for slot, _ in positions})
        lp, cost = self.model.lp, [0.0] * len(self.model.lp.cost)
        for rule, slacks in self.slacks.items():
            for slack in slacks:
                cost[slack] = PRICE.get(rule.kind, 1)
        for c, broken in self.broken.items():
            cost[self.v.cook[c]] = sum(PRICE.get(kind, 0) for kind in broken if kind is not Kind.WORK)
        own, lp.cost = lp.cost, cost
        values = lp.solve(bounds=bounds, seconds=2 * SECONDS).values
        lp.cost = own
        if values is None:
            return None
        over = {rule: max(values[s] for s in slacks) for rule, slacks in self.slacks.items()}
        eaten = [e for k, e in enumerate(self.problem.eatings) if values[self.v.eat[k]] > 0.5]
        return WayRound(
            {rule: amount for rule, amount in over.items() if amount > 0.5},
            tuple((c, broken) for c, broken in self.broken.items() if values[self.v.cook[c]] > 0.5),
            tuple(e.cooking for e in eaten if any((e.slot, p) in positions for p in e.places)),
        )
