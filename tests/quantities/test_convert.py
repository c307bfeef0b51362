"""Amounts become grams with their spread, or an error that names the units that would work."""

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.quantities.samples import CORIANDER, FLOUR, HOUSE, NOTHING, ONION, SPINACH, WEIGHTS

from chauka.errors import InputError
from chauka.kitchen import Measures
from chauka.quantities import Unit, grams, household_weights, purchased_grams, read_amount, say, weigh


def g(amount: str, food: str, form: str = "dry") -> float:
    return grams(amount, food, form, HOUSE, weights=WEIGHTS).mean


@pytest.mark.parametrize(
    ("amount", "food", "form", "mean"),
    [
        ("1 cup", FLOUR, "dry", 120),
        ("2 tbsp", FLOUR, "dry", 15),
        ("1 katori", FLOUR, "dry", 75),
        ("120 ml", FLOUR, "dry", 60),
        ("1 cup + 2 tbsp", FLOUR, "dry", 135),
        ("1½ kg", NOTHING, "whole", 1500),
        ("3 medium", ONION, "whole", 240),
        ("3", ONION, "peeled", 240),
        ("2 large", ONION, "whole", 280),
        ("3–4", ONION, "whole", 280),
        ("½ cup", ONION, "chopped", 75),
        ("2 bunches", CORIANDER, "whole", 200),
        ("1 cup", SPINACH, "picked", 30),
        ("1 cup", SPINACH, "washed", 30),
        ("1 cup", SPINACH, "cut", 60),
        ("0 g", FLOUR, "dry", 0),
    ],
)
def test_grams(amount: str, food: str, form: str, mean: float) -> None:
    """The mean is the number times the table's weight for that form and measure."""
    assert g(amount, food, form) == pytest.approx(mean)


def test_the_house_cup_counts() -> None:
    """A house with a 200 ml cup puts less flour in it."""
    assert grams("1 cup", FLOUR, "dry", Measures(cup_ml=200), weights=WEIGHTS).mean == pytest.approx(100)


def test_the_scale_is_surer_than_the_spoon_and_the_spoon_than_the_bunch() -> None:
    """Spread grows from the scale over the cup to the bunch."""
    scale = grams("120 g", FLOUR, "dry", HOUSE, weights=WEIGHTS).cv
    cup = grams("1 cup", FLOUR, "dry", HOUSE, weights=WEIGHTS).cv
    bunch = grams("1 bunch", CORIANDER, "whole", HOUSE, weights=WEIGHTS).cv
    assert scale < cup < bunch


def test_a_cup_of_another_form_is_less_sure() -> None:
    """Where only another form was weighed, its row is used with more spread, and says so."""
    own = weigh("1 cup", SPINACH, "chopped", HOUSE, weights=WEIGHTS)
    other = weigh("1 cup", SPINACH, "boiled", HOUSE, weights=WEIGHTS)
    assert other.grams.cv > own.grams.cv + 0.2
    assert "taken from" in other.how
    assert "taken from" not in own.how


def test_a_size_the_table_lacks_is_scaled_with_more_spread() -> None:
    """A small onion is 0.7 of a medium one, with more spread."""
    small, medium = (weigh(f"1 {size}", ONION, "whole", HOUSE, weights=WEIGHTS) for size in ("small", "medium"))
    assert small.grams.mean == pytest.approx(56)
    assert small.grams.cv > medium.grams.cv
    assert "scaled to small" in small.how


def test_many_pieces_even_out_but_not_below_the_house() -> None:
    """Ten onions are relatively surer than one, yet never surer than the idea of a medium onion (10 %)."""
    one = grams("1 medium", ONION, "whole", HOUSE, weights=WEIGHTS).cv
    ten = grams("10 medium", ONION, "whole", HOUSE, weights=WEIGHTS).cv
    assert 0.10 < ten < one


def test_a_range_widens_the_spread() -> None:
    """ "2–4" spreads more than "3" around the same mean."""
    span, exact = (grams(a, ONION, "whole", HOUSE, weights=WEIGHTS) for a in ("2–4", "3"))
    assert span.mean == exact.mean
    assert span.sd > exact.sd


