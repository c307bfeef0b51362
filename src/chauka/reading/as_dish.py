"""A draft with all its gaps filled → a dish of the book."""

from __future__ import annotations

import re

from chauka.errors import InputError
from chauka.kitchen import After, Attention, Course, Dish, Heat, Line, Step, Technique
from chauka.quantities import Measures
from chauka.reading.draft import Draft, DraftLine, DraftStep
from chauka.reading.ingredient import IngredientLine
from chauka.reading.weigh import weigh_line
from chauka.units import Span

_AHEAD = frozenset({Technique.SOAK, Technique.SPROUT, Technique.SET})


def as_dish(draft: Draft, *, course: Course, measures: Measures, base: str | None = None) -> Dish:
    """The dish that a draft describes, each line weighed by the house's own measures.

    `base` is the code of the food the dish is about, the heaviest line's if not given. Raises one
    `InputError` with everything that is still open: a food not known for certain, an amount that cannot
    become grams, a step without minutes, no number of portions. Nothing is filled in.
    """
    open_: dict[str, tuple[str, ...]] = {}
    lines = [_line(line, n, draft, measures, open_) for n, line in enumerate(draft.lines)]
    steps = [_step(step, n, draft, open_) for n, step in enumerate(draft.steps)]
    if draft.yield_low is None or draft.yield_high is None:
        open_["portions"] = ("nobody said how many people it serves; give the number",)
    if not draft.title:
        open_["name"] = ("the dish has no name; give one",)
    if open_:
        raise InputError(open_)
    whole = [line for line in lines if line is not None]
    return Dish(
        id=_slug(draft.title),
        name=draft.title,
        course=course,
        base=base or max(whole, key=lambda line: line.grams.mean if line.food != "K505" else 0.0).food,
        portions=((draft.yield_low or 0) + (draft.yield_high or 0)) / 2,
        lines=tuple(whole),
        steps=tuple(step for step in steps if step is not None),
        cautions=tuple(text for text, _ in draft.cautions),
    )


def ids_of(lines: list[DraftLine]) -> list[str]:
    """A short id for each line: its food, numbered where two lines have the same."""
    ids: list[str] = []
    for line in lines:
        plain = _slug(line.food)
        ids.append(plain if plain not in ids else f"{plain}-{sum(i.startswith(plain) for i in ids) + 1}")
    return ids


def _slug(text: str) -> str:
    return "-".join(re.findall(r"[a-z0-9]+", text.lower())) or "dish"


def _line(
    draft: DraftLine, number: int, whole: Draft, measures: Measures, open_: dict[str, tuple[str, ...]]
) -> Line | None:
    where = f"line {draft.food}"
    if draft.code is None or not draft.sure:
        open_[where] = (f"{draft.food!r} is not a food known for certain; name it as the tables do",)
        return None
    weight = weigh_line(_as_line(draft), draft.code, measures)
    if weight.grams is None:
        open_[where] = (weight.how,)
        return None
    return Line(
        id=ids_of(whole.lines)[number],
        food=draft.code,
        said=draft.food,
        amount=amount_text(draft),
        grams=weight.grams,
        form=weight.form,
        part=draft.part,
        prep=", ".join(draft.form),
        optional=draft.optional,
        to_taste=draft.to_taste,
        eaten_share=weight.eaten_share,
    )


def _as_line(draft: DraftLine) -> IngredientLine:
    return IngredientLine(
        text=draft.text or draft.food,
        low=draft.low,
        high=draft.high,
        unit=draft.unit,
        size=draft.size,
        food=draft.food,
        form=list(draft.form),
        to_taste=draft.to_taste,
    )


def amount_text(line: DraftLine) -> str:
    """The amount in words, "1–2 cup"; empty where none was said."""
    if line.low is None or line.high is None:
        return ""
    number = f"{line.low:.4g}" if line.low == line.high else f"{line.low:.4g}–{line.high:.4g}"
    return f"{number} {line.size or line.unit or ''}".strip()


def _step(draft: DraftStep, number: int, whole: Draft, open_: dict[str, tuple[str, ...]]) -> Step | None:
    if draft.low_min is None or draft.high_min is None:
        open_[f"step {number + 1}"] = (f"nobody said how many minutes it takes: {draft.text[:80]!r}",)
        return None
    ids = ids_of(whole.lines)
    return Step(
        id=f"step-{number + 1}",
        text=draft.text,
        technique=draft.technique or Technique.MIX,
        minutes=Span(draft.low_min, draft.high_min),
        attention=draft.attention or Attention.HANDS_ON,
        vessel=draft.vessel,
        heat=draft.heat or Heat.NONE,
        after=(After(f"step-{number}", 0, 0 if draft.at_once else None),) if number else (),
        lines=tuple(ids[n] for n in draft.lines),
        ahead=draft.technique in _AHEAD,
        until=draft.until,
        whistles=draft.whistles,
    )
