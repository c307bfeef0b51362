"""Book + first day + number of days → the planning problem, and the way back from its indices."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from chauka.errors import Complaints
from chauka.kitchen import Book, Course, Dish, Person, Serving, Sitting, TablePlan, sittings
from chauka.planning.facts import CEILINGS, FLOORS, Facts
from chauka.planning.menu import Menu, MenuBuilder
from chauka.planning.problem import Among, Limit, Problem, Recipe, Slot, Target, Wish
from chauka.planning.rules import base_once_a_day, not_running, once_in_days, with_most_packs
from chauka.planning.sittings import moment, positions
from chauka.planning.supply import Supply, supply

DAYS_BETWEEN = 5
"""A dish comes at most once in so many days; bread, rice, drinks and what is tagged "everyday" may come daily."""

LEAFY_A_WEEK = 3
SWEETS_A_WEEK = 2
GLUT_OF_ONE_DISH = 1.5
"""A lot of fresh food is a glut when it holds more than this many times what one dish takes of it."""

_MEAL_SHARE = {"breakfast": 0.25, "lunch": 0.35, "dinner": 0.40}
"""Share of the day's nutrients that a meal stands for when somebody is away; our own estimate."""

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

    def dish(self, recipe: int) -> Dish:
        """The dish of a recipe."""
        return self.book.dishes[recipe]


def build(
    book: Book,
    start: date,
    days: int,
    facts: Facts,
    *,
    previous: TablePlan | None = None,
    locked: Sequence[Serving] = (),
) -> Built:
    """Everything the model needs, in integers."""
    held = tuple(s for s in sittings(book.house, start, days) if s.eaters or s.guests)
    _check(book, held, days)
    slots = tuple(_slot(book, start, s, facts) for s in held)
    supplied = supply(book, start, days, [moment(s) for s in held], facts)
    menu = MenuBuilder(book, held, slots, supplied, facts).menu()
    problem = Problem(
        slots=slots,
        items=supplied.items,
        sources=supplied.sources,
        recipes=tuple(_recipe(d, facts) for d in book.dishes),
        cookings=menu.cookings,
        eatings=menu.eatings,
        nutrients=_TAGS,
        eaters=tuple(p.id for p in book.house.people),
        targets=tuple(_targets(book, held, start, days, facts)),
        limits=tuple(_limits(book, slots, menu, supplied, days)),
        among=tuple(_variety(book, slots, menu, supplied, days, facts)),
        loads=menu.loads,
        wishes=tuple(_wishes(book, held, previous, locked)),
        budget=None if book.house.weekly_budget is None else book.house.weekly_budget * days // 7,
        minute_cost=book.house.weights.minute,
        waste_percent=round(100 * book.house.weights.waste_per_coin),
    )
    return Built(with_most_packs(problem), book, start, days, held, supplied, menu)


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


def _recipe(dish: Dish, facts: Facts) -> Recipe:
    nutrients = facts.nutrients(dish)
    content = tuple(round(1000 * nutrients.get(tag, 0.0)) for tag in _TAGS)
    return Recipe(dish.id, content, most_servings=8 if dish.batch else 2, ahead=dish.batch)


def _targets(book: Book, held: Sequence[Sitting], start: date, days: int, facts: Facts) -> Iterator[Target]:
    weights = book.house.weights
    for p, person in enumerate(book.house.people):
        share = _eaten_here(book, held, person, start, days)
        portion = round(100 * facts.portion_factor(person))
        for goal in facts.goals(person, start):
            amount = round(1000 * goal.amount * days * share)
            if amount > 0 and goal.tag in _TAGS:
                weight = weights.shortfall_percent if goal.floor else weights.excess_percent
                yield Target(p, _TAGS.index(goal.tag), amount, portion, goal.floor, weight)


def _eaten_here(book: Book, held: Sequence[Sitting], person: Person, start: date, days: int) -> float:
    """Share of the horizon's food that a person gets at this table."""
    here = {(s.day, s.meal) for s in held if person.id in s.eaters}
    all_days = [start + timedelta(days=k) for k in range(days)]
    times = {(d, m.meal) for d in all_days for m in book.house.meal_times if m.weekday == d.weekday()}
    whole = sum(_MEAL_SHARE[meal] for _, meal in times)
    return sum(_MEAL_SHARE[meal] for _, meal in here) / whole if whole else 0.0


def _limits(book: Book, slots: Sequence[Slot], menu: Menu, supplied: Supply, days: int) -> Iterator[Limit]:
    daily = frozenset(
        r for r, d in enumerate(book.dishes) if d.course in (Course.GRAIN, Course.DRINK) or "everyday" in d.tags
    )
    yield from once_in_days(slots, menu.cookings, DAYS_BETWEEN, daily)
    bases = {r: d.base for r, d in enumerate(book.dishes) if d.course not in (Course.DRINK, Course.SWEET)}
    repeat = book.house.weights.repeat
    yield from base_once_a_day(slots, menu.cookings, menu.eatings, bases, repeat)
    sweets = tuple(
        e
        for e, eating in enumerate(menu.eatings)
        if book.dishes[menu.cookings[eating.cooking].recipe].course is Course.SWEET
    )
    if sweets:
        yield Limit("sweets", max(1, SWEETS_A_WEEK * days // 7), eatings=sweets, weight=repeat)
    for name, recipes in _gluts(menu, supplied, slots):
        yield from not_running(slots, menu.cookings, recipes, 3, repeat, f"glut of {name}")


def _variety(
    book: Book, slots: Sequence[Slot], menu: Menu, supplied: Supply, days: int, facts: Facts
) -> Iterator[Among]:
    repeat = book.house.weights.repeat
    leaves = defaultdict[str, list[int]](list)
    for c, cooking in enumerate(menu.cookings):
        for line in book.dishes[cooking.recipe].lines:
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
    book: Book, held: Sequence[Sitting], previous: TablePlan | None, locked: Sequence[Serving]
) -> Iterator[Wish]:
    slot_of = {(s.day, s.meal): k for k, s in enumerate(held)}
    recipe_of = {d.id: r for r, d in enumerate(book.dishes)}
    fixed = {
        (slot_of[s.day, s.meal], recipe_of[s.dish])
        for s in locked
        if (s.day, s.meal) in slot_of and s.dish in recipe_of
    }
    for slot, recipe in sorted(fixed):
        yield Wish(slot, recipe, None)
    for serving in previous.servings if previous else ():
        key = (slot_of.get((serving.day, serving.meal)), recipe_of.get(serving.dish))
        if key[0] is not None and key[1] is not None and key not in fixed:
            yield Wish(key[0], key[1], book.house.weights.change)
