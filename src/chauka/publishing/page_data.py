"""A write-up as schema.org Recipe data (JSON-LD) for a web page.

Properties and their expected types: schema.org vocabulary, types Recipe, HowToSection, HowToStep,
HowToSupply, NutritionInformation, Clip. Mass and energy are texts of a number and a unit; sodium and
cholesterol are in milligrams, other masses in grams; durations are ISO 8601 and exact, so the middle of
a span is given. Waiting has no property of its own, so `totalTime` may exceed preparing and cooking.
"""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from types import MappingProxyType
from typing import Any

from chauka.composition import Amount
from chauka.kitchen import Dish, Line, Step, plain
from chauka.publishing.text import grams_text, line_text, step_name
from chauka.publishing.times import times, tools
from chauka.publishing.write_up import WriteUp

NUTRITION = {
    "calories": ("ENERC_KCAL", "kcal", 0),
    "proteinContent": ("PROCNT", "g", 1),
    "fatContent": ("FAT", "g", 1),
    "saturatedFatContent": ("FASAT", "g", 1),
    "carbohydrateContent": ("CHOAVLDF", "g", 1),
    "sugarContent": ("FSUGAR", "g", 1),
    "fiberContent": ("FIBTG", "g", 1),
    "sodiumContent": ("NA", "mg", 0),
    "cholesterolContent": ("CHOLE", "mg", 0),
}
"""schema.org property → our nutrient, unit, decimals."""

BEFORE, COOKING = "Ahead of time", "Cooking"
"""Names of the two sections of a dish with steps ahead."""


@dataclass(frozen=True, slots=True)
class Film:
    """The film of a dish: its address, and where each step is shown in it [s from the start], by step id."""

    url: str
    clips: Mapping[str, tuple[float, float]] = field(default_factory=lambda: MappingProxyType({}))


@dataclass(frozen=True, slots=True)
class Credits:
    """What a page says beyond the dish itself; what is None is left out, never invented."""

    author: str | None = None
    published: date | None = None
    page_url: str | None = None
    image: str | None = None
    cuisine: str | None = None
    film: Film | None = None


NO_CREDITS = Credits()

ENCODING = "chauka dish"
"""Name of the encoding in which the whole dish stands in its page data."""


def page_data(write_up: WriteUp, credit: Credits | None = None) -> dict[str, Any]:
    """The Recipe object.

    A nutrient of which an ingredient's content is unknown is left out: the vocabulary has no way to
    say "at least".
    """
    credit = credit or NO_CREDITS
    data = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        **of_dish(write_up.dish, credit),
        "author": {"@type": "Person", "name": credit.author} if credit.author else None,
        "datePublished": credit.published.isoformat() if credit.published else None,
        "url": credit.page_url,
        "image": credit.image,
        "recipeCuisine": credit.cuisine,
        "suitableForDiet": [f"https://schema.org/{diet}" for diet in write_up.diets] or None,
        "nutrition": _nutrition(write_up),
        "encoding": _encoding(write_up.dish),
    }
    return _given(data)


def of_dish(dish: Dish, credit: Credits = NO_CREDITS) -> dict[str, Any]:
    """What the dish alone says, whoever cooks it: names, lines, steps, times, tools."""
    took = times(dish)
    data: dict[str, Any] = {
        "name": dish.name,
        "alternateName": sorted(dish.names.values()) or None,
        "description": dish.story or None,
        "inLanguage": "en",
        "recipeCategory": str(dish.course),
        "keywords": ", ".join(sorted(dish.tags)) or None,
        "recipeYield": f"{dish.portions:g} portions",
        "prepTime": duration(took.prepare_min),
        "cookTime": duration(took.cook_min),
        "totalTime": duration(took.total_min),
        "cookingMethod": ", ".join(_methods(dish.steps)) or None,
        "recipeIngredient": [line_text(line) for line in dish.lines],
        "supply": [_supply(line) for line in dish.lines],
        "recipeInstructions": _instructions(dish, credit),
        "tool": [{"@type": "HowToTool", "name": tool} for tool in tools(dish)] or None,
    }
    return _given(data)


