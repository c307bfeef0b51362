"""Nutrients of a dish obey the laws of bookkeeping, and what is unknown stays unknown."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.composition.samples import (
    ATTA,
    CORIANDER,
    GHEE,
    MILK,
    MOONG,
    MUSTARD_OIL,
    ONION,
    POTATO,
    RAJMA,
    RICE,
    SALT,
    SPINACH,
    SUGAR,
    TOMATO,
    UNKNOWN_GREENS,
    WATER,
    boiled,
    dal,
    dish,
    line,
    salad,
    step,
)

from chauka import tables
from chauka.composition import FREE_SUGARS, Amount, dish_nutrients, everyday_tags
from chauka.composition.matrix import composition
from chauka.errors import DataError
from chauka.kitchen import Dish, Form, Technique
from chauka.units import Estimate

SOLIDS = [SPINACH, POTATO, ONION, TOMATO, RICE, MOONG, RAJMA, ATTA, SALT, SUGAR, CORIANDER, GHEE]
TECHNIQUES = [t for t in Technique if t.cooks]


@st.composite
def dishes(draw: st.DrawFn) -> Dish:
    """A few foods in water, heated in one way or two."""
    foods = draw(st.lists(st.sampled_from(SOLIDS), min_size=1, max_size=5, unique=True))
    lines = [line(f, draw(st.floats(1, 800)), sd=draw(st.floats(0, 30))) for f in foods]
    lines.append(line(WATER, draw(st.floats(0, 1500)), Form.LIQUID, eaten=draw(st.sampled_from([0.0, 0.4, 1.0]))))
    first, second = draw(st.sampled_from(TECHNIQUES)), draw(st.sampled_from(TECHNIQUES))
    steps = [
        step("first", first, draw(st.floats(1, 60)), [x.id for x in lines]),
        step("second", second, draw(st.floats(1, 30)), after=["first"]),
    ]
    return dish(lines, steps, portions=draw(st.floats(0.5, 12)))


@given(dishes())
@settings(max_examples=60, deadline=None)
def test_the_books_balance(made: Dish) -> None:
    """Per 100 g × cooked weight is the total; per portion × portions is the total; nothing is below zero."""
    found = dish_nutrients(made)
    assert set(found.total) == set(everyday_tags())
    for tag, total in found.total.items():
        assert total.mean >= 0
        assert total.sd >= 0
        assert found.per_100g[tag].mean * found.cooked_g.mean / 100 == pytest.approx(total.mean)
        assert found.per_portion[tag].mean * made.portions == pytest.approx(total.mean)
        assert found.per_portion[tag].at_least == found.per_100g[tag].at_least == total.at_least


@given(dishes())
@settings(max_examples=60, deadline=None)
def test_a_dish_weighs_no_more_than_its_lines_and_no_less_than_their_dry_matter(made: Dish) -> None:
    """Cooking drives out water, at most what is there."""
    found = dish_nutrients(made)
    assert found.cooked_g.mean <= found.raw_g.mean + 1e-9
    assert found.total["WATER"].mean >= 0
    assert found.total["WATER"].mean <= found.cooked_g.mean + 1e-9


@given(dishes(), st.floats(0.1, 10))
@settings(max_examples=60, deadline=None)
def test_scaling_a_dish_scales_its_nutrients(made: Dish, k: float) -> None:
    """k times the lines hold k times everything but water, which boils away by the pot, with the same doubt."""
    more = replace(made, lines=tuple(replace(x, grams=x.grams * k) for x in made.lines))
    once, scaled = dish_nutrients(made).total, dish_nutrients(more).total
    for tag in set(once) - {"WATER"}:
        assert scaled[tag].mean == pytest.approx(k * once[tag].mean)
        assert scaled[tag].sd == pytest.approx(k * once[tag].sd)
        assert scaled[tag].at_least == once[tag].at_least


@given(dishes(), st.sampled_from(["C002", "D007", "E012", "L003", "H012", "F002"]), st.floats(0, 500))
@settings(max_examples=60, deadline=None)
def test_a_further_line_never_lowers_a_nutrient(made: Dish, food: str, grams: float) -> None:
    """More food holds at least as much of everything."""
    added = line(food, grams, Form.CUT)
    first = replace(made.steps[0], lines=(*made.steps[0].lines, added.id))
    richer = replace(made, lines=(*made.lines, added), steps=(first, *made.steps[1:]))
    before, after = dish_nutrients(made).total, dish_nutrients(richer).total
    for tag in set(before) - {"WATER"}:
        assert after[tag].mean >= before[tag].mean - 1e-9


@given(dishes(), st.floats(5, 400))
@settings(max_examples=40, deadline=None)
def test_the_unknown_stays_unknown(made: Dish, grams: float) -> None:
    """A food without figures is named in every nutrient that greens may hold, and never changes what is known."""
    added = line(UNKNOWN_GREENS, grams, Form.CHOPPED)
    with_it = replace(made, lines=(*made.lines, added))
    found, without = dish_nutrients(with_it).total, dish_nutrients(made).total
    for tag in set(found) - {"WATER", FREE_SUGARS, "CHOLE", "RETOL", "VITB12"}:
        assert UNKNOWN_GREENS in found[tag].missing
        assert UNKNOWN_GREENS not in without[tag].missing
        assert found[tag].mean == pytest.approx(without[tag].mean)
        assert found[tag].at_least or found[tag].sd >= without[tag].sd - 1e-9


def test_a_lot_of_unknown_greens_makes_the_amounts_at_least() -> None:
    """Half the dish unknown: iron, folate and vitamin C are lower bounds."""
    found = dish_nutrients(salad(line(UNKNOWN_GREENS, 200), line(RICE, 100))).per_portion
    assert found["FE"].at_least
    assert found["FOL"].at_least
    assert found["VITC"].at_least


def test_a_pinch_of_the_unknown_only_widens_the_doubt() -> None:
    """A tenth of a gram that no table knows cannot add 2 %: the amount stands, and still names the food."""
    plain = dish_nutrients(salad(line(SPINACH, 300))).total["FE"]
    pinch = dish_nutrients(salad(line(SPINACH, 300), line(UNKNOWN_GREENS, 0.1))).total["FE"]
    assert not pinch.at_least
    assert UNKNOWN_GREENS in pinch.missing
    assert pinch.sd >= plain.sd


def test_vitamin_b12_that_no_table_here_carries_is_unknown_in_milk_and_none_in_plants() -> None:
    """No measured value anywhere: milk is "at least 0", rice is 0; neither is a silent nought."""
    milk = dish_nutrients(boiled(line(MILK, 500, Form.LIQUID))).total["VITB12"]
    rice = dish_nutrients(salad(line(RICE, 100))).total["VITB12"]
    assert milk.at_least
    assert milk.missing == (MILK,)
    assert rice == Amount(0.0)


def test_nothing_unknown_is_without_a_bound_by_accident() -> None:
    """Every unknown cell has a bound above nought, or one drawn from at least three measured foods of its group."""
    table = composition()
    assert not np.isnan(table.most).any()
    assert not np.isnan(table.sd).any()
    assert (table.most[table.known] == 0).all()
    assert np.isinf(table.most[table.row_of[MILK], table.tags.index("VITB12")])


def test_salt_to_taste_without_an_amount_makes_sodium_at_least() -> None:
    """Nobody knows how much salt: sodium is "at least", protein is not."""
    bare = line(SALT, 0, to_taste=True)
    found = dish_nutrients(salad(line(SPINACH, 300), bare)).total
    assert found["NA"].at_least
    assert not found["PROCNT"].at_least


def test_a_salad_is_the_sum_of_its_table_rows() -> None:
    """Nothing heated: grams × table value ÷ 100, and the weight of the lines."""
    found = dish_nutrients(salad(line(SPINACH, 150), line(TOMATO, 250)))
    assert found.cooked_g.mean == 400
    for tag in ("ENERC_KCAL", "VITC", "FE", "FOL", "CARTB"):
        values = [tables.food(code).value(tag).mean for code in (SPINACH, TOMATO)]
        assert found.total[tag].mean == pytest.approx(1.5 * (values[0] or 0) + 2.5 * (values[1] or 0))


def test_what_is_poured_away_is_not_eaten() -> None:
    """Half the frying oil stays in the pan: half its fat."""
    whole, half = (dish_nutrients(salad(line(MUSTARD_OIL, 50, Form.LIQUID, eaten=e))).total for e in (1.0, 0.5))
    assert half["FAT"].mean == pytest.approx(whole["FAT"].mean / 2)


def test_the_cooks_scale_beats_the_estimate() -> None:
    """A weighed yield is taken as it is and changes what 100 g hold, not what the dish holds."""
    guessed = dish_nutrients(dal())
    weighed = dish_nutrients(replace(dal(), yield_g=Estimate(1000, 5)))
    assert weighed.cooked_g == Estimate(1000, 5)
    assert weighed.how == "weighed by the cook"
    assert weighed.total["PROCNT"] == guessed.total["PROCNT"]
    assert weighed.per_100g["PROCNT"].mean == pytest.approx(weighed.total["PROCNT"].mean / 10)


def test_free_sugars_are_those_of_sugar_not_of_fruit_or_milk() -> None:
    """Sugar counts in full; banana, milk and plain water do not."""
    found = dish_nutrients(salad(line(SUGAR, 20), line("E012", 200), line(MILK, 200, Form.LIQUID), line(WATER, 500)))
    assert found.total[FREE_SUGARS].mean == pytest.approx(20)
    assert found.total["FSUGAR"].mean > 40


def test_spread_of_grams_table_and_retention_all_count() -> None:
    """Doubt about the grams widens the result; certain grams still leave the table's doubt."""
    sure, unsure = (dish_nutrients(boiled(line(SPINACH, 300, sd=sd))).total["VITC"] for sd in (0.0, 90.0))
    assert sure.mean == unsure.mean
    assert 0 < sure.sd < unsure.sd


def test_an_unknown_food_is_an_error_with_its_code() -> None:
    """No silent nothing for a code that no table has."""
    with pytest.raises(DataError, match="Q999"):
        dish_nutrients(salad(line("Q999", 100)))


def test_notes_say_what_is_not_covered() -> None:
    """A heated dish says which losses no table gives; a salad has nothing to say."""
    assert any("Selenium" in note for note in dish_nutrients(dal()).notes)
    assert dish_nutrients(salad(line(SPINACH, 100))).notes == ()


def test_amounts_add_their_doubts_and_their_unknowns() -> None:
    """A sum is at least where a part is, and names all that is missing once."""
    total = Amount.total([Amount(3, 3), Amount(4, 4, True, ("X1",)), Amount(1, 0, True, ("X1", "X2"))])
    assert total == Amount(8, 5, True, ("X1", "X2"))
