"""Published worked examples of nutrient calculation, to the printed digits, through the product's own functions.

Sources: USDA National Nutrient Database for Standard Reference, Release 28 (2016), its documentation ("Food Energy",
"Refuse") and FOOD_DES; Standard Tables of Food Composition in Japan 2020 (8th revised edition), item 06267.

Which test covers which example of the collection: 1 (okra, boiled) test_usda_okra.py; 2, 3 and 4 here; 5 (rice)
test_rice_yield.py.
"""

import pytest

from chauka import tables
from chauka.composition.energy import GENERAL, SPECIFIC, AtwaterGroup, energy_kj, in_purchased, per_pound_as_purchased

G = AtwaterGroup


@pytest.mark.parametrize(
    ("group", "grams", "calculated", "published"),
    [
        (G.VEGETABLE, (1.93, 0.19, 7.45), 32.9, 33),  # okra, raw, NDB 11278
        (G.VEGETABLE, (2.86, 0.39, 3.63), 23.2, 23),  # spinach, raw, NDB 11457
        (G.LENTIL, (24.63, 1.06, 63.35), 352.2, 352),  # lentils, raw, NDB 16069
        (G.WHITE_RICE, (7.13, 0.66, 79.95), 365.4, 365),  # rice, white, long-grain, raw, NDB 20444
    ],
)
def test_energy_by_specific_atwater_factors(
    group: AtwaterGroup, grams: tuple[float, float, float], calculated: float, published: int
) -> None:
    """Example 2, SR28: protein, fat, carbohydrate; the tenth of a kilocalorie calculated, the whole one published."""
    kcal = SPECIFIC[group].kcal(*grams)
    assert round(kcal, 1) == calculated
    assert round(kcal) == published
    assert SPECIFIC[group].source


def test_the_general_factors_are_others() -> None:
    """They give spinach 29 kcal where the specific ones give 23: it matters which are taken."""
    assert GENERAL.kcal(2.86, 0.39, 3.63) == pytest.approx(29.47)


def test_energy_by_components() -> None:
    """Example 3, MEXT 2020, spinach leaves raw: 75.2 kJ calculated, 75 kJ (18 kcal) printed."""
    kj = energy_kj(
        {
            "protein": 1.7,
            "fat": 0.2,
            "carbohydrate, monosaccharide equivalents": 0.3,
            "fibre": 2.8,
            "organic acids": 0.9,
        }
    )
    assert round(kj, 1) == 75.2
    assert round(kj) == 75
    assert round(kj / 4.184) == 18


def test_a_component_without_a_factor_is_an_error() -> None:
    """Nothing is counted as nothing in silence."""
    with pytest.raises(KeyError):
        energy_kj({"alcohol": 1.0})


def test_a_pound_as_purchased() -> None:
    """Example 4, SR28 documentation: calcium of raw okra, 81 mg in 100 g, 14 % refuse: 316 mg in a pound as bought."""
    assert round(per_pound_as_purchased(81, 14)) == 316


def test_as_purchased_by_our_own_edible_shares() -> None:
    """The same sum with a share of the tables: 500 g of okra as bought."""
    share = tables.edible_fraction("D056")
    assert share is not None
    assert 81 * 4 < in_purchased(81, 500, share.mean) <= 81 * 5
