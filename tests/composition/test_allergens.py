"""Allergens and kinds of a dish are those of its lines."""

from dataclasses import replace

from tests.composition.samples import ATTA, GHEE, ONION, RICE, SPINACH, line, salad

from chauka import tables
from chauka.composition import ALLERGENS, Regime, declared_allergens, diet_flags, dish_allergens, dish_traits
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


def test_regimes_declare_their_own_lists() -> None:
    """Mustard and sesame are Europe's; the FDA asks for wheat, not for barley."""
    mixed = salad(line("A019", 50), line("A004", 50), line("G528", 1), line("L002", 100))
    assert set(declared_allergens(mixed, Regime.EU)) == {"gluten", "milk"}
    assert declared_allergens(mixed, Regime.FDA)["wheat"] == ("A019",)
    assert "gluten" not in declared_allergens(mixed, Regime.FDA)
    assert declared_allergens(mixed, Regime.FSSAI)["gluten"] == ("A019", "A004")


def test_may_contain_is_only_what_the_cook_says() -> None:
    """Nothing is guessed, and what is in the dish is not also "may contain"."""
    found = declared_allergens(salad(line("L002", 100)), Regime.EU, may_contain=["nuts", "milk"])
    assert dict(found) == {"milk": ("L002",), "may contain nuts": ()}


def test_diet_flags() -> None:
    """Onion, root, dairy and gluten are told apart; spinach in salt has none."""
    assert diet_flags(salad(line("G017", 50), line("F006", 50), line("L002", 10), line("A019", 5))) == {
        "onion_garlic", "root", "dairy", "gluten",
    }  # fmt: skip
    assert diet_flags(salad(line("C033", 50))) == frozenset()


def test_every_regime_has_its_list_in_the_table() -> None:
    """The names of the regimes are those of the table, with its sources."""
    named = {row["regime"] for row in tables.rows("allergen_regimes")}
    assert {str(regime) for regime in Regime} <= named


def test_what_is_made_ahead_for_a_dish_counts_like_the_rest() -> None:
    """A paste made days before is lines of the dish under a heading of their own: its peanuts are declared."""
    paste = replace(line("H012", 30), part="for the paste")
    made = salad(line(RICE, 100), paste)
    for regime in Regime:
        assert declared_allergens(made, regime)["peanuts"] == ("H012",)


def test_the_fourteen_are_those_that_foods_can_carry() -> None:
    """No food carries an allergen that no list knows."""
    assert {row["allergen"] for row in tables.rows("food_allergens")} <= ALLERGENS
    assert len(ALLERGENS) == 14


def test_compounded_asafoetida_counts_as_gluten() -> None:
    """It is usually mixed with wheat flour: declared by every list, and the table says why."""
    pinch = salad(line(RICE, 100), line("G019", 0.1))
    assert declared_allergens(pinch, Regime.FSSAI)["gluten"] == ("G019",)
    assert declared_allergens(pinch, Regime.FDA)["wheat"] == ("G019",)
