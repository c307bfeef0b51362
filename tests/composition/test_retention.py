"""The published row that stands for a way of cooking is the one a reader would pick."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.composition.samples import (
    ATTA,
    CORIANDER,
    CUMIN,
    GHEE,
    MILK,
    MOONG,
    ONION,
    POTATO,
    RAJMA,
    RICE,
    SALT,
    SPINACH,
    TOMATO,
    WATER,
    dal,
    dish,
    line,
    step,
)

from chauka import tables
from chauka.composition.flow import passages
from chauka.composition.learned import Factors
from chauka.composition.retention import (
    COVERED,
    Retention,
    description,
    factors,
    published_factors,
    retention,
    spread,
)
from chauka.composition.retention_codes import CODES, MILK_BY_MINUTES, PULSE_BY_MINUTES
from chauka.composition.retention_groups import _BY_CODE, RetentionGroup, retention_group
from chauka.errors import DataError
from chauka.kitchen import Form, Technique, Vessel


def cooked(
    food: str,
    *ways: tuple[Technique, float],
    form: Form = Form.CUT,
    water: float | None = None,
    which: Factors = Factors.LEARNED,
) -> Retention:
    """The retention of a food that passes these techniques; `water` is the eaten share of its water, if it has any."""
    lines = [line(food, 300, form)] + ([line(WATER, 900, Form.LIQUID, eaten=water)] if water is not None else [])
    steps = []
    for n, (technique, minutes) in enumerate(ways):
        named = [x.id for x in lines] if n == 0 else []
        steps.append(step(f"s{n}", technique, minutes, named, after=[f"s{n - 1}"] if n else []))
    return retention(passages(dish(lines, steps))[lines[0].id], which)


T = Technique


@pytest.mark.parametrize(
    ("food", "ways", "form", "water", "codes"),
    [
        (SPINACH, [(T.BLANCH, 2)], Form.WASHED, None, (3005,)),
        (SPINACH, [(T.BOIL, 8)], Form.CUT, 1.0, (3006,)),
        (SPINACH, [(T.SAUTE, 6)], Form.CUT, None, (3015,)),
        (POTATO, [(T.PRESSURE_COOK, 12)], Form.WASHED, 0.0, (3307,)),
        (POTATO, [(T.BOIL, 15)], Form.PEELED, 0.0, (3308,)),
        (POTATO, [(T.SIMMER, 15)], Form.CUT, 1.0, (3309,)),
        (POTATO, [(T.BOIL, 15), (T.SAUTE, 8)], Form.WASHED, 0.0, (3310,)),
        (ONION, [(T.SAUTE, 12)], Form.CHOPPED, None, (3465,)),
        (TOMATO, [(T.SIMMER, 10)], Form.CHOPPED, None, (3751,)),
        (TOMATO, [(T.SAUTE, 6)], Form.CHOPPED, None, (3752,)),
        ("D007", [(T.STEAM, 10)], Form.CUT, None, (3784,)),
        (MOONG, [(T.PRESSURE_COOK, 12)], Form.DRY, 1.0, (502,)),
        (MOONG, [(T.BOIL, 25)], Form.DRY, 0.0, (501,)),
        (RAJMA, [(T.PRESSURE_COOK, 30)], Form.SOAKED, 1.0, (522,)),
        (RAJMA, [(T.SIMMER, 150)], Form.SOAKED, 1.0, (542,)),
        (RAJMA, [(T.BOIL, 60), (T.SAUTE, 10)], Form.SOAKED, 1.0, (526,)),
        (MOONG, [(T.SAUTE, 6)], Form.SPROUTED, None, (3785,)),
        (MOONG, [(T.ROAST, 6)], Form.DRY, None, (306,)),
        (RICE, [(T.BOIL, 20)], Form.DRY, 1.0, (432,)),
        (RICE, [(T.BOIL, 15)], Form.DRY, 0.1, (431,)),
        (RICE, [(T.SAUTE, 3), (T.BOIL, 20)], Form.DRY, 1.0, (433,)),
        (ATTA, [(T.GRIDDLE, 20)], Form.DRY, None, (301,)),
        ("A504", [(T.DEEP_FRY, 10)], Form.DRY, None, (305,)),
        ("A022", [(T.ROAST, 8), (T.SIMMER, 12)], Form.DRY, 1.0, (302, 304)),
        (MILK, [(T.BOIL, 12)], Form.LIQUID, None, (2151,)),
        (MILK, [(T.SIMMER, 60)], Form.LIQUID, None, (2153,)),
        (MILK, [(T.GRIDDLE, 30)], Form.LIQUID, None, (2151,)),
        ("L003", [(T.SIMMER, 8)], Form.CUT, None, (5,)),
        ("H012", [(T.ROAST, 8)], Form.DRY, None, (2203,)),
        ("E033", [(T.BOIL, 3)], Form.LIQUID, None, (270,)),
    ],
)
def test_row_for_a_way_of_cooking(
    food: str, ways: list[tuple[Technique, float]], form: Form, water: float | None, codes: tuple[int, ...]
) -> None:
    """Food, form, technique, time and the fate of the water choose the published row."""
    assert cooked(food, *ways, form=form, water=water).codes == codes


@pytest.mark.parametrize("food", [SALT, GHEE, CUMIN, WATER])
def test_spices_fats_and_salt_have_no_published_loss(food: str) -> None:
    """They are kept in full, and the dish says so."""
    kept = cooked(food, (T.SAUTE, 5))
    assert kept.codes == ()
    assert kept.factor("VITC") == 1
    assert kept.how == "no published retention"


def test_a_raw_garnish_is_untouched() -> None:
    """Coriander strewn over hot dal keeps everything."""
    kept = retention(passages(dal())["g009"])
    assert kept.how == "not heated"
    assert all(kept.factor(tag) == 1 for tag in COVERED)


def test_boiled_then_stored_then_fried_loses_more() -> None:
    """A potato boiled the day before and browned today has its own published row."""
    lines = [line(POTATO, 300, Form.WASHED), line(WATER, 900, Form.LIQUID, eaten=0.0)]
    steps = [
        step("boil", T.BOIL, 20, [x.id for x in lines], ahead=True),
        step("fry", T.SAUTE, 8, after=["boil"], vessel=Vessel.WOK),
    ]
    assert retention(passages(dish(lines, steps))[lines[0].id]).codes == (3311,)


def test_a_short_second_step_does_not_count_and_a_long_one_counts_once() -> None:
    """Two minutes more on the flame change nothing; ten count as heating again."""
    assert cooked(SPINACH, (T.SIMMER, 10), (T.SIMMER, 2)).codes == (3006,)
    assert cooked(SPINACH, (T.SIMMER, 10), (T.SIMMER, 8)).codes == (3006, 3018)
    assert cooked(SPINACH, (T.SIMMER, 10), (T.SIMMER, 8), (T.SIMMER, 8)).codes == (3006, 3018)


def test_pouring_the_water_away_never_keeps_more() -> None:
    """For every food, mineral and vitamin: drained ≤ water used. (Nobody measured rice both ways.)"""
    for which in Factors:
        for food in (SPINACH, POTATO, ONION, "D007", MOONG, RAJMA, *([RICE] if which is Factors.PUBLISHED else [])):
            poured, used = (cooked(food, (T.BOIL, 20), form=Form.PEELED, water=w, which=which) for w in (0.0, 1.0))
            for tag in COVERED:
                assert poured.factor(tag) <= used.factor(tag) + 1e-9, (food, tag)


def test_every_code_used_is_published() -> None:
    """No row of ours points at a code that the table lacks."""
    codes = {c for ways in CODES.values() for c in ways.values()}
    codes |= {3307, 3310, 3311, 433, 382} | {c for _, c in MILK_BY_MINUTES}
    codes |= {c + n for _, c in PULSE_BY_MINUTES for n in range(6)}
    for code in codes:
        assert description(code)
        assert set(factors(code)) <= COVERED
        assert all(0 < f <= 1 for f in factors(code).values())


def test_every_pulse_row_is_what_its_offset_says() -> None:
    """The codes after "boiled, drained" are in the order that the code relies on."""
    for _, base in PULSE_BY_MINUTES:
        names = [description(base + n) for n in range(6)]
        assert "DRAIN" in names[0].replace("DRND", "DRAIN")
        assert "WATER USED" in names[1]
        assert names[2].endswith("BKD")
        assert names[3].endswith("BOILED+BAKED")
        assert names[4].endswith("FRIED")
        assert names[5].endswith("BOILED+FRIED")


def test_every_food_listed_by_code_exists() -> None:
    """The lists of exceptions name real foods."""
    for code in _BY_CODE:
        assert tables.food(code).code == code


def test_groups_of_some_foods() -> None:
    """A few that are easy to get wrong."""
    assert retention_group("A504") is RetentionGroup.FLOUR
    assert retention_group(CORIANDER) is RetentionGroup.GREENS
    assert retention_group("G014") is RetentionGroup.ROOTS
    assert retention_group("G008") is RetentionGroup.VEGETABLE
    assert retention_group("L003") is RetentionGroup.CHEESE
    assert retention_group("G033") is None


def test_an_unpublished_code_is_an_error() -> None:
    """The error names the table."""
    with pytest.raises(DataError, match="Release 6 has no code 9999"):
        published_factors(9999)


@given(st.sampled_from(sorted(COVERED)), st.floats(0, 1))
@settings(max_examples=50)
def test_the_more_is_lost_the_less_is_sure(tag: str, factor: float) -> None:
    """The spread grows with the loss, and raw food has none."""
    assert spread(tag, factor, heated=True) >= spread(tag, 1.0, heated=True) > 0
    assert spread(tag, factor, heated=False) == 0
    assert spread("PROCNT", 1.0, heated=True) == 0
