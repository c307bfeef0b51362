"""The cooked weight follows from water, heat and time, and a published yield where there is nothing better."""

import pytest
from tests.composition.samples import ATTA, GHEE, POTATO, RAJMA, RICE, SALT, SPINACH, WATER, boiled, dish, line, step

from chauka.composition.flow import passages
from chauka.composition.weight import CookedWeight, cooked_weight, evaporation, water_share, yield_by_solids
from chauka.kitchen import Dish, Form, Heat, Technique


def weight(made: Dish) -> CookedWeight:
    return cooked_weight(made, passages(made))


def simmered(minutes: float, heat: Heat = Heat.MEDIUM, grams: float = 1000) -> float:
    return weight(boiled(line(WATER, grams, Form.LIQUID), minutes=minutes, heat=heat)).cooked_g.mean


def test_longer_and_hotter_boils_more_away() -> None:
    """Weight falls with minutes and with the flame."""
    assert simmered(20) > simmered(30) > simmered(40)
    assert simmered(30, Heat.LOW) > simmered(30, Heat.MEDIUM) > simmered(30, Heat.HIGH)


def test_water_must_be_hot_before_it_boils_away() -> None:
    """Five minutes on a medium flame only warm a litre; a big pot loses less than a small one."""
    assert simmered(5) == 1000
    assert 3000 - simmered(40, grams=3000) < 1000 - simmered(40, grams=1000)


def test_nothing_boils_away_that_is_not_there() -> None:
    """An hour on a high flame leaves at least the dry matter and a quarter of the water."""
    made = boiled(line(SPINACH, 500, Form.CHOPPED), minutes=60, heat=Heat.HIGH)
    dry = 500 * (1 - water_share(SPINACH))
    assert weight(made).cooked_g.mean >= dry + 0.2 * (500 - dry)


def test_boiled_rice_weighs_as_published() -> None:
    """Rice in 2.1 times its weight of water weighs 2.4 to 3.0 times the raw rice (USDA by solids: 2.8)."""
    lines = [line(RICE, 400), line(WATER, 850, Form.LIQUID)]
    made = dish(lines, [step("boil", Technique.BOIL, 22, [x.id for x in lines])])
    assert 2.4 < weight(made).cooked_g.mean / 400 < 3.0


def test_flatbread_loses_what_breads_lose() -> None:
    """A dough of 100 flour and 68 water bakes to 0.84–0.92 of its weight (table: 0.88 ± 0.04)."""
    lines = [line(ATTA, 400), line(WATER, 270, Form.LIQUID)]
    made = dish(lines, [step("bake", Technique.GRIDDLE, 20, [x.id for x in lines])])
    assert 0.84 < weight(made).cooked_g.mean / 670 < 0.92


def test_a_dish_that_is_not_heated_keeps_its_weight_and_its_certainty() -> None:
    """Mixing loses nothing."""
    made = dish([line(SPINACH, 100, sd=3), line(GHEE, 10, sd=4)], [step("mix", Technique.MIX, 2, ["c033", "t506"])])
    assert weight(made).cooked_g == weight(made).raw_g
    assert weight(made).cooked_g.sd == pytest.approx(5)


def test_a_single_food_boiled_in_water_nobody_listed_follows_the_yield_table() -> None:
    """Kidney beans boiled and drained: 2.4 times (USDA SR28, Table 22)."""
    made = dish([line(RAJMA, 200), line(SALT, 3)], [step("boil", Technique.BOIL, 60, ["b020", "g528"])])
    assert weight(made).cooked_g.mean == pytest.approx(2.4 * 203)
    assert "Table 22" in weight(made).how


def test_water_that_is_poured_away_weighs_nothing() -> None:
    """Potatoes boiled in a litre that goes down the drain weigh what they weighed."""
    lines = [line(POTATO, 500, Form.WASHED), line(WATER, 1000, Form.LIQUID, eaten=0.0)]
    made = dish(lines, [step("boil", Technique.BOIL, 20, [x.id for x in lines])])
    assert weight(made).cooked_g.mean == 500


def test_whistles_let_steam_out() -> None:
    """A pressure cooker loses water only by its whistles."""
    lines = [line(WATER, 800, Form.LIQUID)]
    makes = [dish(lines, [step("cook", Technique.PRESSURE_COOK, 15, ["k505"], whistles=n)]) for n in (0, 3)]
    lost = [sum(evaporation(m, passages(m)).values()) for m in makes]
    assert lost == [0, pytest.approx(36)]


def test_water_in_foods_without_a_figure_is_what_the_rest_leaves() -> None:
    """Salt and sugar are dry, curd and spring onion are mostly water, unknown greens are as greens are."""
    assert water_share(SALT) < 0.01
    assert water_share("I502") < 0.01
    assert 0.8 < water_share("L520") < 0.9
    assert water_share(WATER) == 1
    assert 0.8 < water_share("G547") < 0.95
    assert 0.8 < water_share("X901") < 0.92
    assert water_share("G523") < 0.5


def test_yield_by_solids_of_equal_waters_is_one() -> None:
    """Nothing gained, nothing lost."""
    assert yield_by_solids(80, 80) == 1
    assert yield_by_solids(80, 90) == pytest.approx(2)
