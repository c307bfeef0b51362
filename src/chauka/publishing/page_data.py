"""A write-up as schema.org Recipe data (JSON-LD) for a web page.

Properties and their expected types: schema.org vocabulary, types Recipe, HowToSection, HowToStep,
NutritionInformation. Mass and energy are texts of a number and a unit; sodium and cholesterol are in
milligrams, other masses in grams; durations are ISO 8601 and exact, so the middle of a span is given.
"""

from __future__ import annotations

import json
from typing import Any

from chauka.composition import Amount
from chauka.kitchen import Line, Step
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


def page_data(write_up: WriteUp, *, author: str | None = None, image: str | None = None) -> dict[str, Any]:
    """The Recipe object.

    A nutrient of which an ingredient's content is unknown is left out: the vocabulary has no way to
    say "at least". `author` and `image` are left out when not given, never invented.
    """
    dish = write_up.dish
    data: dict[str, Any] = {
        "@context": "https://schema.org",
        "@type": "Recipe",
        "name": dish.name,
        "alternateName": sorted(dish.names.values()) or None,
        "description": dish.story or None,
        "author": {"@type": "Person", "name": author} if author else None,
        "image": image,
        "recipeCategory": str(dish.course),
        "keywords": ", ".join(sorted(dish.tags)) or None,
        "recipeYield": f"{dish.portions:g} portions",
        "prepTime": _duration(write_up.times.prepare_min),
        "cookTime": _duration(write_up.times.cook_min),
        "totalTime": _duration(write_up.times.total_min),
        "recipeIngredient": [line_text(line) for line in dish.lines],
        "recipeInstructions": [_step(step, number) for number, step in enumerate(dish.steps, start=1)],
        "tool": [{"@type": "HowToTool", "name": tool} for tool in write_up.tools] or None,
        "suitableForDiet": [f"https://schema.org/{diet}" for diet in write_up.diets] or None,
        "nutrition": _nutrition(write_up),
    }
    return {key: value for key, value in data.items() if value is not None}


def page_data_json(write_up: WriteUp, *, author: str | None = None, image: str | None = None) -> str:
    """The same as text that may stand inside a `script` element of a page: no `<` and no `&` in it."""
    text = json.dumps(page_data(write_up, author=author, image=image), ensure_ascii=False, indent=2)
    return text.replace("&", "\\u0026").replace("<", "\\u003c")


def line_text(line: Line) -> str:
    """One ingredient line as a reader sees it: amount as the cook says it, grams, food, preparation."""
    grams = f"{line.grams.mean:.0f} g" if line.grams.mean >= 10 else f"{line.grams.mean:.1f} g"
    said = line.amount.strip()
    weighs = said.replace(" ", "") == grams.replace(" ", "") or not line.grams.mean
    amount = said if weighs and said else f"{said} ({grams})" if said else grams
    text = f"{amount} {line.said}"
    if line.prep:
        text += f", {line.prep}"
    notes = [n for n, holds in (("optional", line.optional), ("to taste", line.to_taste)) if holds and n != said]
    return text + (f" ({', '.join(notes)})" if notes else "")


def _step(step: Step, number: int) -> dict[str, Any]:
    return {
        "@type": "HowToStep",
        "position": number,
        "name": str(step.technique).replace("-", " ").capitalize(),
        "text": step.text,
        "url": f"#step-{number}",
    }


def _nutrition(write_up: WriteUp) -> dict[str, Any] | None:
    found = {
        name: _quantity(amount, unit, decimals)
        for name, (tag, unit, decimals) in NUTRITION.items()
        if (amount := write_up.nutrition.per_portion.get(tag)) is not None and not amount.at_least
    }
    if not found:
        return None
    portion = f"1 portion ({write_up.nutrition.portion_g.mean:.0f} g)"
    return {"@type": "NutritionInformation", "servingSize": portion, **found}


def _quantity(amount: Amount, unit: str, decimals: int) -> str:
    return f"{amount.mean:.{decimals}f} {unit}"


def _duration(minutes: int) -> str:
    """ISO 8601 duration of whole minutes, as in PT1H30M."""
    days, rest = divmod(minutes, 24 * 60)
    hours, mins = divmod(rest, 60)
    date = f"{days}D" if days else ""
    clock = (f"{hours}H" if hours else "") + (f"{mins}M" if mins else "")
    if not date and not clock:
        return "PT0S"
    return f"P{date}" + (f"T{clock}" if clock else "")
