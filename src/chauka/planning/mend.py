"""The cheapest mends of a shortfall: a little more of a food in a planned dish, half a portion more, a side.

Only what the dish book itself does is proposed: a food goes into a dish where the book puts it beside
one of that dish's foods in the same course, and never more of it than the book ever takes. No
supplements. What somebody at the table must not or does not eat, what the day forbids, and what cannot
be fresh on that day is left out. Each mend is priced in whole packs, with what is left over used first.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from chauka.kitchen import Batch, Book, Course, Dish, Gap, Meal, Mend, MendKind, Person, Serving, TablePlan
from chauka.planning.additions import Addition, Habits
from chauka.planning.facts import CEILINGS, Facts, HouseFacts
from chauka.planning.larder import FREE, Bill, Larder
from chauka.planning.sittings import eaten_here
from chauka.planning.table import Table

MET = 0.97
"""From this share of the reference on nothing is mended: tables are not more exact than that. Our own choice."""

HALF = 0.5
"""The portion more that a person may take of a dish; our own choice."""

WORSE = 0.005
"""A mend may not lift anybody further above a ceiling than by this share."""

_MORE_OF = frozenset(
    {Course.PULSE, Course.VEGETABLE, Course.GRAIN, Course.ONE_POT, Course.BREAKFAST, Course.SOUP, Course.SIDE}
)


@dataclass(frozen=True, slots=True)
class _Change:
    """A change to the plan that may mend several gaps: what each person gets more, by nutrient."""

    kind: MendKind
    dish: str
    at: datetime
    meal: Meal
    gains: Mapping[str, Mapping[str, float]]
    bill: Bill
    food: str | None = None
    grams: float = 0.0
    portions: float = 0.0
    times: int = 1


def mends(
    plan: TablePlan,
    book: Book,
    *,
    most: int = 3,
    since: datetime | None = None,
    facts: Facts | None = None,
) -> tuple[Gap, ...]:
    """Every shortfall of the plan with at most so many mends, the largest gap first."""
    known = facts or HouseFacts(book.house, {d.id: d for d in book.dishes}, plan.start)
    return _Mender(plan, book, known, since).gaps(most)


class _Mender:
    def __init__(self, plan: TablePlan, book: Book, facts: Facts, since: datetime | None) -> None:
        self.plan, self.book, self.facts, self.since = plan, book, facts, since
        self.table = Table(plan, book, facts)
        self.larder, self.habits = Larder(plan, book, facts, since=since), Habits(book, facts)
        self.goals = {
            (person.id, goal.tag): replace(goal, amount=goal.amount * plan.days * share)
            for person in book.house.people
            if (share := eaten_here(book.house, plan.sittings, person.id, plan.start, plan.days)) > 0
            for goal in facts.goals(person, plan.start)
            if goal.amount > 0
        }
        self.intake = self.table.intakes()

    def gaps(self, most: int) -> tuple[Gap, ...]:
        short = [(key, self._share(key)) for key, goal in self.goals.items() if goal.floor and self._share(key) < MET]
        changes = [change for change in self._changes() if self._harmless(change)] if short else []
        found = [Gap(who, tag, share, self._best(who, tag, changes, most)) for (who, tag), share in short]
        return tuple(sorted(found, key=lambda gap: (gap.share, gap.person, gap.tag)))

    def _share(self, key: tuple[str, str], more: float = 0.0) -> float:
        return (self.intake[key] + more) / self.goals[key].amount

    def _best(self, who: str, tag: str, changes: list[_Change], most: int) -> tuple[Mend, ...]:
        """The cheapest changes for what they close, each dish once."""
        made = [self._mend(who, tag, change) for change in changes if change.gains.get(who, {}).get(tag, 0.0) > 0]
        good, seen = list[Mend](), set[str]()
        for mend in sorted((m for m in made if m.after - m.before >= 0.01), key=lambda m: (m.coins_per_percent, m.day)):
            if mend.dish not in seen and len(good) < most:
                seen.add(mend.dish)
                good.append(mend)
        return tuple(good)

    def _mend(self, who: str, tag: str, change: _Change) -> Mend:
        gain = change.gains[who][tag]
        return Mend(
            kind=change.kind,
            dish=change.dish,
            day=change.at.date(),
            meal=change.meal,
            before=self._share((who, tag)),
            after=self._share((who, tag), gain),
            cost=change.bill.cost,
            food=change.food,
            grams=change.grams,
            portions=change.portions,
            times=change.times,
            pack=change.bill.offer.pack if change.bill.offer else "",
            packs=change.bill.packs,
        )

    def _harmless(self, change: _Change) -> bool:
        """No ceiling of anybody is overstepped, or overstepped further, by it."""
        for who, tag in self.goals:
            if tag in CEILINGS:
                more = change.gains.get(who, {}).get(tag, 0.0)
                if self._share((who, tag), more) > max(1.0, self._share((who, tag)) + WORSE):
                    return False
        return True

    def _changes(self) -> Iterator[_Change]:
        yield from self._additions()
        yield from self._helpings()
        yield from self._sides()

    def _additions(self) -> Iterator[_Change]:
        """A food into a pot still to be cooked, in two amounts: all that the book would take, and half of it."""
        for batch in self.plan.batches:
            at = self.table.moment(batch.day, batch.meal)
            dish = self.book.dish(batch.dish)
            if dish.batch or self._is_over(batch):
                continue
            for addition in self.habits.additions(dish):
                if not self.table.may_be_served(addition.dish, batch.id):
                    continue
                for share in (1.0, HALF):
                    grams = _rounded(addition.grams * share * batch.portions / dish.portions)
                    bill = self.larder.bill(addition.food, addition.form, grams, at) if grams else None
                    if bill:
                        gains = self._shared_out(batch.id, dish, addition, grams / addition.grams)
                        yield _Change(
                            MendKind.ADD, dish.id, at, batch.meal, gains, bill, food=addition.food, grams=grams
                        )  # fmt: skip

    def _shared_out(self, batch: str, dish: Dish, addition: Addition, times: float) -> dict[str, dict[str, float]]:
        """What each eater of a batch gets more; `times` the addition as it is for the dish as written."""
        before, after = self.facts.nutrients(dish), self.facts.nutrients(addition.dish)
        portions = self.table.portions_of_batch(batch)
        served = sum(self.table.served_of_batch(batch))
        pot = {tag: (after[tag] - before.get(tag, 0.0)) * dish.portions * times for tag in after}
        return {
            who: {tag: amount * eaten / served for tag, amount in pot.items()} for who, eaten in portions.items()
        }  # fmt: skip

    def _helpings(self) -> Iterator[_Change]:
        """Half a portion more for one person, at one sitting or at each that has the dish."""
        by_dish = defaultdict[str, list[tuple[Serving, Bill]]](list)
        for serving in self.plan.servings:
            batch = next((b for b in self.plan.batches if b.id == serving.batch), None)
            dish = self.book.dish(serving.dish)
            if batch is None or dish.course not in _MORE_OF or self._is_over(batch):
                continue
            bill = self._bill(dish, HALF, self.table.moment(batch.day, batch.meal))
            if bill:
                by_dish[dish.id].append((serving, bill))
        for key, served in by_dish.items():
            for person in self.book.house.people:
                mine = [(s, bill) for s, bill in served if person.id in self.table.sittings[s.day, s.meal].eaters]
                for some in (mine[:1], mine) if len(mine) > 1 else (mine,):
                    if some:
                        yield self._helping(self.book.dish(key), person, some)

    def _helping(self, dish: Dish, person: Person, some: list[tuple[Serving, Bill]]) -> _Change:
        first, bill = some[0]
        gain = {tag: HALF * len(some) * amount for tag, amount in self.facts.nutrients(dish).items()}
        return _Change(
            kind=MendKind.HELPING,
            dish=dish.id,
            at=self.table.moment(first.day, first.meal),
            meal=first.meal,
            gains={person.id: gain},
            bill=replace(bill, cost=sum(one.cost for _, one in some)),
            portions=HALF,
            times=len(some),
        )

    def _is_over(self, batch: Batch) -> bool:
        return self.since is not None and self.table.moment(batch.day, batch.meal) < self.since

    def _sides(self) -> Iterator[_Change]:
        """A side dish at a lunch or dinner that has none and leaves the time for it."""
        planned = {s.dish for s in self.plan.servings}
        sides = [d for d in self.book.dishes if d.course is Course.SIDE and d.id not in planned]
        for sitting in self.plan.sittings:
            at = self.table.moment(sitting.day, sitting.meal)
            if not self.table.has_room_for_a_side(sitting) or (self.since is not None and at < self.since):
                continue
            for dish in sides:
                portions = self.table.size(sitting)
                if not self.table.fits(dish, sitting, portions):
                    continue
                bill = self._bill(dish, portions, at)
                if bill:
                    gains = {
                        p.id: self._portion(dish, p) for p in self.table.eaters(sitting.day, sitting.meal)
                    }  # fmt: skip
                    yield _Change(MendKind.SIDE, dish.id, at, sitting.meal, gains, bill, portions=portions)

    def _portion(self, dish: Dish, person: Person) -> dict[str, float]:
        factor = self.facts.portion_factor(person)
        return {tag: amount * factor for tag, amount in self.facts.nutrients(dish).items()}

    def _bill(self, dish: Dish, portions: float, at: datetime) -> Bill | None:
        """What so many portions of a dish cost; None where a food cannot be had. The dearest pack is named."""
        total, named, grams = 0, FREE, defaultdict[tuple[str, str], float](float)
        forms = {str(line.form): line.form for line in dish.lines}
        for line in dish.lines:
            if not line.optional and not line.to_taste and line.grams.mean > 0:
                grams[line.food, str(line.form)] += line.grams.mean * portions / dish.portions
        for (food, form), needed in grams.items():
            bill = self.larder.bill(food, forms[form], needed, at)
            if bill is None:
                return None
            total += bill.cost
            named = max(named, bill, key=lambda one: (one.cost, one.packs))
        return replace(named, cost=total)


def _rounded(grams: float) -> float:
    """As a cook weighs: to 10 g, below 50 g to 5 g."""
    step = 5 if grams < 50 else 10
    return float(step * round(grams / step))
