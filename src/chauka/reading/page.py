"""A web page that carries schema.org Recipe data (JSON-LD) → a draft dish.

Vocabulary: schema.org types Recipe, HowToSection, HowToStep; durations are ISO 8601.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from html import unescape
from typing import Any

from chauka.errors import InputError
from chauka.reading.draft import Draft
from chauka.reading.recipe import Written, draft_of

_DURATION = re.compile(r"^P(?:(\d{1,4})D)?(?:T(?:(\d{1,4})H)?(?:(\d{1,6}(?:\.\d+)?)M)?(?:\d+S)?)?$")
_DEEPEST = 40


def is_page(text: str) -> bool:
    """Whether the text is a web page or a bare Recipe object."""
    start = text.lstrip("\ufeff \t\r\n")[:400].lower()
    return start.startswith(("<!doctype", "<html", "<head", "<script")) or (
        start.startswith(("{", "[")) and "@type" in text
    )


def read_page(text: str) -> Draft:
    """The draft dish of the first Recipe on the page; cues count ingredients, then steps.

    Raises `InputError` where the page carries no Recipe data.
    """
    recipe = next((found for block in _blocks(text) for found in _recipes(block, 0)), None)
    if recipe is None:
        raise InputError(
            {"page": ("this page carries no schema.org Recipe data; copy its text and read that instead",)}
        )
    return draft_of(_written(recipe))


def _blocks(text: str) -> Iterator[Any]:
    scripts = [text] if text.lstrip("\ufeff \t\r\n").startswith(("{", "[")) else _scripts(text)
    for script in scripts:
        try:
            yield json.loads(script.strip().strip("\ufeff"))
        except (ValueError, RecursionError):
            continue


_OPENING = re.compile(r"<script\b([^<>]{0,300})>", re.IGNORECASE)
_CLOSING = re.compile(r"</script", re.IGNORECASE)


def _scripts(text: str) -> Iterator[str]:
    """The texts of all JSON-LD scripts, in one pass whatever else the page holds."""
    at = 0
    while opened := _OPENING.search(text, at):
        closed = _CLOSING.search(text, opened.end())
        at = closed.end() if closed else len(text)
        if "ld+json" in opened[1].lower():
            yield text[opened.end() : closed.start() if closed else len(text)]


def _recipes(value: Any, depth: int) -> Iterator[dict[str, Any]]:
    """Every Recipe object, wherever the page puts it."""
    if depth > _DEEPEST:
        return
    if isinstance(value, dict):
        kinds = value.get("@type")
        if "Recipe" in (kinds if isinstance(kinds, list) else [kinds]):
            yield value
        for inner in value.values():
            yield from _recipes(inner, depth + 1)
    elif isinstance(value, list):
        for inner in value:
            yield from _recipes(inner, depth + 1)


def _written(recipe: dict[str, Any]) -> Written:
    lines = [_text(line) for line in _listed(recipe.get("recipeIngredient") or recipe.get("ingredients"))]
    steps = list(_steps(recipe.get("recipeInstructions"), 0))
    count = len(lines)
    written = Written(title=_text(recipe.get("name")))
    written.ingredients = [(n, line, "") for n, line in enumerate(lines, start=1) if line]
    written.method = [(count + n, step) for n, step in enumerate(steps, start=1) if step]
    for yields in _listed(recipe.get("recipeYield")):
        said = _text(yields)
        if re.search(r"\d", said):
            written.other.append(
                (0, said if re.search(r"[a-z]", said, re.IGNORECASE) and "serv" in said.lower() else f"serves {said}")
            )
            break
    written.minutes = next(
        (m for key in ("totalTime", "cookTime") if (m := _minutes(recipe.get(key))) is not None), None
    )
    return written


def _listed(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [] if value is None else [value]


def _text(value: Any) -> str:
    """Plain text of a value that may be an object with a text or a name, or hold markup."""
    if isinstance(value, dict):
        value = value.get("text") or value.get("name") or value.get("@value") or ""
    plain = re.sub(r"<[^<>]{0,300}>", " ", unescape(str(value)) if value is not None else "")
    return re.sub(r"\s+", " ", plain).strip()


def _steps(value: Any, depth: int) -> Iterator[str]:
    """Instructions as one text, a list of texts, steps, or sections of steps."""
    if depth > _DEEPEST:
        return
    if isinstance(value, list):
        for inner in value:
            yield from _steps(inner, depth + 1)
    elif isinstance(value, dict) and value.get("itemListElement"):
        yield from _steps(value["itemListElement"], depth + 1)
    elif isinstance(value, str):
        yield from (_text(part) for part in re.split(r"\n+|(?<=[.!?])\s+(?=\d+[.)]\s)", value))
    elif value is not None:
        yield _text(value)


def _minutes(value: Any) -> float | None:
    found = _DURATION.match(_text(value)) if value else None
    if not found or not any(found.groups()):
        return None
    return float(found[1] or 0) * 1440 + float(found[2] or 0) * 60 + float(found[3] or 0)
