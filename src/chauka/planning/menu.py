"""Which dish can be cooked and eaten at which sitting: hard rules by leaving decisions out, each with its reason."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

from chauka.kitchen import Book, Course, Dish, Heat, Line, Lot, Person, RuleKind, Sitting, Vessel
from chauka.planning.amounts import FREE_FOODS, line_need_g
from chauka.planning.facts import Facts
from chauka.planning.mild import SPLIT_MIN, who_eats_mild
from chauka.planning.past import NOTHING_WAS, Past
from chauka.planning.problem import Cooking, Eating, Load, Need, Slot
from chauka.planning.sittings import DAY_BEGINS, NOT_ON_FAST_DAYS, ONION_GARLIC, SMALL, filled_by, moment
from chauka.planning.supply import Supply
from chauka.planning.swaps import one_swap_each, perishable_lot, with_what_there_is
from chauka.planning.work import Helping, ahead_hands_on, hands_on, helpings, lead_min

WARM_UP_MIN, SERVE_KEPT_MIN = 4, 1
"""Hands-on minutes to warm up a leftover, and to put a made-ahead side on the table; our own estimate."""

DAYS_BETWEEN = 5
"""A dish comes at most once in so many days; bread, rice, drinks and what is tagged "everyday" may come daily."""

FEWEST_WINDOW_MIN = 60
SESSION_PER_HANDS_ON = 1.5
"""A cooking session runs half as long again as the hands that are on it; our own estimate."""

_MANY = (Vessel.BOWL, Vessel.BOX, Vessel.LADLE)


class Ground(StrEnum):
    """The kinds of rules that leave a decision out."""

    DAY = "day rule"
    ALLERGY = "allergy"
    MINUTES = "minutes"
    LEAD = "begun before"
    REST = "had lately"
    VESSEL = "vessel"
    FOOD = "food"


@dataclass(frozen=True, slots=True)
class Exclusion:
    """Why a dish cannot be cooked at a sitting: the rule, in words that name the thing."""

    dish: str
    slot: int
    ground: Ground
    rule: str


Why = tuple[Ground, str]


@dataclass(frozen=True, slots=True)
class Menu:
    """The decisions, and why the others are left out."""

    cookings: tuple[Cooking, ...]
    eatings: tuple[Eating, ...]
    loads: tuple[Load, ...]
    exclusions: tuple[Exclusion, ...]
    helpings: tuple[Helping, ...]
    lots: Mapping[int, Lot]
    broken: Mapping[int, frozenset[Ground]]


class MenuBuilder:
    """Goes through dishes × sittings once."""

    def __init__(
        self,
        book: Book,
        sittings: Sequence[Sitting],
        slots: Sequence[Slot],
        supplied: Supply,
        facts: Facts,
        *,
        past: Past = NOTHING_WAS,
        swappable: frozenset[str] = frozenset(),
        without: frozenset[Ground] = frozenset(),
    ) -> None:
        self.book, self.sittings, self.slots, self.supplied, self.facts = book, sittings, slots, supplied, facts
        self.past, self.begun, self.swappable = past, past.begun, swappable
        self.moments = [moment(s) for s in sittings]
        first = datetime.combine(sittings[0].day, DAY_BEGINS)
        self.begins = max(first, past.since or first)
        self.cookings, self.eatings = list[Cooking](), list[Eating]()
        self.loads = dict[tuple[int, str], list[tuple[int, int]]]()
        self.helpings = list[Helping]()
        self.exclusions, self.lots = list[Exclusion](), dict[int, Lot]()
        self.without, self.broken = without, dict[int, frozenset[Ground]]()

    def menu(self) -> Menu:
        """All decisions: each dish as it is, then with one food swapped where that is called for."""
        for helping in helpings(self.book):
            self._add_helping(with_what_there_is(helping, self.supplied), range(len(self.slots)))
        for helping in tuple(self.helpings):
            for line, substitute, swapped in one_swap_each(helping, self.supplied):
                slots = [s for s in range(len(self.slots)) if self._calls_for(line, substitute.food, s)]
                if slots:
                    self._add_helping(swapped, slots)
        for lot in self.book.lots:
            if lot.dish:
                self._add_ready(lot)
        return Menu(
            tuple(self.cookings),
            tuple(self.eatings),
            tuple(
                Load(name, s, self._capacity(name, s), tuple(uses)) for (s, name), uses in sorted(self.loads.items())
            ),
            tuple(self.exclusions),
            tuple(self.helpings),
            self.lots,
            self.broken,
        )

    def _add_helping(self, helping: Helping, slots: Iterable[int]) -> None:
        """A dish at each of the slots where no rule forbids it."""
        r, dish = len(self.helpings), helping.dish
        lines, lacking = self._lines(helping.dish)
        self.helpings.append(helping)
        for s in slots:
            if filled_by(dish, self.slots[s].places):
                why = [*lacking, *self._why_not_eat(dish, s), *self._why_not_cook(helping, s, lines)]
                self.exclusions.extend(Exclusion(dish.id, s, *one) for one in why)
                broken = frozenset(ground for ground, _ in why)
                if broken <= self.without:
                    c = self._add(r, helping, s, lines)
                    self.broken.update({c: broken} if c is not None and broken else {})

    def _calls_for(self, line: Line, food: str, s: int) -> bool:
        """Whether a line is cooked with another food: its own is not to be had then, or the other would go off.

        Foods in `swappable` may always be swapped.
        """
        own, other = (self.supplied.item_of.get((f, line.form)) for f in (line.food, food))
        if other is None or not self._living(other, s):
            return False
        missing = own is None or not self._living(own, s)
        return missing or line.food in self.swappable or perishable_lot(other, s, self.supplied)

    def _lines(self, dish: Dish) -> tuple[tuple[tuple[Line, int, float], ...], list[Why]]:
        """(line, item, grams as bought) of a dish; and which foods are lacking.

        Optional lines are not planned for: they take what is there.
        """
        out, lacking = list[tuple[Line, int, float]](), list[Why]()
        for line in dish.lines:
            if line.food in FREE_FOODS or line.grams.mean <= 0 or line.optional:
                continue
            item = self.supplied.item_of.get((line.food, line.form))
            if item is not None and self.supplied.has(item):
                out.append((line, item, line_need_g(line, self.facts.traits(line.food))))
            elif not line.to_taste:
                lacking.append((Ground.FOOD, f"{line.said} is neither in the house nor on sale"))
        return tuple(out), lacking[:1]

    def _why_not_eat(self, dish: Dish, s: int) -> list[Why]:
        sitting, out = self.sittings[s], list[Why]()
        traits = {t: line for line in dish.lines if not line.optional for t in self.facts.traits(line.food)}
        if RuleKind.NO_ONION_GARLIC in sitting.rules and ONION_GARLIC in traits:
            out.append((Ground.DAY, f"the day is without onion and garlic, and it takes {traits[ONION_GARLIC].said}"))
        if RuleKind.FAST in sitting.rules and NOT_ON_FAST_DAYS & set(traits):
            line = traits[min(NOT_ON_FAST_DAYS & set(traits))]
            out.append((Ground.DAY, f"it is a fast day, and it takes {line.said}"))
        allergens = self.facts.allergens(dish)
        for person in self._eaters(sitting):
            out.extend(
                (Ground.ALLERGY, f"{person.name} is allergic to {one}") for one in sorted(person.allergies & allergens)
            )
        return out

    def _why_not_cook(self, helping: Helping, s: int, lines: tuple[tuple[Line, int, float], ...]) -> list[Why]:
        sitting, slot, dish, out = self.sittings[s], self.slots[s], helping.dish, list[Why]()
        minutes = self._minutes(helping, s)
        if minutes > slot.minutes:
            out.append((Ground.MINUTES, f"it takes {minutes} hands-on minutes, {slot.minutes} are there"))
        lead = timedelta(minutes=lead_min(dish))
        begun = (sitting.day, sitting.meal, dish.id) in self.begun
        if lead and self.moments[s] - lead < self.begins and not begun:
            out.append((Ground.LEAD, f"it has to be begun {lead_min(dish) / 60:.0f} hours before"))
        last = self.past.cooked.get(dish.id)
        if last and not begun and not comes_daily(dish) and (sitting.day - last).days < DAYS_BETWEEN:
            out.append((Ground.REST, f"it was cooked on {last:%A}"))
        needed = sorted({step.vessel for step in dish.steps if step.vessel and step.vessel not in _MANY})
        lacks = [v for v in needed if self.book.house.vessel_count(v) == 0]
        out.extend((Ground.VESSEL, f"the house has no {v}") for v in lacks)
        out.extend(self._why_no_food(lines, s, sitting))
        return out

    def _why_no_food(self, lines: tuple[tuple[Line, int, float], ...], s: int, sitting: Sitting) -> list[Why]:
        for line, item, _ in lines:
            if line.to_taste:
                continue
            if not self._living(item, s):
                return [(Ground.FOOD, f"no fresh {line.said} can be had on {sitting.day:%A}")]
        return []

    def _living(self, item: int, s: int) -> bool:
        return any(item in x.items and x.first <= s <= x.last for x in self.supplied.sources)

    def _add(self, r: int, helping: Helping, s: int, lines: tuple[tuple[Line, int, float], ...]) -> int | None:
        """The number of the cooking; None where another sitting of the day is the one to make it ahead."""
        dish = helping.dish
        if dish.batch and not self._is_longest_of_day(s):
            return None
        needs, ahead_lines = list[Need](), {k for step in dish.steps if step.ahead for k in step.lines}
        before = self._slot_before(s, lead_min(dish)) if ahead_lines else s
        for line, item, grams in lines:
            at = before if line.id in ahead_lines and self._living(item, before) else s
            if self._living(item, at):
                needs.append(Need(item, at, max(1, round(1000 * grams * helping.count / dish.portions))))
        c = len(self.cookings)
        minutes = self._minutes(helping, s)
        self.cookings.append(Cooking(r, s, minutes, _merged(needs), ahead_hands_on(dish)))
        self._add_loads(dish, s, c)
        self._eat(c, helping, s, s, fresh=True)
        life = timedelta(days=self.facts.dish_life_days(dish))
        for t in range(s + 1, len(self.slots)):
            if self.moments[t] <= self.moments[s] + life and self._keeps_for(dish, s, t):
                self._eat(c, helping, s, t, fresh=False)
        return c

    def _eat(self, c: int, helping: Helping, s: int, t: int, *, fresh: bool) -> None:
        dish, places = helping.dish, filled_by(helping.dish, self.slots[t].places)
        liking = self.liking_cost(dish, t)
        if fresh:
            self.eatings.append(Eating(c, t, places, liking))
            return
        if dish.batch:
            self.eatings.append(Eating(c, t, places, liking, SERVE_KEPT_MIN))
            return
        again = len(places) * self.book.house.weights.dislike_point * len(self.slots[t].eaters)
        one = helping.count * self.slots[s].portions / 100
        both = one + helping.count * self.slots[t].portions / 100
        more = hands_on(dish, both) - hands_on(dish, one)
        self.eatings.append(Eating(c, t, places, liking + again, WARM_UP_MIN, more))

    def _keeps_for(self, dish: Dish, s: int, t: int) -> bool:
        """Whether a leftover is wanted: made-ahead sides at any sitting, a main dish the next day or after."""
        if not filled_by(dish, self.slots[t].places) or self._why_not_eat(dish, t):
            return False
        if dish.batch:
            return True
        cooked_for_later = dish.course not in (Course.GRAIN, Course.BREAKFAST, *SMALL)
        return cooked_for_later and self.slots[t].day > self.slots[s].day

    def _add_ready(self, lot: Lot) -> None:
        dish = self.book.dish(lot.dish or "")
        ready = round(100 * lot.grams / self.facts.portion_g(dish))
        use_by = self.facts.lot_use_by(lot)
        fit = [
            t
            for t in range(len(self.slots))
            if max(lot.since, self.begins) <= self.moments[t] <= use_by
            and filled_by(dish, self.slots[t].places)
            and not self._why_not_eat(dish, t)
            and self.slots[t].portions <= ready
        ]
        if not fit:
            return
        c = len(self.cookings)
        self.lots[c] = lot
        recipe = next(r for r, h in enumerate(self.helpings) if h.dish.id == dish.id and h.count == 1)
        self.cookings.append(Cooking(recipe, -1, 0, (), ready=ready, worth=lot.cost or 0))
        for t in fit:
            minutes = SERVE_KEPT_MIN if dish.batch else WARM_UP_MIN
            self.eatings.append(Eating(c, t, filled_by(dish, self.slots[t].places), self.liking_cost(dish, t), minutes))

    def liking_cost(self, dish: Dish, s: int) -> int:
        """Points of liking below 5 that a serving gives away, in coins.

        Small dishes count half, and a one-pot counts for every position that it fills.
        """
        sitting = self.sittings[s]
        points = sum(5 - self._likes(person, dish) for person in self._eaters(sitting)) + 2 * sitting.guests
        in_season = self.facts.season_points(dish.base, sitting.day.month) * len(sitting.eaters)
        coins = round((points + in_season) * self.book.house.weights.dislike_point)
        if dish.course in SMALL:
            return coins // 2
        return coins * max(1, len(filled_by(dish, self.slots[s].places)))

    def _likes(self, person: Person, dish: Dish) -> int:
        if person.aversions & {line.food for line in dish.lines if not line.optional}:
            return 1
        mild = bool(who_eats_mild(dish, (person,), self.facts.is_hot))
        return max(1, person.liking.get(dish.id, 3) - (0 if mild else max(0, dish.chilli - person.chilli)))

    def _minutes(self, helping: Helping, s: int) -> int:
        """Hands-on minutes of a cooking, with those for a part served mild."""
        mild = who_eats_mild(helping.dish, self._eaters(self.sittings[s]), self.facts.is_hot)
        return hands_on(helping.dish, helping.count * self.slots[s].portions / 100) + (SPLIT_MIN if mild else 0)

    def _eaters(self, sitting: Sitting) -> list[Person]:
        return [self.book.house.person(p) for p in sitting.eaters]

    def _slot_before(self, s: int, minutes: float) -> int:
        latest = self.moments[s] - timedelta(minutes=minutes)
        return max((t for t in range(s + 1) if self.moments[t] <= latest), default=0)

    def _is_longest_of_day(self, s: int) -> bool:
        return s == max(
            (t for t, x in enumerate(self.slots) if x.day == self.slots[s].day),
            key=lambda t: (self.slots[t].minutes, t),
        )

    def _window(self, s: int) -> int:
        return max(FEWEST_WINDOW_MIN, round(SESSION_PER_HANDS_ON * self.slots[s].minutes))

    def _capacity(self, name: str, s: int) -> int:
        house = self.book.house
        count = house.burners if name == "burner" else house.vessel_count(Vessel(name))
        return count * self._window(s)

    def _add_loads(self, dish: Dish, s: int, c: int) -> None:
        busy = dict[str, float]()
        for step in dish.steps:
            if step.ahead:
                continue
            if step.vessel and step.vessel not in _MANY:
                busy[step.vessel] = busy.get(step.vessel, 0.0) + step.minutes.mid
            if step.heat is not Heat.NONE:
                busy["burner"] = busy.get("burner", 0.0) + step.minutes.mid
        for name, minutes in busy.items():
            self.loads.setdefault((s, name), []).append((c, min(self._window(s), round(minutes))))


def comes_daily(dish: Dish) -> bool:
    """Whether nobody minds a dish every day."""
    return dish.course in (Course.GRAIN, Course.DRINK) or "everyday" in dish.tags


def _merged(needs: Sequence[Need]) -> tuple[Need, ...]:
    total = dict[tuple[int, int], int]()
    for need in needs:
        key = (need.item, need.slot)
        total[key] = total.get(key, 0) + need.mg
    return tuple(Need(item, slot, mg) for (item, slot), mg in sorted(total.items()))
