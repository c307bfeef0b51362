"""Reads a dish's form: each line and step anew every time, so that answering a question is correcting the words.

What is unclear is asked, never guessed; what a cook left alone stays exactly as it was.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

from chauka.errors import InputError
from chauka.kitchen import After, Attention, Book, Course, Dish, Form, Heat, Line, Step, Technique, Vessel
from chauka.reading import FoodMatch, match_food, read_line, read_steps, weigh_line
from chauka.services import dish_particulars, foods, words
from chauka.services.dish_form import DishForm, LineForm, StepForm, drafted_step, line_text, numbers_in
from chauka.units import Span

WATER = "K505"
MOST_MIN = 7 * 24 * 60
MOST_PORTIONS = 500.0
_BY_WEIGHT = frozenset({"gram", "kilogram"})


@dataclass(frozen=True, slots=True)
class Reader:
    """Reads a form: the house's measures, its own names of foods, and the dish of the book that is being changed."""

    book: Book
    own: Mapping[str, str]
    before: Dish | None = None
    _lines: Mapping[str, Line] = field(init=False, repr=False)
    _steps: Mapping[str, Step] = field(init=False, repr=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "_lines", {line.id: line for line in self.before.lines} if self.before else {})
        object.__setattr__(self, "_steps", {step.id: step for step in self.before.steps} if self.before else {})

    def looked_at(self, form: DishForm) -> DishForm:
        """The same form with what each line is read as, what is unclear, and what the words of a step say."""
        lines = tuple(self._look_at_line(one) for one in form.lines)
        steps = tuple(self._look_at_step(one, form) for one in form.steps)
        return replace(form, lines=lines, steps=steps)

    def _look_at_line(self, form: LineForm) -> LineForm:
        try:
            made = self.line(form, "line")
        except InputError as error:
            return replace(form, read_as="", unclear=said_of(error))
        what = foods.name(made.food) if made.made is None else self.book.dish(made.made).name
        read_as = f"{words.weight(made.grams.mean)} {what}, {made.form}"
        return replace(form, read_as=read_as, unclear="")

    def _look_at_step(self, form: StepForm, whole: DishForm) -> StepForm:
        old = self._steps.get(form.origin)
        if old is None or old.text != form.text:
            form = _with_what_it_says(form, whole)
        try:
            self.step(form, "step", [str(n) for n in range(1, len(whole.lines) + 1)])
        except InputError as error:
            return replace(form, unclear=said_of(error))
        return replace(form, unclear="")

    def line(self, form: LineForm, key: str) -> Line:
        """The line that was written; the one of the book where its words are the same."""
        old = self._lines.get(form.origin)
        if old is not None and form.text == line_text(old):
            return old
        if old is None:
            return self._read_line(form.text, key)
        the_same = old.said.casefold() in form.text.casefold()
        if old.made is not None and the_same:
            return replace(self._taken(form.text, old.id, self.book.dish(old.made), old.said), part=old.part)
        read = self._read_line(form.text, key, old.food if the_same else None)
        kept = old.substitutes if old.food == read.food else ()
        return replace(read, id=old.id, part=old.part, substitutes=kept)

    def _read_line(self, text: str, key: str, food: str | None = None) -> Line:
        read = read_line(text)
        if food is None and not self._match(read.food).sure and (part := self._part(read.food)):
            return self._taken(text, key, part, read.food)
        code = food or self._food(read.food)
        weighed = weigh_line(read, code, self.book.house.measures)
        if weighed.grams is None:
            raise InputError({"": (f"How much is it in grams? {weighed.how}.",)})
        return Line(
            id=key,
            food=code,
            said=read.food or text,
            amount=_amount(text, read.food),
            grams=weighed.grams,
            form=weighed.form,
            prep=", ".join(read.form),
            optional=read.optional,
            to_taste=read.to_taste,
            eaten_share=weighed.eaten_share,
        )

    def _match(self, said: str) -> FoodMatch:
        return match_food(said, taught=self.own, frying_fat=self.book.house.frying_fat)

    def _part(self, said: str) -> Dish | None:
        """The dish of the book that is called so, which is then a part of this one."""
        named = said.strip().casefold()
        return next((dish for dish in self.book.dishes if dish.name.casefold() == named), None)

    def _taken(self, text: str, key: str, part: Dish, said: str) -> Line:
        """A line taken from another dish of the book: weighed, as no table knows what a spoon of it weighs."""
        read = read_line(text)
        weighed = weigh_line(read, part.base, self.book.house.measures)
        if weighed.grams is None or read.unit not in _BY_WEIGHT:
            raise InputError({"": (f"How much {part.name} is it in grams? No table knows a spoon or cup of it.",)})
        return Line(
            id=key, food=part.base, said=said, amount=_amount(text, read.food), grams=weighed.grams, form=Form.COOKED,
            prep=", ".join(read.form), optional=read.optional, made=part.id,
        )  # fmt: skip

    def _food(self, said: str) -> str:
        match = self._match(said)
        if match.best is not None and match.sure:
            return match.best.code
        near = ", ".join(foods.name(c.code) for c in match.candidates[:4])
        hint = f" Write one of: {near}." if near else " Write it by another name."
        raise InputError({"": (f"Which food is {said!r}?{hint}",)})

    def step(self, form: StepForm, key: str, line_ids: Sequence[str]) -> Step:
        """The step that was written, with the ids of the lines that it uses; what it waits for is not in it yet."""
        if not form.text.strip():
            raise InputError({"": ("Say what to do.",)})
        uses = numbers_in(form.lines)
        if any(not 1 <= use <= len(line_ids) for use in uses):
            raise InputError({"": (f"It uses a line that is not there; there are {len(line_ids)}.",)})
        try:
            technique = Technique(form.technique)
        except ValueError:
            raise InputError({"": ("What is done in it? Choose one.",)}) from None
        try:
            return Step(
                id=key,
                text=form.text.strip(),
                technique=technique,
                minutes=read_minutes(form.minutes),
                attention=Attention(form.attention or Attention.HANDS_ON),
                vessel=Vessel(form.vessel) if form.vessel else None,
                heat=Heat(form.heat or Heat.NONE),
                lines=tuple(line_ids[use - 1] for use in uses),
                ahead=form.ahead,
                until=form.until.strip(),
                whistles=_whistles(form.whistles),
            )
        except InputError:
            raise
        except ValueError:
            raise InputError({"": ("Choose how it takes the hands, in what, and on which flame.",)}) from None

    def dish(self, form: DishForm, key: str) -> Dish:
        """The dish that the form says. Raises one `InputError` that names each thing still unclear."""
        seen = self.looked_at(form)
        bad = {f"line {n}": (line.unclear,) for n, line in enumerate(seen.lines, 1) if line.unclear}
        bad |= {f"step {n}": (step.unclear,) for n, step in enumerate(seen.steps, 1) if step.unclear}
        bad |= _of_the_whole(form)
        if bad:
            raise InputError(bad)
        lines = self._all_lines(form)
        made = Dish(
            id=key,
            name=form.name.strip(),
            course=Course(form.course),
            base=self._base(lines),
            portions=float(form.portions),
            lines=lines,
            steps=self._all_steps(seen, lines),
        )
        return dish_particulars.with_particulars(made, form.more, self.before)

    def _all_lines(self, form: DishForm) -> tuple[Line, ...]:
        free = _free_ids("line", self._lines)
        return tuple(self.line(one, one.origin if one.origin in self._lines else next(free)) for one in form.lines)

    def _all_steps(self, form: DishForm, lines: Sequence[Line]) -> tuple[Step, ...]:
        free, ids = _free_ids("step", self._steps), [line.id for line in lines]
        made: list[Step] = []
        for one in form.steps:
            old = self._steps.get(one.origin)
            step = self.step(one, old.id if old else next(free), ids)
            made.append(replace(step, after=self._after(old, made)))
        return tuple(made)

    def _after(self, old: Step | None, made: Sequence[Step]) -> tuple[After, ...]:
        """What it waits for: as in the book, as far as that still comes before it; else the step before it."""
        if not made:
            return ()
        before = After(made[-1].id)
        if old is None:
            return (before,)
        there = {step.id for step in made}
        kept = tuple(one for one in old.after if one.step in there)
        new = made[-1].id not in self._steps
        return (*kept, before) if new or (old.after and not kept) else kept

    def _base(self, lines: Sequence[Line]) -> str:
        if self.before and self.before.base in {line.food for line in lines}:
            return self.before.base
        solid = [line for line in lines if line.food != WATER] or list(lines)
        return max(solid, key=lambda line: line.grams.mean).food


