"""Allergens and kinds of a dish are those of its lines."""

from dataclasses import replace

from tests.composition.samples import ATTA, GHEE, ONION, RICE, SPINACH, line, salad

from chauka.composition import dish_allergens, dish_traits
from chauka.kitchen import Form, Substitute


def test_each_allergen_names_the_foods_that_bring_it() -> None:
    """Wheat brings gluten, ghee milk."""
    found = dish_allergens(salad(line(ATTA, 100), line(GHEE, 5, Form.LIQUID), line(SPINACH, 50)))
    assert found["gluten"] == (ATTA,)
    assert found["milk"] == (GHEE,)


def test_a_dish_without_allergens_has_none() -> None:
    """Rice and spinach."""
    assert dish_allergens(salad(line(RICE, 100), line(SPINACH, 50))) == {}


def test_optional_lines_count_and_substitutes_do_not() -> None:
    """Ghee that may be left out is declared; peanuts that might replace something are not."""
    optional = line(GHEE, 5, Form.LIQUID, optional=True)
    assert "milk" in dish_allergens(salad(line(RICE, 100), optional))
    other = replace(line(RICE, 100), substitutes=(Substitute("H012"),))
    assert "peanuts" not in dish_allergens(salad(other))


def test_kinds_of_food_in_a_dish() -> None:
    """Onion is seen, so that a day without onion and garlic can keep the dish out."""
    assert "onion_garlic" in dish_traits(salad(line(ONION, 50), line(RICE, 100)))
    assert "onion_garlic" not in dish_traits(salad(line(SPINACH, 50)))
    assert "leafy_green" in dish_traits(salad(line(SPINACH, 50)))
