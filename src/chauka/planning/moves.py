"""Proposals for local search: put another dish in a position, with what that pulls along."""

from __future__ import annotations

import random
from collections import defaultdict

from chauka.planning.index import Index, Position
from chauka.planning.pools import Pools
from chauka.planning.problem import Problem, Term


class Draft:
    """A set of eatings under change: who fills which position, and which positions fell empty."""

    def __init__(self, problem: Problem, index: Index, eaten: set[int], here: dict[Position, int]) -> None:
        self.problem, self.index, self.eaten, self.here = problem, index, set(eaten), dict(here)
        self.holes = set[Position]()

    def put(self, e: int) -> bool:
        """Add an eating in the place of what stands there, with the cooking that it is kept from."""
        eating = self.problem.eatings[e]
        for p in eating.places:
            other = self.here.get((eating.slot, p))
            if other is not None:
                self.drop(other)
        cooking = eating.cooking
        if cooking not in self.index.ready and not self.index.ahead[cooking]:
            first = self.index.fresh[cooking]
            if first != e and first not in self.eaten and not self.put(first):
                return False
        self.eaten.add(e)
        for p in eating.places:
            self.here[eating.slot, p] = e
            self.holes.discard((eating.slot, p))
        return True

    def drop(self, e: int) -> None:
        """Take an eating out, and with a fresh one all that was kept of it."""
        if e not in self.eaten:
            return
        eating = self.problem.eatings[e]
        self.eaten.discard(e)
        for p in eating.places:
            del self.here[eating.slot, p]
            self.holes.add((eating.slot, p))
        if self.index.fresh.get(eating.cooking) == e:
            for other in self.index.of_cooking[eating.cooking]:
                self.drop(other)


class Moves:
    """Draws neighbours of a plan."""

    def __init__(self, problem: Problem, index: Index, pools: Pools, dice: random.Random) -> None:
        self.problem, self.index, self.pools, self.dice = problem, index, pools, dice
        self.positions = sorted(index.at)
        cooked = problem.cookings
        self.fresh_at = {(cooked[c].recipe, cooked[c].slot): e for c, e in index.fresh.items()}
        self.drawing = defaultdict[int, list[int]](list)
        for e, draws in enumerate(pools.draws):
            for pool in draws:
                self.drawing[pool].append(e)

    def propose(self, draft: Draft) -> bool:
        """Change the draft by one move; False where the roll of the dice gives none."""
        dice = self.dice.random()
        if dice < 0.05:
            done = self._leave_out(draft)
        elif dice < 0.20:
            done = self._exchange_days(draft)
        elif dice < 0.50:
            done = self._share_food(draft)
        else:
            done = self._another_dish(draft, self.dice.choice(self.index.at[self.dice.choice(self.positions)]))
        if done:
            self._fill_holes(draft)
        return done

    def _required(self, position: Position) -> bool:
        return self.problem.slots[position[0]].places[position[1]].term is Term.MISSED

    def _leave_out(self, draft: Draft) -> bool:
        """Empty a position that may be empty."""
        position = self.dice.choice(self.positions)
        e = draft.here.get(position)
        if e is None or self._required(position):
            return False
        draft.drop(e)
        return True

    def _another_dish(self, draft: Draft, e: int) -> bool:
        """Put a dish in its position, and perhaps eat it once more later."""
        if e in draft.eaten or not draft.put(e):
            return False
        others = self.index.of_cooking[self.problem.eatings[e].cooking]
        if len(others) > 1 and self.dice.random() < 0.3:
            more = self.dice.choice(others)
            return more in draft.eaten or draft.put(more)
        return True

    def _share_food(self, draft: Draft) -> bool:
        """Put a dish that takes from what a dish of the plan takes from."""
        draws = self.pools.draws[self.dice.choice(list(draft.here.values()))] if draft.here else {}
        if not draws:
            return False
        return self._another_dish(draft, self.dice.choice(self.drawing[self.dice.choice(list(draws))]))

    def _exchange_days(self, draft: Draft) -> bool:
        """Let two dishes that are cooked and eaten at once change places."""
        fresh = sorted(draft.eaten & self.index.is_fresh)
        if len(fresh) < 2:
            return False
        one, two = (self.problem.cookings[self.problem.eatings[e].cooking] for e in self.dice.sample(fresh, 2))
        new = (self.fresh_at.get((one.recipe, two.slot)), self.fresh_at.get((two.recipe, one.slot)))
        return all(e is not None and (e in draft.eaten or draft.put(e)) for e in new)

    def _fill_holes(self, draft: Draft) -> None:
        """Give each required position that fell empty a fresh dish: of three that fit, the best liked."""
        for position in sorted(p for p in draft.holes if self._required(p)):
            if position in draft.here or self.dice.random() < 0.1:
                continue
            few = [e for e in self.dice.choices(self.index.at[position], k=6) if self._fits(draft, e)][:3]
            if few:
                draft.put(min(few, key=lambda e: self.problem.eatings[e].liking))

    def _fits(self, draft: Draft, e: int) -> bool:
        eating = self.problem.eatings[e]
        return e in self.index.is_fresh and all((eating.slot, p) not in draft.here for p in eating.places)
