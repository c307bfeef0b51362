"""What foods are called in another language."""

from __future__ import annotations

import pytest

from chauka import demo, tables
from chauka.services import foods


@pytest.mark.parametrize(
    ("code", "language", "name"),
    [("C033", "hi", "पालक"), ("A003", "hi", "bajra"), ("A003", "ta", "kambu"), ("C033", "en", "spinach")],
)
def test_called_in_a_language(code: str, language: str, name: str) -> None:
    """Our own Devanagari list first, then the Latin spelling of the composition table; English as at the stall."""
    assert foods.in_language(code, language) == name


def test_nobody_has_said() -> None:
    """Without a name in the language it is called what the house calls it, else by its English name."""
    assert foods.in_language("A503", "ta", "corn starch") == "corn starch"
    assert foods.in_language("A503", "ta") == "cornflour"
    assert foods.in_language("Z999", "hi") == "Z999".lower()


def test_every_food_of_the_demo_house_has_its_hindi_name() -> None:
    """The demo reads in Devanagari throughout."""
    book = demo.book()
    used = {line.food for dish in book.dishes for line in dish.lines} | {offer.food for offer in book.offers}
    assert used <= {row["food_code"] for row in tables.rows("food_names_hi")}


def test_names_are_devanagari_and_of_known_foods() -> None:
    """Each row names a food of the tables, once, in the script that its card promises."""
    rows = tables.rows("food_names_hi")
    assert len({row["food_code"] for row in rows}) == len(rows)
    for row in rows:
        assert row["food_code"] in tables.foods()
        assert all("\u0900" <= letter <= "\u097f" or letter in " ()" for letter in row["name"]), row


def test_a_food_is_understood_by_its_devanagari_name() -> None:
    """Who reads पालक may write it."""
    assert foods.resolve("पालक", demo.book()) == "C033"
