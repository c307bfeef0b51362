"""The demo's dishes can be cooked from: their steps hang together, are safe, fit the house, and feed five."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from datetime import datetime

import pytest

from chauka import tables
from chauka.demo import book, dish_toml, read_dish
from chauka.kitchen import Attention, Course, Dish, Heat, Line, Technique, Vessel
from chauka.scheduling import run_sheet
from chauka.units import KJ_PER_KCAL

BOOK = book()
SERVE = datetime(2027, 3, 15, 19, 30)  # noqa: DTZ001 - local wall time, as everywhere
WATER, RICE, SPINACH, KIDNEY_BEANS = "K505", "A015", "C033", {"B018", "B019", "B020"}

NOT_HERE = re.compile(r"\b(methi|bajra|amla|peas?|gooseberr\w+|pearl millet)\b", re.IGNORECASE)

COOKER_FILL_G = 5_000 * 2 / 3
"""Two thirds of five litres, the mark that makers of pressure cookers give (from memory)."""

KCAL = {
    Course.BREAKFAST: (150, 650),
    Course.PULSE: (120, 320),
    Course.VEGETABLE: (50, 320),
    Course.GRAIN: (220, 450),
    Course.ONE_POT: (280, 560),
    Course.SOUP: (60, 220),
    Course.SIDE: (5, 200),
    Course.SWEET: (50, 350),
    Course.DRINK: (15, 250),
}
"""Raw ingredients' energy per portion, as wide as a sensible dish of the course could be: no source."""

HANDS_ON_MIN = {
    Course.BREAKFAST: 45, Course.PULSE: 20, Course.VEGETABLE: 30, Course.GRAIN: 48, Course.ONE_POT: 25,
    Course.SOUP: 15, Course.SIDE: 25, Course.SWEET: 45, Course.DRINK: 15,
}  # fmt: skip
"""At most so many hands-on minutes on the day itself: no source."""


def dish_id(dish: Dish) -> str:
    """A dish's name in the test report."""
    return dish.id


each_dish = pytest.mark.parametrize("dish", BOOK.dishes, ids=dish_id)


def with_later_steps(dish: Dish, step_id: str) -> set[str]:
    """The step and every step that comes after it."""
    later = {step_id}
    for step in dish.steps:  # a step names only earlier ones
        if any(after.step in later for after in step.after):
            later.add(step.id)
    return later


def eaten(dish: Dish) -> Iterator[tuple[Line, float]]:
    """Every line with the grams of it that end up in the dish."""
    return ((line, line.grams.mean * line.eaten_share) for line in dish.lines)


def test_the_book_has_a_choice_for_every_course() -> None:
    """About 40 to 60 dishes, so that a week need not repeat itself."""
    assert 40 <= len(BOOK.dishes) <= 60
    counts = Counter(dish.course for dish in BOOK.dishes)
    assert all(counts[course] >= 2 for course in Course)
    assert counts[Course.PULSE] >= 8
    assert counts[Course.GRAIN] >= 7


@each_dish
def test_a_dish_is_for_five_and_about_something_in_it(dish: Dish) -> None:
    """Batches that are eaten over days may be larger."""
    assert dish.portions == 5 or dish.batch
    assert dish.base in dish.foods


@each_dish
def test_every_step_leads_to_one_last_step(dish: Dish) -> None:
    """Otherwise a pan would be left on the stove."""
    followed = {after.step for step in dish.steps for after in step.after}
    last = [step.id for step in dish.steps if step.id not in followed]
    assert len(last) == 1
    assert all(last[0] in with_later_steps(dish, step.id) for step in dish.steps)


@each_dish
def test_heat_and_cooking_go_together(dish: Dish) -> None:
    """A step that changes food by heat stands on a flame, and only such a step does."""
    assert all((step.heat is not Heat.NONE) == step.technique.cooks for step in dish.steps)


@each_dish
def test_nothing_of_another_season_is_spoken_of(dish: Dish) -> None:
    """Nor may it stand in for something else."""
    said = [dish.name, dish.story, *(step.text for step in dish.steps), *(line.said for line in dish.lines)]
    said += [substitute.note for line in dish.lines for substitute in line.substitutes]
    assert not NOT_HERE.search(" ".join(said))


