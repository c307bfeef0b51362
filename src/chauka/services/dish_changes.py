"""How a dish came to be what it is, in words: each change, and each thing in it that is different."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from chauka.kitchen import Dish
from chauka.services import past, words
from chauka.services.past import Difference
from chauka.store import codec, undo
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class Changed:
    """One thing that is different; empty `before` is "was not there", empty `after` "is gone"."""

    what: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Version:
    """One change of a dish: its action, when, what was done, whether it was taken back, and what it changed."""

    number: int
    at: datetime
    task: str
    taken_back: bool
    changes: tuple[Changed, ...]


def of_dish(household: Household, dish_id: str) -> tuple[Version, ...]:
    """Every change of a dish, the newest first."""
    found = undo.of_thing(household, "dish", dish_id)
    gone = undo.is_taken_back(household, {number for number, *_ in found})
    return tuple(
        Version(number, at, task, number in gone, tuple(_in_words(before, after)))
        for number, at, task, before, after in found
    )


def between(before: Dish, after: Dish) -> tuple[Changed, ...]:
    """What is different in a dish that is being changed."""
    return tuple(_in_words(codec.to_plain(before), codec.to_plain(after)))


def _in_words(before: Any, after: Any) -> Iterator[Changed]:
    if before is None or after is None:
        return
    names = _names(before) | _names(after)
    for difference in past.differences(_readable(before), _readable(after)):
        if difference.place.rsplit(".", 1)[-1] in _UNSEEN or ".after." in difference.place:
            continue
        said = _said(difference, names)
        if said.before != said.after:
            yield said


_UNSEEN = frozenset({"after", "said", "eaten_share", "id"})
"""What no cook wrote: it follows from the rest."""


def _readable(value: Any) -> Any:
    """The same with each weight and each span of minutes as one word."""
    if isinstance(value, list):
        return [_readable(one) for one in value]
    if not isinstance(value, Mapping):
        return value
    if "mean" in value:
        return words.weight(value["mean"])
    if value.keys() == {"low", "high"}:
        return f"{value['low']:g}" if value["low"] == value["high"] else f"{value['low']:g}–{value['high']:g}"
    return {name: _readable(one) for name, one in value.items()}


_CALLED = {
    "name": "Name", "names": "Name", "course": "Part of the meal", "base": "What it is about", "portions": "Portions",
    "yield_g": "Weighed when done", "kept": "How it keeps", "served": "Served", "hold_min": "May wait hot",
    "chilli": "Heat", "batch": "Made ahead for days", "story": "Story", "cautions": "Caution", "tags": "Tag",
    "grams": "grams", "amount": "amount", "form": "form", "prep": "how it is cut", "part": "part", "food": "food",
    "optional": "may be left out", "to_taste": "to taste", "substitutes": "instead", "text": "words",
    "technique": "done", "minutes": "minutes", "attention": "hands", "vessel": "in", "heat": "flame",
    "lines": "uses", "ahead": "ahead", "until": "until", "whistles": "whistles",
    "place": "where", "days": "days", "why": "on whose word", "freezes": "freezes",
}  # fmt: skip


def _names(plain: Mapping[str, Any]) -> dict[tuple[str, str], str]:
    lines = {("lines", line["id"]): line["said"] for line in plain["lines"]}
    return lines | {("steps", step["id"]): f"Step {number}" for number, step in enumerate(plain["steps"], 1)}


def _said(difference: Difference, names: Mapping[tuple[str, str], str]) -> Changed:
    root, *rest = difference.place.split(".")
    if root in ("lines", "steps") and rest:
        key, *rest = rest
        thing = names.get((root, key), key)
        head = thing[:1].upper() + thing[1:]
    else:
        head = _CALLED.get(root, root)
    tail = " ".join(filter(None, (_CALLED.get(word, word) for word in rest)))
    return Changed(f"{head}: {tail}" if tail else head, _value(difference.before), _value(difference.after))


def _value(value: Any) -> str:
    if value is None or value == "":
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, float | int):
        return f"{value:.4g}"
    if isinstance(value, Mapping):
        return _thing(value)
    if isinstance(value, list):
        return ", ".join(_value(one) for one in value)
    return str(value)


def _thing(value: Mapping[str, Any]) -> str:
    """A line, a step or another noun that came or went as a whole."""
    if "text" in value:
        return str(value["text"])
    if "said" in value:
        amount = " ".join(filter(None, (value["amount"], value["said"])))
        return f"{amount}, {value['grams']}"
    return ", ".join(_value(one) for one in value.values() if one not in (None, "", False))