def _free_ids(wish: str, taken: Mapping[str, object]) -> Iterator[str]:
    number = 0
    while True:
        number += 1
        if f"{wish}-{number}" not in taken:
            yield f"{wish}-{number}"


def _of_the_whole(form: DishForm) -> dict[str, tuple[str]]:
    bad: dict[str, tuple[str]] = {}
    try:
        Course(form.course)
        right = 0 < float(form.portions) <= MOST_PORTIONS
    except ValueError:
        right = False
    if not form.lines or not form.steps:
        bad["dish"] = ("a dish needs at least one line and one step",)
    elif not right:
        bad["dish"] = ("say what part of a meal it is and for how many",)
    if not form.name.strip():
        bad["name"] = ("what is it called?",)
    return bad


def said_of(error: InputError) -> str:
    return " ".join(complaint for complaints in error.fields.values() for complaint in complaints)


def _with_what_it_says(form: StepForm, whole: DishForm) -> StepForm:
    """The step with its empty fields filled from its own words; where words and field disagree, that is asked."""
    heard = read_steps(form.text, [line.text for line in whole.lines])
    if not heard:
        return form
    read = drafted_step(max(heard, key=lambda step: step.high_min or 0.0))
    asked = tuple(
        f"The words say {said}, the field says {kept}: which holds?"
        for said, kept in ((read.minutes, form.minutes), (read.whistles, form.whistles))
        if len(heard) == 1 and said and kept and said != kept
    )
    lines = form.lines or ", ".join(str(n + 1) for n in sorted({n for step in heard for n in step.lines}))
    return replace(
        form,
        minutes=form.minutes or read.minutes,
        technique=form.technique or read.technique,
        vessel=form.vessel or read.vessel,
        lines=lines,
        until=form.until or read.until,
        whistles=form.whistles or read.whistles,
        asked=asked,
    )


def read_minutes(said: str) -> Span:
    """Minutes of "4", "4-6" or "4 to 6 min"."""
    found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*(?:(?:-|–|to)\s*(\d+(?:\.\d+)?))?\s*(?:min)?\s*", said)
    if found is None or float(found[2] or found[1]) > MOST_MIN or float(found[1]) > MOST_MIN:
        raise InputError({"": ("How many minutes does it take? Write 4, or 4-6.",)})
    low, high = float(found[1]), float(found[2] or found[1])
    return Span(min(low, high), max(low, high))


def _whistles(said: str) -> int | None:
    if not said.strip():
        return None
    if not re.fullmatch(r"\s*\d{1,2}\s*", said):
        raise InputError({"": ("How many whistles? Write a number, or nothing.",)})
    return int(said)


def _amount(text: str, food: str) -> str:
    """What stands before the food, as it was written: `2 tbsp` of `2 tbsp ghee`."""
    at = text.lower().find(food.split(" ", 1)[0].lower()) if food else -1
    return text[:at].strip(" ,") if at > 0 else ""
