"""Food words → foods of the tables."""

from __future__ import annotations

import pytest

from chauka import tables
from chauka.reading import match_food
from chauka.reading.food_words import sound
from chauka.reading.words import words

KNOWN = [
    ("besan", "A504"), ("Chilli powder", "G516"), ("boiled potato", "F006"), ("Palak", "C033"),
    ("saffron strands", "G529"),
    ("ginger paste", "G014"), ("coriander leaves, chopped", "G009"), ("jeera powder", "G025"), ("rajmah", "B020"),
    ("soda bi-carb", "K501"), ("Olive/refined oil", "T502"), ("Vegetable/chicken stock", "K507"),
    ("lady's finger", "D056"),
]  # fmt: skip


@pytest.mark.parametrize(("said", "code"), KNOWN)
def test_likeliest_food(said: str, code: str) -> None:
    """Kitchen names, forms, parts and spellings lead to the food."""
    best = match_food(said).best
    assert best is not None
    assert best.code == code


@pytest.mark.parametrize("said", ["rice", "banana", "ghee or butter", "red chilli", "raisins"])
def test_what_fits_several_foods_is_asked(said: str) -> None:
    """A name of several foods, or two foods offered, is never taken without asking."""
    assert not match_food(said).sure


@pytest.mark.parametrize("said", ["", "zxqv", "the", "🍋", "1234"])
def test_nonsense_is_not_known(said: str) -> None:
    """What no table has is not known."""
    assert match_food(said).best is None


def test_the_house_teaches_names() -> None:
    """A taught name wins over everything, forms aside."""
    assert match_food("chopped tondak", taught={"tondak": "D054"}).candidates[0].code == "D054"


def test_plain_fat_is_what_the_house_fries_in() -> None:
    """ "Oil" and "fat for frying" mean the house's own; mustard oil does not."""
    assert match_food("Fat for frying", frying_fat="T508").candidates[0].code == "T508"
    assert match_food("mustard oil", frying_fat="T508").candidates[0].code == "T510"


def test_lemon_is_not_its_juice() -> None:
    """A word of kind tells foods apart."""
    lemon, juice = match_food("lemon").best, match_food("lemon juice").best
    assert lemon is not None
    assert juice is not None
    assert lemon.code != juice.code


def test_every_listed_name_has_a_food() -> None:
    """Each code of the kitchen's names stands in a table, and each name finds its food."""
    for name, code in words().foods.items():
        assert code in tables.foods(), (name, code)
        assert match_food(name).candidates[0].code == code, name


def test_spellings_that_sound_alike() -> None:
    """Doubled letters and aspirates do not part Indian words."""
    assert sound("channa") == sound("chana")
    assert sound("jeera") == sound("zira")
