"""Book + first day + number of days → the planning problem, and the way back from its indices."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date

from chauka.errors import Complaints
from chauka.kitchen import Book, Course, Dish, Serving, Sitting, TablePlan, sittings
from chauka.planning.facts import CEILINGS, FLOORS, Facts
from chauka.planning.menu import DAYS_BETWEEN, Ground, Menu, MenuBuilder, comes_daily
from chauka.planning.mild import who_eats_mild
from chauka.planning.past import NOTHING_WAS, Past
from chauka.planning.problem import Among, Limit, Problem, Recipe, Slot, Target, Wish
from chauka.planning.rules import base_once_a_day, not_running, once_in_days, with_most_packs
from chauka.planning.sittings import eaten_here, moment, positions
from chauka.planning.supply import Supply, supply
from chauka.planning.work import Helping

LEAFY_A_WEEK = 3
SWEETS_A_WEEK = 2
GLUT_OF_ONE_DISH = 1.5
"""A lot of fresh food is a glut when it holds more than this many times what one dish takes of it."""

ENERGY_TIMES = 5
"""Energy counts this many times a nutrient: who gets up hungry was not fed. Our own estimate."""

_TAGS = (*FLOORS, *CEILINGS)


@dataclass(frozen=True, slots=True)
class Built:
    """A problem and what its indices stand for."""

    problem: Problem
    book: Book
    start: date
    days: int
    sittings: tuple[Sitting, ...]
    supply: Supply
    menu: Menu
    facts: Facts

    def mild(self, dish: Dish, slot: int) -> tuple[str, ...]:
        """Who is served a dish without its heat at a slot."""
        people = [self.book.house.person(p) for p in self.sittings[slot].eaters]
        return who_eats_mild(dish, people, self.facts.is_hot)

    def dish(self, recipe: int) -> Dish:
        """The dish of a recipe."""
        return self.menu.helpings[recipe].dish


def build(
    book: Book,
    start: date,
    days: int,
    facts: Facts,
    *,
    past: Past = NOTHING_WAS,
    locked: Sequence[Serving] = (),
    swappable: frozenset[str] = frozenset(),
    without: frozenset[Ground] = frozenset(),
) -> Built:
    """Everything the model needs, in integers.

    Foods in `swappable` may be replaced though they are there; what only breaks the rules in `without` is
    let in, and `Menu.broken` tells it.
    """
    laid = (s for s in sittings(book.house, start, days) if s.eaters or s.guests)
    held = tuple(s for s in laid if not past.over(s))
    _check(book, held, days)
    slots = tuple(_slot(book, start, s, facts) for s in held)
    supplied = supply(book, start, days, [moment(s) for s in held], facts)
    menu = MenuBuilder(book, held, slots, supplied, facts, past=past, swappable=swappable, without=without).menu()
    problem = Problem(
        slots=slots,
        items=supplied.items,
        sources=supplied.sources,
        recipes=tuple(_recipe(h, facts) for h in menu.helpings),
        cookings=menu.cookings,
        eatings=menu.eatings,
        nutrients=_TAGS,
        eaters=tuple(p.id for p in book.house.people),
        targets=tuple(_targets(book, held, start, days, facts)),
        limits=tuple(_limits(book, slots, menu, supplied, days)),
        among=tuple(_variety(slots, menu, supplied, days=days, repeat=book.house.weights.repeat, facts=facts)),
        loads=menu.loads,
        wishes=tuple(_wishes(held, menu, book.house.weights.change, past.previous, locked)),
        budget=None if book.house.weekly_budget is None else book.house.weekly_budget * days // 7,
        minute_cost=book.house.weights.minute,
        waste_percent=round(100 * book.house.weights.waste_per_coin),
    )
    return Built(with_most_packs(problem), book, start, days, held, supplied, menu, facts)


def _check(book: Book, held: Sequence[Sitting], days: int) -> None:
    bad = Complaints("plan")
    bad.check(days >= 1, "days", f"{days} is too few; plan at least one day")
    bad.check(days <= 35, "days", f"{days} is too many; plan five weeks at most")
    bad.check(
        bool(held) or days < 1,
        "sittings",
        f"{book.house.name} has no meal times with somebody at the table in these days; enter when the house eats",
    )
    bad.raise_if_any()


def _slot(book: Book, start: date, sitting: Sitting, facts: Facts) -> Slot:
    people = [p.id for p in book.house.people]
    portions = sum(facts.portion_factor(book.house.person(p)) for p in sitting.eaters) + sitting.guests
    return Slot(
        name=sitting.key,
        day=(sitting.day - start).days,
        minutes=sitting.hands_on_min,
        portions=round(100 * portions),
        places=positions(sitting, book.house),
        eaters=tuple(people.index(p) for p in sitting.eaters),
    )


def _recipe(helping: Helping, facts: Facts) -> Recipe:
    dish = helping.dish
    nutrients = facts.nutrients(dish)
    content = tuple(round(1000 * helping.count * nutrients.get(tag, 0.0)) for tag in _TAGS)
    return Recipe(dish.id, content, most_servings=8 if dish.batch else 2, ahead=dish.batch)


def _targets(book: Book, held: Sequence[Sitting], start: date, days: int, facts: Facts) -> Iterator[Target]:
    weights = book.house.weights
    for p, person in enumerate(book.house.people):
        share = eaten_here(book.house, held, person.id, start, days)
        portion = round(100 * facts.portion_factor(person))
        for goal in facts.goals(person, start):
            amount = round(1000 * goal.amount * days * share)
            if amount > 0 and goal.tag in _TAGS:
                weight = weights.shortfall_percent if goal.floor else weights.excess_percent
                weight *= ENERGY_TIMES if goal.tag == "ENERC_KCAL" else 1
                yield Target(p, _TAGS.index(goal.tag), amount, portion, goal.floor, weight)


def _limits(book: Book, slots: Sequence[Slot], menu: Menu, supplied: Supply, days: int) -> Iterator[Limit]:
    dishes = [h.dish for h in menu.helpings]
    daily = frozenset(r for r, d in enumerate(dishes) if comes_daily(d))
    number = {d.id: k for k, d in enumerate(book.dishes)}
    same = {r: number[d.id] for r, d in enumerate(dishes)}
    yield from once_in_days(slots, menu.cookings, days=DAYS_BETWEEN, exempt=daily, same=same)
    bases = {r: d.base for r, d in enumerate(dishes) if d.course not in (Course.DRINK, Course.SWEET)}
    repeat = book.house.weights.repeat
    yield from base_once_a_day(slots, menu.cookings, menu.eatings, bases, repeat)
    sweets = tuple(
        e
        for e, eating in enumerate(menu.eatings)
        if dishes[menu.cookings[eating.cooking].recipe].course is Course.SWEET
    )
    if sweets:
        yield Limit("sweets", max(1, SWEETS_A_WEEK * days // 7), eatings=sweets, weight=repeat)
    for name, recipes in _gluts(menu, supplied, slots):
        yield from not_running(slots, menu.cookings, recipes, days=3, weight=repeat, name=f"glut of {name}")


def _variety(
    slots: Sequence[Slot], menu: Menu, supplied: Supply, *, days: int, repeat: int, facts: Facts
) -> Iterator[Among]:
    leaves = defaultdict[str, list[int]](list)
    for c, cooking in enumerate(menu.cookings):
        for line in menu.helpings[cooking.recipe].dish.lines:
            if not line.optional and line.grams.mean >= 50 and "leafy_green" in facts.traits(line.food):
                leaves[line.food].append(c)
    wanted = min(LEAFY_A_WEEK * days // 7, len(leaves))
    if wanted:
        yield Among("leafy greens", wanted, tuple(tuple(leaves[k]) for k in sorted(leaves)), repeat)
    for name, recipes in _gluts(menu, supplied, slots):
        groups = tuple(tuple(c for c, k in enumerate(menu.cookings) if k.recipe == r) for r in sorted(recipes))
        if len(groups) > 1:
            yield Among(f"glut of {name}", 2, groups, repeat)


def _gluts(menu: Menu, supplied: Supply, slots: Sequence[Slot]) -> Iterator[tuple[str, frozenset[int]]]:
    """Fresh lots that hold more than one dish takes, with the dishes that could use them."""
    for source, origin in zip(supplied.sources, supplied.origins, strict=True):
        if origin.lot is None or source.carry:
            continue
        users, most = set[int](), 0.0
        for cooking in menu.cookings:
            for need in cooking.needs:
                if need.item in source.items and source.first <= need.slot <= source.last and cooking.slot >= 0:
                    users.add(cooking.recipe)
                    most = max(most, need.mg * slots[cooking.slot].portions / 100)
        if most and source.pack_mg > GLUT_OF_ONE_DISH * most:
            yield source.name, frozenset(users)


def _wishes(
    held: Sequence[Sitting],
    menu: Menu,
    weight: int,
    previous: TablePlan | None,
    locked: Sequence[Serving],
) -> Iterator[Wish]:
    slot_of = {(s.day, s.meal): k for k, s in enumerate(held)}
    recipes_of = defaultdict[str, list[int]](list)
    for r, helping in enumerate(menu.helpings):
        recipes_of[helping.dish.id].append(r)
    wanted = dict[tuple[int, str], int | None]()
    for serving in previous.servings if previous else ():
        if (serving.day, serving.meal) in slot_of and serving.dish in recipes_of:
            wanted[slot_of[serving.day, serving.meal], serving.dish] = weight
    for serving in locked:
        if (serving.day, serving.meal) in slot_of:
            wanted[slot_of[serving.day, serving.meal], serving.dish] = None
    for (slot, dish), cost in sorted(wanted.items()):
        yield Wish(slot, tuple(recipes_of[dish]), cost)