def page_data_json(write_up: WriteUp, credit: Credits | None = None) -> str:
    """The same as text that may stand inside a `script` element of a page: no `<` and no `&` in it."""
    text = json.dumps(page_data(write_up, credit), ensure_ascii=False, indent=2)
    return (
        text.replace("&", "\\u0026").replace("<", "\\u003c").replace("\u2028", "\\u2028").replace("\u2029", "\\u2029")
    )


def duration(minutes: int) -> str:
    """ISO 8601 duration of whole minutes, as in PT1H30M."""
    days, rest = divmod(minutes, 24 * 60)
    hours, mins = divmod(rest, 60)
    day = f"{days}D" if days else ""
    clock = (f"{hours}H" if hours else "") + (f"{mins}M" if mins else "")
    if not day and not clock:
        return "PT0S"
    return f"P{day}" + (f"T{clock}" if clock else "")


def _given(data: Mapping[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in data.items() if value is not None}


def _methods(steps: tuple[Step, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(str(s.technique).replace("-", " ") for s in steps if s.technique.cooks))


def _supply(line: Line) -> dict[str, Any]:
    """A line as something to have at hand, its weight as a number."""
    weight = {"@type": "QuantitativeValue", "value": round(line.grams.mean, 1), "unitCode": "GRM", "unitText": "g"}
    return _given({"@type": "HowToSupply", "name": line.said, "requiredQuantity": weight if line.grams.mean else None})


def _instructions(dish: Dish, credit: Credits) -> list[dict[str, Any]]:
    """Steps in a row; in two sections where some are done ahead, since sections and bare steps do not mix."""
    rows = [(step, _step(step, number, dish, credit)) for number, step in enumerate(dish.steps, start=1)]
    parts = [(BEFORE, [row for s, row in rows if s.ahead]), (COOKING, [row for s, row in rows if not s.ahead])]
    if not all(steps for _, steps in parts):
        return [row for _, row in rows]
    return [
        {"@type": "HowToSection", "name": name, "position": at, "itemListElement": steps}
        for at, (name, steps) in enumerate(parts, start=1)
    ]


def _step(step: Step, number: int, dish: Dish, credit: Credits) -> dict[str, Any]:
    text = step.text + (f" Until {step.until}." if step.until else "")
    return _given(
        {
            "@type": "HowToStep",
            "position": number,
            "name": step_name(step, dish.lines),
            "text": text,
            "url": f"{credit.page_url or ''}#step-{number}",
            "video": _clip(step, credit.film),
        }
    )


def _clip(step: Step, film: Film | None) -> dict[str, Any] | None:
    if film is None or step.id not in film.clips:
        return None
    start, end = film.clips[step.id]
    return {"@type": "Clip", "name": step.text[:80], "startOffset": start, "endOffset": end, "url": film.url}


def _encoding(dish: Dish) -> dict[str, Any]:
    """The whole dish as data, to be read back: spreads, lags and places, for which there is no property."""
    return {"@type": "MediaObject", "name": ENCODING, "encodingFormat": "application/json", "text": plain.to_text(dish)}


def _nutrition(write_up: WriteUp) -> dict[str, Any] | None:
    per_portion = write_up.nutrition.per_portion
    found = {
        name: _quantity(per_portion[tag], unit, decimals)
        for name, (tag, unit, decimals) in NUTRITION.items()
        if tag in per_portion and not per_portion[tag].at_least
    }
    if not found:
        return None
    portion = f"1 portion ({grams_text(write_up.nutrition.portion_g)})"
    return {"@type": "NutritionInformation", "servingSize": portion, **found}


def _quantity(amount: Amount, unit: str, decimals: int) -> str:
    return f"{amount.mean:.{decimals}f} {unit}"