@each_dish
def test_a_closed_cooker_rests_from_the_moment_it_leaves_the_flame(dish: Dish) -> None:
    """For five minutes at least, and it is filled to two thirds at most."""
    for cook in (s for s in dish.steps if s.technique is Technique.PRESSURE_COOK):
        (rest,) = (s for s in dish.steps if any(a.step == cook.id for a in s.after))
        assert [a.max_lag_min for a in rest.after] == [0]
        assert rest.minutes.low >= 5
    if any(step.vessel is Vessel.PRESSURE_COOKER for step in dish.steps):
        assert sum(grams for _, grams in eaten(dish)) <= COOKER_FILL_G


@each_dish
def test_what_was_soaked_sprouted_or_picked_does_not_wait_for_ever(dish: Dish) -> None:
    """The step that follows says how long it may wait."""
    waits = (Technique.SOAK, Technique.SPROUT, Technique.PICK)
    lags = [after.max_lag_min for s in dish.steps for after in s.after if dish.step(after.step).technique in waits]
    assert None not in lags


@each_dish
def test_kidney_beans_are_soaked_and_cooked_hard(dish: Dish) -> None:
    """They hold a toxin that only a full boil destroys, and the dish says so."""
    if dish.foods & KIDNEY_BEANS:
        soak, cook = (
            next(s for s in dish.steps if s.technique is t) for t in (Technique.SOAK, Technique.PRESSURE_COOK)
        )
        assert soak.minutes.low >= 300
        assert cook.minutes.low >= 30
        assert any("toxin" in caution for caution in dish.cautions)


@each_dish
def test_cooked_rice_is_kept_a_day_at_most(dish: Dish) -> None:
    """As the UK guidance in the table of food rules has it."""
    heaviest = max((line for line in dish.lines if line.food != WATER), key=lambda line: line.grams.mean)
    if heaviest.food == RICE and dish.kept:
        assert dish.kept.days.high <= 1


@each_dish
def test_hands_on_minutes_fit_a_day_with_other_work(dish: Dish) -> None:
    """Every dish takes some work, and none takes the evening."""
    assert any(step.attention is Attention.HANDS_ON for step in dish.steps)
    assert dish.hands_on_min <= HANDS_ON_MIN[dish.course]


@each_dish
def test_a_portions_energy_is_that_of_its_course(dish: Dish) -> None:
    """Reckoned from the raw ingredients; a slip of the pen by a factor of two would show."""
    kj = sum(grams / 100 * (tables.food(line.food).value("ENERC").mean or 0.0) for line, grams in eaten(dish))
    low, high = KCAL[dish.course]
    assert low <= kj / KJ_PER_KCAL / dish.portions <= high


@each_dish
def test_a_dish_survives_being_written_and_read_again(dish: Dish) -> None:
    """Nothing of a dish is lost in its file."""
    assert read_dish(dish_toml(dish), f"{dish.id}.toml") == dish


def test_spinach_dishes_name_other_leaves() -> None:
    """A cook who finds no spinach is not sent home."""
    leaves = [d.line(line.id) for d in BOOK.dishes for line in d.lines if line.food == SPINACH == d.base]
    assert len(leaves) >= 3
    assert all(len(line.substitutes) >= 2 for line in leaves)


@pytest.mark.parametrize("dish", [d for d in BOOK.dishes if not all(s.ahead for s in d.steps)], ids=dish_id)
def test_a_dish_comes_to_the_table_in_time(dish: Dish) -> None:
    """Its lags, vessels and flames can all be had in this house, within two hours of the meal."""
    sheet = run_sheet([(dish, 5)], BOOK.house, SERVE, seconds=5)
    assert not sheet.clashes
    assert (SERVE - min(entry.start for entry in sheet.entries)).total_seconds() <= 2 * 3600


@pytest.mark.parametrize(
    "dinner",
    [
        ("spinach-dal-with-lemon", "new-potatoes-gutke", "wheat-flatbread"),
        ("radish-yoghurt-gravy", "amaranth-with-potato", "cumin-rice"),
        ("sprouted-moong", "bottle-gourd-with-tomato", "finger-millet-flatbread"),
    ],
)
def test_a_weekday_dinner_is_hot_at_half_past_seven(dinner: tuple[str, ...]) -> None:
    """Three dishes, two flames, one cook: an hour of work at most, none late."""
    dishes = [BOOK.dish(name) for name in dinner]
    sheet = run_sheet([(dish, 5) for dish in dishes], BOOK.house, SERVE, seconds=5)
    assert not sheet.clashes
    assert sheet.proof.terms["lateness"] == 0
    assert sum(dish.hands_on_min for dish in dishes) <= 60
