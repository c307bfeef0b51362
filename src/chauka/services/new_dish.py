"""A dish of one's own: any text of it → a form with the editor's questions → a dish in the book.

The form is plain text per line and step, read anew each time, so that answering a question is
correcting the words. What is unclear is asked, never guessed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime

from chauka.errors import InputError
from chauka.kitchen import After, Attention, Book, Course, Dish, Heat, Line, Step, Technique, Vessel
from chauka.reading import Draft, DraftLine, DraftStep, match_food, read_dish, read_line, weigh_line
from chauka.services import foods, taught, words
from chauka.store import books, ledger
from chauka.store.models import Household
from chauka.units import Span

WATER = "K505"


@dataclass(frozen=True, slots=True)
class LineForm:
    """One ingredient line as written, what it was read as, and what is unclear about it."""

    text: str
    read_as: str = ""
    unclear: str = ""


@dataclass(frozen=True, slots=True)
class StepForm:
    """One step: its words, minutes "4" or "4-6", and the rest by name; `lines` are line numbers, from 1."""

    text: str
    minutes: str = ""
    technique: str = ""
    attention: str = ""
    vessel: str = ""
    heat: str = ""
    lines: str = ""
    ahead: bool = False
    unclear: str = ""


@dataclass(frozen=True, slots=True)
class DishForm:
    """A dish being written. `questions` are what a careful editor would ask about the text."""

    name: str = ""
    course: str = ""
    portions: str = ""
    lines: tuple[LineForm, ...] = ()
    steps: tuple[StepForm, ...] = ()
    questions: tuple[str, ...] = ()

    @property
    def unclear(self) -> bool:
        """Whether something stands in the way of keeping it."""
        return any(line.unclear for line in self.lines) or any(step.unclear for step in self.steps)


def from_text(text: str, book: Book, own: Mapping[str, str]) -> DishForm:
    """The form of a pasted recipe or narration. Raises `InputError` for an empty or endless text."""
    draft = read_dish(text)
    form = DishForm(
        name=draft.title,
        portions=f"{draft.yield_low:g}" if draft.yield_low else "",
        lines=tuple(LineForm(_line_text(line)) for line in draft.lines),
        steps=tuple(_step_form(step) for step in draft.steps),
        questions=_questions(draft),
    )
    return looked_at(form, book, own)


def _questions(draft: Draft) -> tuple[str, ...]:
    return tuple(dict.fromkeys(question.text for question in draft.questions))


def _line_text(line: DraftLine) -> str:
    if line.text:
        return line.text
    if line.low is None:
        return f"{line.food} to taste" if line.to_taste else line.food
    amount = f"{line.low:g}" if line.high in (None, line.low) else f"{line.low:g}-{line.high:g}"
    return " ".join(filter(None, (amount, line.unit, line.food, *line.form)))


def _step_form(step: DraftStep) -> StepForm:
    low, high = step.low_min, step.high_min if step.high_min is not None else step.low_min
    minutes = "" if low is None or high is None else (f"{low:g}" if low == high else f"{low:g}-{high:g}")
    return StepForm(
        text=step.text,
        minutes=minutes,
        technique=str(step.technique or ""),
        attention=str(step.attention or Attention.HANDS_ON),
        vessel=str(step.vessel or ""),
        heat=str(step.heat or Heat.NONE),
        lines=", ".join(str(number + 1) for number in sorted(step.lines)),
        ahead=step.done_before,
    )


def looked_at(form: DishForm, book: Book, own: Mapping[str, str]) -> DishForm:
    """The same form with what each line is read as, and what is unclear."""
    lines = []
    for number, one in enumerate(form.lines, 1):
        try:
            made = _line(number, one.text, book, own)
            lines.append(LineForm(one.text, f"{words.weight(made.grams.mean)} {foods.name(made.food)}, {made.form}"))
        except InputError as error:
            lines.append(LineForm(one.text, unclear=_said(error)))
    steps = []
    for number, step in enumerate(form.steps, 1):
        try:
            _step(number, step, len(form.lines))
            unclear = ""
        except InputError as error:
            unclear = _said(error)
        values = {name: getattr(step, name) for name in StepForm.__slots__ if name != "unclear"}
        steps.append(StepForm(**values, unclear=unclear))
    return DishForm(form.name, form.course, form.portions, tuple(lines), tuple(steps), form.questions)


def _said(error: InputError) -> str:
    return " ".join(complaint for complaints in error.fields.values() for complaint in complaints)


def _line(number: int, text: str, book: Book, own: Mapping[str, str]) -> Line:
    read = read_line(text)
    match = match_food(read.food, taught=own, frying_fat=book.house.frying_fat)
    if match.best is None or not match.sure:
        near = ", ".join(foods.name(c.code) for c in match.candidates[:4])
        hint = f" Write one of: {near}." if near else " Write it by another name."
        raise InputError({"": (f"Which food is {read.food!r}?{hint}",)})
    weighed = weigh_line(read, match.best.code, book.house.measures)
    if weighed.grams is None:
        raise InputError({"": (f"How much is it in grams? {weighed.how}.",)})
    return Line(
        id=f"line-{number}",
        food=match.best.code,
        said=read.food or text,
        amount=_amount(text, read.food),
        grams=weighed.grams,
        form=weighed.form,
        prep=", ".join(read.form),
        optional=read.optional,
        to_taste=read.to_taste,
        eaten_share=weighed.eaten_share,
    )


def _amount(text: str, food: str) -> str:
    """What stands before the food, as it was written: `2 tbsp` of `2 tbsp ghee`."""
    at = text.lower().find(food.split(" ", 1)[0].lower()) if food else -1
    return text[:at].strip(" ,") if at > 0 else ""


def _step(number: int, form: StepForm, lines: int) -> Step:
    if not form.text.strip():
        raise InputError({"": ("Say what to do.",)})
    uses = [int(word) for word in re.findall(r"\d+", form.lines)]
    if any(not 1 <= use <= lines for use in uses):
        raise InputError({"": (f"It uses a line that is not there; there are {lines}.",)})
    try:
        technique = Technique(form.technique)
    except ValueError:
        raise InputError({"": ("What is done in it? Choose one.",)}) from None
    return Step(
        id=f"step-{number}",
        text=form.text.strip(),
        technique=technique,
        minutes=_minutes(form.minutes),
        attention=Attention(form.attention or Attention.HANDS_ON),
        vessel=Vessel(form.vessel) if form.vessel else None,
        heat=Heat(form.heat or Heat.NONE),
        after=(After(f"step-{number - 1}"),) if number > 1 else (),
        lines=tuple(f"line-{use}" for use in uses),
        ahead=form.ahead,
    )


def _minutes(said: str) -> Span:
    found = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*(?:(?:-|–|to)\s*(\d+(?:\.\d+)?))?\s*(?:min)?\s*", said)
    if found is None:
        raise InputError({"": ("How many minutes does it take? Write 4, or 4-6.",)})
    low, high = float(found[1]), float(found[2] or found[1])
    return Span(min(low, high), max(low, high))


def keep(household: Household, form: DishForm, now: datetime) -> Dish:
    """Put the dish into the book. Raises one `InputError` that names each thing still unclear."""
    book = books.load_book(household)
    bad: dict[str, tuple[str, ...]] = {}
    own = taught.meant(household)
    seen = looked_at(form, book, own)
    bad |= {f"line {n}": (line.unclear,) for n, line in enumerate(seen.lines, 1) if line.unclear}
    bad |= {f"step {n}": (step.unclear,) for n, step in enumerate(seen.steps, 1) if step.unclear}
    try:
        course, portions = Course(form.course), float(form.portions)
    except ValueError:
        bad["dish"] = ("say what part of a meal it is and for how many",)
    if not form.name.strip():
        bad["name"] = ("what is it called?",)
    if not form.lines or not form.steps:
        bad["dish"] = ("a dish needs at least one line and one step",)
    if bad:
        raise InputError(bad)
    lines = tuple(_line(n, line.text, book, own) for n, line in enumerate(form.lines, 1))
    solid = [line for line in lines if line.food != WATER] or list(lines)
    dish = Dish(
        id=_free_id(form.name, book),
        name=form.name.strip(),
        course=course,
        base=max(solid, key=lambda line: line.grams.mean).food,
        portions=portions,
        lines=lines,
        steps=tuple(_step(n, step, len(lines)) for n, step in enumerate(form.steps, 1)),
    )
    with ledger.action(household, now, "write a dish", dish.name) as recorder:
        books.save_dish(recorder, dish)
    return dish


def _free_id(name: str, book: Book) -> str:
    ascii_name = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    plain = "-".join(re.findall(r"[a-z0-9]+", ascii_name)) or "dish"
    taken, number, key = {dish.id for dish in book.dishes}, 1, plain
    while key in taken:
        number += 1
        key = f"{plain}-{number}"
    return key


def from_fields(said: Mapping[str, str], lines: Sequence[str], steps: Sequence[Mapping[str, str]]) -> DishForm:
    """The form as it came back from a page; empty lines and steps are left out."""
    return DishForm(
        name=said.get("name", "").strip(),
        course=said.get("course", ""),
        portions=said.get("portions", "").strip(),
        lines=tuple(LineForm(text.strip()) for text in lines if text.strip()),
        steps=tuple(
            StepForm(
                step["text"].strip(), step["minutes"].strip(), step["technique"], step["attention"], step["vessel"],
                step["heat"], step["lines"].strip(), step["ahead"] == "yes",
            )
            for step in steps
            if step["text"].strip()
        ),
        questions=tuple(filter(None, said.get("questions", "").split("\n"))),
    )  # fmt: skip
