"""A written recipe (title, ingredient list, method) → a draft dish.

Parts are told by their headings ("Ingredients", "Method", also in Hindi and Hinglish), or, without
headings, by what their lines look like: a list line is short and holds an amount or nothing but a food,
a method line holds an order. The method is heard as a narration is, with the list known beforehand.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field

from chauka.errors import InputError
from chauka.reading.cues import Cue, Narration, refuse_if_endless
from chauka.reading.draft import Draft, DraftLine
from chauka.reading.food_words import singular
from chauka.reading.ingredient import IngredientLine, read_line
from chauka.reading.method_words import method_words
from chauka.reading.narration import Listener
from chauka.reading.questions import ask
from chauka.reading.speech import tokenize

_INGREDIENTS = re.compile(
    r"^\W*(?:ingredients?|samagri|saamagri|you (?:will )?need|what you need|shopping list|सामग्री)\b[^a-z]*$",
    re.IGNORECASE,
)
_PART = re.compile(r"^\W*(?:for|to make) (?:the |our )?([\w -]{3,40}?)\s*:?\s*$", re.IGNORECASE)
_METHOD = re.compile(
    r"^\W*(?:method|directions?|instructions?|preparation|procedure|steps?|how to (?:make|cook)(?: it)?|vidhi|विधि|"
    r"to cook|cooking)\b[^a-z]*$",
    re.IGNORECASE,
)
_NOTES = re.compile(r"^\W*(?:notes?|tips?|serving(?: suggestions?)?|storage|nutrition)\b\W*$", re.IGNORECASE)
_YIELD = re.compile(
    r"\b(?:serves|servings?|yields?|makes|portions?|feeds)\b\W*(?:about\s+)?(\d{1,4})"
    r"(?:\s*(?:-|–|to)\s*(\d{1,4}))?(?!\d)\s*([a-z]*)",
    re.IGNORECASE,
)
_TIME = re.compile(
    r"\b(?:total|prep(?:aration)?|cook(?:ing)?|ready in|time)\b[^\d]{0,24}(\d{1,4})\s*(hours?|"
    r"hrs?|h|minutes?|mins?|m)\b(?:\s*(\d{1,4})\s*(?:minutes?|mins?|m)\b)?",
    re.IGNORECASE,
)
_NUMBERED = re.compile(r"^\s*(?:step\s*)?\d{1,2}\s*[.):-]\s+(?=\S)|^\s*step\s+\d+\s*[:.-]?\s*", re.IGNORECASE)
MOST_LINES = 200
"""Ingredient lines of one dish."""

_BULLET = re.compile(r"^\s*[-*•·–▢☐]\s+")


@dataclass(slots=True)
class Written:
    """The parts of a written recipe, each line with its number."""

    title: str = ""
    ingredients: list[tuple[int, str, str]] = field(default_factory=list)
    """Line number, text, and the part of the dish that the list names ("for the tempering")."""
    method: list[tuple[int, str]] = field(default_factory=list)
    other: list[tuple[int, str]] = field(default_factory=list)
    minutes: float | None = None


def is_recipe(text: str) -> bool:
    """Whether a text looks like a recipe with a list of ingredients, not like speech."""
    lines = [line for line in text.splitlines() if line.strip()]
    return any(_INGREDIENTS.match(line) for line in lines) or sum(_is_list_line(line) for line in lines) >= max(
        2, len(lines) // 4
    )


def read_recipe(text: str) -> Draft:
    """The draft dish of a written recipe, with an editor's questions; cues are the numbers of lines."""
    return draft_of(parts_of(text))


def parts_of(text: str) -> Written:
    """Title, list, method and the rest."""
    written, place, part = Written(), "", ""
    for number, raw in enumerate(text.splitlines(), start=1):
        line = raw.strip().strip("#*_ ").strip()
        if not line:
            continue
        if _INGREDIENTS.match(line):
            place, part = "list", ""
        elif _METHOD.match(line):
            place = "method"
        elif _NOTES.match(line):
            place = "other"
        elif (_YIELD.search(line) or _TIME.search(line)) and len(line) < 60 and place != "method":
            written.other.append((number, line))
        elif place != "method" and (found := _PART.match(line)) and line.endswith(":"):
            place, part = "list", found[1].strip()
        else:
            place = _put(written, place, number, line, part)
    return written