def test_a_pinch_of_anything_is_a_wide_guess() -> None:
    """A pinch needs no row: it is some tenths of a gram, known to ± 50 %."""
    pinch = grams("a pinch", NOTHING, "dry", HOUSE, weights=WEIGHTS)
    assert 0.2 < pinch.mean < 1
    assert pinch.cv > 0.3


@pytest.mark.parametrize(
    ("amount", "food", "says"),
    [
        ("1 bunch", FLOUR, ("1 bunch", FLOUR, "g, kg, ml, l, cup, katori, tbsp, tsp")),
        ("1 cup", CORIANDER, ("1 cup", CORIANDER, "bunch, sprig")),
        ("1 clove", NOTHING, ("1 clove", NOTHING, "write it in g, kg")),
    ],
)
def test_a_unit_that_cannot_become_grams_is_refused(amount: str, food: str, says: tuple[str, ...]) -> None:
    """The error names the amount, the food and every unit that would work."""
    with pytest.raises(InputError) as caught:
        g(amount, food)
    for words in says:
        assert words in str(caught.value)


def _weighable() -> st.SearchStrategy[str]:
    numbers = st.fractions(min_value=0, max_value=40, max_denominator=8)
    units = st.sampled_from([Unit.GRAM, Unit.KILOGRAM, Unit.CUP, Unit.TEASPOON, Unit.TABLESPOON, Unit.MILLILITRE])
    return st.builds(lambda n, u: f"{n} {u}", numbers, units)


@given(_weighable())
def test_printing_then_reading_gives_the_same_grams(amount: str) -> None:
    """What is said of an amount weighs the same as the amount."""
    said = say(read_amount(amount))
    assert grams(said, FLOUR, "dry", HOUSE, weights=WEIGHTS) == grams(amount, FLOUR, "dry", HOUSE, weights=WEIGHTS)


@given(st.integers(1, 50), st.integers(1, 50))
def test_twice_as_many_cups_weigh_twice_as_much(n: int, m: int) -> None:
    """Grams of volumes are linear in the number, the spread too."""
    one, many = (grams(f"{k} cup", FLOUR, "dry", HOUSE, weights=WEIGHTS) for k in (n, n * m))
    assert many.mean == pytest.approx(m * one.mean)
    assert many.sd == pytest.approx(m * one.sd)


def test_what_is_bought_holds_what_is_thrown_away() -> None:
    """A counted amount as purchased weighs more than its edible part; a weighed one is what the scale says."""
    edible = grams("2 bunches", "C033", "whole", HOUSE)
    bought = purchased_grams("2 bunches", "C033", HOUSE)
    assert bought.mean > 1.1 * edible.mean
    assert purchased_grams("500 g", "C033", HOUSE).mean == 500


def test_pods_are_cloves_of_garlic_and_pieces_of_cardamom() -> None:
    """ "2 pods" of a food without cloves counts pieces."""
    assert g("2 pods", ONION) == g("2 pieces", ONION)


@pytest.mark.parametrize(
    ("amount", "food", "form", "low", "high"),
    [
        ("1 cup", "A504", "dry", 80, 115),
        ("1 cup", "K505", "liquid", 239, 241),
        ("1 tsp", "G528", "dry", 5, 7),
        ("1 medium", "G017", "peeled", 60, 110),
        ("2 cloves", "G011", "peeled", 4, 10),
        ("1 inch", "G014", "peeled", 5, 15),
        ("1 bunch", "C033", "whole", 100, 400),
        ("1 pinch", "G019", "dry", 0.03, 0.3),
        ("1 l", "L002", "liquid", 1020, 1045),
        ("10 leaves", "G010", "whole", 0.5, 3),
    ],
)
def test_the_packaged_table_gives_kitchen_weights(amount: str, food: str, form: str, low: float, high: float) -> None:
    """Everyday amounts of the real table lie where a cook would expect them."""
    assert low < grams(amount, food, form, HOUSE).mean < high


def test_every_counted_row_of_the_packaged_table_is_found_by_its_own_words() -> None:
    """Each piece, bunch or clove of the table, said in its form, weighs what its row says."""
    for code, rows in household_weights().items():
        for row in rows:
            if row.ml is None and row.measure.unit is not Unit.PINCH:
                found = grams(str(row.measure), code, row.form or "whole", HOUSE).mean
                assert found == pytest.approx(row.grams.mean), (code, row)
