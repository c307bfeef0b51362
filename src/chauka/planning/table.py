"""A finished plan seen from the table: who eats what, how much, and what may still be served."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date, datetime

from chauka.kitchen import Book, Course, Dish, Meal, Person, RuleKind, Sitting, TablePlan
from chauka.planning.facts import CEILINGS, FLOORS, Facts
from chauka.planning.sittings import NOT_ON_FAST_DAYS, ONION_GARLIC, SMALL, moment
from chauka.planning.work import hands_on, lead_min


class Table:
    """Portions and intakes of one plan, with the house's facts."""

    def __init__(self, plan: TablePlan, book: Book, facts: Facts) -> None:
        self.plan, self.book, self.facts = plan, book, facts
        self.sittings = {(s.day, s.meal): s for s in plan.sittings}

    def moment(self, day: date, meal: Meal) -> datetime:
        """When a sitting is served."""
        return moment(self.sittings[day, meal])

    def eaters(self, day: date, meal: Meal) -> tuple[Person, ...]:
        """Who eats there."""
        return tuple(self.book.house.person(p) for p in self.sittings[day, meal].eaters)

    def size(self, sitting: Sitting) -> float:
        """Adult portions around the table; a guest eats one."""
        return sum(self.facts.portion_factor(self.book.house.person(p)) for p in sitting.eaters) + sitting.guests

    def intakes(self) -> dict[tuple[str, str], float]:
        """What each person gets of each nutrient over the plan, in its unit."""
        out = {(p.id, tag): 0.0 for p in self.book.house.people for tag in (*FLOORS, *CEILINGS)}
        for serving in self.plan.servings:
            nutrients = self.facts.nutrients(self.book.dish(serving.dish))
            for who, portions in self._shares(serving.day, serving.meal, serving.portions):
                for tag, amount in nutrients.items():
                    if (who, tag) in out:
                        out[who, tag] += amount * portions
        return out

    def portions_of_batch(self, batch: str) -> dict[str, float]:
        """Portions as written of a batch that each person eats."""
        out = defaultdict[str, float](float)
        for serving in self.plan.servings:
            if serving.batch == batch:
                for who, portions in self._shares(serving.day, serving.meal, serving.portions):
                    out[who] += portions
        return dict(out)

    def served_of_batch(self, batch: str) -> list[float]:
        """Portions as written of a batch, serving by serving; guests eat of them too."""
        return [s.portions for s in self.plan.servings if s.batch == batch]

    def _shares(self, day: date, meal: Meal, portions: float) -> Iterator[tuple[str, float]]:
        size = self.size(self.sittings[day, meal])
        for person in self.eaters(day, meal):
            yield person.id, portions * self.facts.portion_factor(person) / size

    def may_be_served(self, dish: Dish, batch: str) -> bool:
        """Whether a changed dish breaks no rule wherever its batch is eaten, and nobody there dislikes a food of it."""
        where = [self.sittings[s.day, s.meal] for s in self.plan.servings if s.batch == batch]
        return bool(where) and all(self.allowed(dish, sitting) for sitting in where)

    def allowed(self, dish: Dish, sitting: Sitting) -> bool:
        """Allergies, aversions and the day's rules."""
        people = self.eaters(sitting.day, sitting.meal)
        traits = frozenset[str]().union(*(self.facts.traits(food) for food in dish.foods))
        return not (
            any(p.allergies & self.facts.allergens(dish) or p.aversions & dish.foods for p in people)
            or (RuleKind.NO_ONION_GARLIC in sitting.rules and ONION_GARLIC in traits)
            or (RuleKind.FAST in sitting.rules and traits & NOT_ON_FAST_DAYS)
        )

    def has_room_for_a_side(self, sitting: Sitting) -> bool:
        """Whether a lunch or dinner has no side yet."""
        served = {s.course for s in self.plan.at(sitting.day, sitting.meal)}
        return sitting.meal is not Meal.BREAKFAST and bool(served) and not served & SMALL

    def fits(self, dish: Dish, sitting: Sitting, portions: float) -> bool:
        """Whether a dish is allowed and can be cooked in the minutes that a sitting leaves, with no work days ahead."""
        cooked = [b for b in self.plan.batches if (b.day, b.meal) == (sitting.day, sitting.meal)]
        busy = sum(hands_on(self.book.dish(b.dish), b.portions) for b in cooked)
        vessels = all(self.book.house.vessel_count(s.vessel) for s in dish.steps if s.vessel)
        quick = lead_min(dish) == 0 and busy + hands_on(dish, portions) <= sitting.hands_on_min
        return quick and vessels and self.allowed(dish, sitting) and dish.course is Course.SIDE