def _put(written: Written, place: str, number: int, line: str, part: str) -> str:
    """One line into the part where it belongs; the part that goes on from there."""
    if place == "other":
        written.other.append((number, line))
        return place
    numbered = _NUMBERED.match(line) is not None and not _is_list_line(_NUMBERED.sub("", line))
    if place == "method" or (numbered and written.ingredients):
        written.method.append((number, _NUMBERED.sub("", _BULLET.sub("", line))))
        return "method"
    if (
        not written.title
        and not written.ingredients
        and place == ""
        and not (_BULLET.match(line) or _is_list_line(line))
    ):
        written.title = line.rstrip(":")
        return place
    if (place == "list" or _is_list_line(line)) and (place != "list" or not _is_order(line)):
        written.ingredients.append((number, _BULLET.sub("", line), part))
        return place
    if written.ingredients:
        written.method.append((number, line))
        return "method"
    written.other.append((number, line))
    return place


def _is_list_line(line: str) -> bool:
    line = _BULLET.sub("", line.strip())
    if len(line) > 120 or _is_order(line):
        return False
    read = read_line(line)
    return read.low is not None and bool(read.food) and len(read.food.split()) <= 6 and not line.endswith(".")


def _is_order(line: str) -> bool:
    """Whether the line begins by telling what to do and is a sentence, not a list line."""
    first = re.match(r"[A-Za-z-]+", line)
    verb = method_words().verbs.get(first.group().lower()) if first else None
    return verb is not None and not verb.past and len(line.split()) > 4


def draft_of(written: Written) -> Draft:
    """Hear the method with the list known. Raises `InputError` where it is longer than one dish needs."""
    refuse_if_endless(
        sum(len(text) for _, text, _ in written.ingredients) + sum(len(text) for _, text in written.method)
    )
    if len(written.ingredients) > MOST_LINES:
        raise InputError({"text": (f"lists more than {MOST_LINES} ingredients; give one dish at a time",)})
    cues = tuple(Cue(number, None, None, text) for number, text in written.method)
    listener = Listener(Narration(written.title, cues))
    listener.in_aside = False
    for number, text, part in written.ingredients:
        for line in _lines(text, number, part):
            listener.larder.listing(line, _key(line.food))
    listed = len(listener.result.lines)
    draft = listener.draft()
    for number, text in written.other:
        _read_other(draft, number, text)
    if written.minutes is not None:
        draft.total_min = written.minutes
    ask(draft, listed=listed)
    return draft


def _lines(text: str, number: int, part: str) -> list[DraftLine]:
    """One list line; "salt and pepper" without an amount are two foods."""
    read = read_line(text)
    names = re.split(r"\s+(?:and|&)\s+", read.food) if read.low is None and len(read.food.split()) <= 4 else [read.food]
    return [_line(read, name, number, part) for name in names if name]


def _line(read: IngredientLine, name: str, number: int, part: str) -> DraftLine:
    return DraftLine(
        name,
        low=read.low,
        high=read.high,
        unit=read.unit,
        form=list(read.form),
        cues=[number],
        stated=read.low is not None,
        optional=read.optional,
        approximate=read.approximate,
        to_taste=read.to_taste or read.as_required,
        size=read.size,
        text=read.text,
        part=part,
    )


def _key(food: str) -> tuple[str, ...]:
    return tuple(singular(t.low) for t in tokenize(food) if t.low.isalpha()) or (food,)


def _read_other(draft: Draft, number: int, text: str) -> None:
    if found := _YIELD.search(text):
        draft.yield_low, draft.yield_high = float(found[1]), float(found[2] or found[1])
        draft.yield_unit, draft.yield_cues = found[3].lower() or "people", [number]
    elif found := _TIME.search(text):
        hours = found[2].lower().startswith("h")
        minutes = float(found[1]) * (60 if hours else 1) + float(found[3] or 0)
        if "total" in text.lower():
            draft.total_min = minutes
        else:
            draft.total_min = minutes + (draft.total_min or 0)
    elif method_words().speech["keep"].search(text):
        draft.keeping, draft.keeping_cues = text, [number]
    else:
        draft.notes.append((text, number))
