"""What the dish book itself puts together: which food could go into which dish, and how much of it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace

from chauka.kitchen import Book, Course, Dish, Form, Line
from chauka.planning.amounts import FREE_FOODS
from chauka.planning.facts import Facts

MAIN_G = 10.0
"""From this weight a portion on, a line is a food of the dish and not a seasoning; our own choice."""

MILD_SHARE = 0.5
"""So much of the most that the book ever takes may be added to a dish that was written without it."""

LARGEST_SHARE = 0.25
"""A dish grows at most by this share of the food that is in it."""

_SOAKED_FIRST = frozenset({"pulse", "grain"})
"""Traits of foods that do not simply join a dish that is already cooking."""

_TAKES_OTHERS = frozenset({Course.PULSE, Course.VEGETABLE, Course.ONE_POT, Course.SOUP, Course.SIDE})
"""Courses into which more food may go; of bread, rice, porridge and sweets somebody takes more instead."""


@dataclass(frozen=True, slots=True)
class Addition:
    """So many grams of a food more in a dish as written, and the dish as it would then be."""

    food: str
    form: Form
    grams: float
    dish: Dish


class Habits:
    """The habits of one dish book."""

    def __init__(self, book: Book, facts: Facts) -> None:
        self.facts = facts
        self.most = defaultdict[tuple[Course, str], float](float)
        self.line = dict[tuple[Course, str], Line]()
        self.beside = defaultdict[tuple[Course, str], set[str]](set)
        for dish in book.dishes:
            mains = _mains(dish)
            for food, (line, grams) in mains.items():
                key = (dish.course, food)
                self.beside[key] |= set(mains) - {food}
                if grams > self.most[key]:
                    self.most[key], self.line[key] = grams, line

    def additions(self, dish: Dish) -> Iterator[Addition]:
        """Foods that may go into a dish: more of its own, or one that the book puts beside them in that course."""
        if dish.course not in _TAKES_OTHERS:
            return
        mains = _mains(dish)
        room = LARGEST_SHARE * sum(grams for _, grams in mains.values())
        for (course, food), most in sorted(self.most.items()):
            if course is not dish.course or not self.facts.is_plain_food(food):
                continue
            if food in mains:
                line, has = mains[food]
                grams = min(room, most - has) * dish.portions
                if grams > 0:
                    yield Addition(food, line.form, grams, _with_more(dish, line, grams))
            elif self.beside[course, food] & set(mains) and not self.facts.traits(food) & _SOAKED_FIRST:
                pattern = self.line[course, food]
                grams = min(room, MILD_SHARE * most) * dish.portions
                yield Addition(food, pattern.form, grams, _with_new(dish, pattern, grams))


def _mains(dish: Dish) -> dict[str, tuple[Line, float]]:
    """The foods of a dish that are more than a seasoning, each with a line and its grams a portion."""
    grams, lines = defaultdict[str, float](float), dict[str, Line]()
    for line in dish.lines:
        if not line.optional:
            grams[line.food] += line.grams.mean * line.eaten_share / dish.portions
            lines.setdefault(line.food, line)
    return {f: (lines[f], total) for f, total in grams.items() if total >= MAIN_G and f not in FREE_FOODS}


def _with_more(dish: Dish, line: Line, grams: float) -> Dish:
    more = replace(line, grams=replace(line.grams, mean=line.grams.mean + grams))
    return replace(dish, lines=tuple(more if one.id == line.id else one for one in dish.lines), yield_g=None)


def _with_new(dish: Dish, pattern: Line, grams: float) -> Dish:
    """The dish with another line, which goes in where the dish's own base does (else in the last step that cooks)."""
    line = replace(pattern, id="added", grams=replace(pattern.grams, mean=grams), substitutes=(), optional=False)
    base = {one.id for one in dish.lines if one.food == dish.base}
    cooking = [step.id for step in dish.steps if step.technique.cooks]
    at = [step.id for step in dish.steps if base & set(step.lines)] or cooking[-1:]
    steps = tuple(replace(s, lines=(*s.lines, line.id)) if s.id in at else s for s in dish.steps)
    return replace(dish, lines=(*dish.lines, line), steps=steps, yield_g=None)
