"""A dish as a form of plain words: what stands in it, how a dish of the book is written so, how it comes back."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

from chauka.kitchen import Attention, Heat, Line, Step
from chauka.reading import DraftStep
from chauka.services import dish_particulars, words
from chauka.services.dish_particulars import Particulars


@dataclass(frozen=True, slots=True)
class LineForm:
    """One ingredient line as written, what it was read as, what is unclear about it, and what an editor would mend.

    `origin` is the id of the line of the book that it was.
    """

    text: str
    read_as: str = ""
    unclear: str = ""
    origin: str = ""
    asked: tuple[str, ...] = ()


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
    until: str = ""
    whistles: str = ""
    origin: str = ""
    asked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class DishForm:
    """A dish being written. `questions` are what a careful editor would ask about the text as a whole."""

    name: str = ""
    course: str = ""
    portions: str = ""
    lines: tuple[LineForm, ...] = ()
    steps: tuple[StepForm, ...] = ()
    questions: tuple[str, ...] = ()
    more: Particulars = field(default_factory=Particulars)

    @property
    def unclear(self) -> bool:
        """Whether something stands in the way of keeping it."""
        return any(line.unclear for line in self.lines) or any(step.unclear for step in self.steps)


# --- lines and steps as words ----------------------------------------------------------------------


def line_text(line: Line) -> str:
    """A line of the book as it is written: `1 cup moong dal, washed (optional)`."""
    if line.amount:
        head = f"{line.amount} {line.said}"
    else:
        head = f"{line.said} to taste" if line.to_taste else f"{words.weight(line.grams.mean)} {line.said}"
    return f"{head}{f', {line.prep}' if line.prep else ''}{' (optional)' if line.optional else ''}"


def step_form(step: Step, line_ids: Sequence[str]) -> StepForm:
    """A step of the book as a form."""
    return StepForm(
        text=step.text,
        minutes=minutes_text(step.minutes.low, step.minutes.high),
        technique=str(step.technique),
        attention=str(step.attention),
        vessel=str(step.vessel or ""),
        heat=str(step.heat),
        lines=", ".join(str(line_ids.index(key) + 1) for key in step.lines),
        ahead=step.ahead,
        until=step.until,
        whistles="" if step.whistles is None else str(step.whistles),
        origin=step.id,
    )


def drafted_step(step: DraftStep) -> StepForm:
    """A step as it was read in a text; what was not said is left empty."""
    low, high = step.low_min, step.high_min if step.high_min is not None else step.low_min
    return StepForm(
        text=step.text,
        minutes="" if low is None or high is None else minutes_text(low, high),
        technique=str(step.technique or ""),
        attention=str(step.attention or Attention.HANDS_ON),
        vessel=str(step.vessel or ""),
        heat=str(step.heat or Heat.NONE),
        lines=", ".join(str(number + 1) for number in sorted(step.lines)),
        ahead=step.done_before,
        until=step.until,
        whistles="" if step.whistles is None else str(step.whistles),
    )


def minutes_text(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g}-{high:g}"


def numbers_in(said: str) -> list[int]:
    """The whole numbers in some words; none is longer than any list of lines."""
    return [int(word) for word in re.findall(r"\d+", said) if len(word) <= 4]


# --- what comes back from a page -------------------------------------------------------------------


def from_fields(
    said: Mapping[str, str],
    lines: Sequence[Mapping[str, str]],
    steps: Sequence[Mapping[str, str]],
    questions: Sequence[str] = (),
) -> DishForm:
    """The form as it came back from a page; empty lines and steps are left out, and nothing uses them any more."""
    places: dict[int, int] = {}
    for number, line in enumerate(lines, 1):
        if line["text"].strip():
            places[number] = len(places) + 1
    return DishForm(
        name=said.get("name", "").strip(),
        course=said.get("course", ""),
        portions=said.get("portions", "").strip(),
        lines=tuple(LineForm(line["text"].strip(), origin=line["origin"]) for line in lines if line["text"].strip()),
        steps=tuple(_step_from(step, places) for step in steps if step["text"].strip()),
        questions=tuple(questions),
        more=dish_particulars.from_fields(said),
    )


def _step_from(step: Mapping[str, str], places: Mapping[int, int]) -> StepForm:
    uses = numbers_in(step["lines"])
    gone = set(uses) - places.keys() - {use for use in uses if use > max(places, default=0)}
    return StepForm(
        text=step["text"].strip(),
        minutes=step["minutes"].strip(),
        technique=step["technique"],
        attention=step["attention"],
        vessel=step["vessel"],
        heat=step["heat"],
        lines=", ".join(str(places.get(use, use)) for use in uses if use not in gone),
        ahead=step["ahead"] == "yes",
        until=step["until"].strip(),
        whistles=step["whistles"].strip(),
        origin=step["origin"],
    )


def moved_up(form: DishForm, number: int) -> DishForm:
    """The step of that number (from 1) before the one above it."""
    steps = list(form.steps)
    if not 2 <= number <= len(steps):
        return form
    steps[number - 2], steps[number - 1] = steps[number - 1], steps[number - 2]
    return replace(form, steps=tuple(steps))


def with_step_below(form: DishForm, number: int) -> DishForm:
    """An empty step below the one of that number."""
    if not 1 <= number <= len(form.steps):
        return form
    return replace(form, steps=(*form.steps[:number], StepForm(""), *form.steps[number:]))
