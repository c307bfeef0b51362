"""The demo's house, market and shelf: they read, they fit together, and what is wrong in them is named."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta
from importlib.resources import files

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka import tables
from chauka.demo import START, book
from chauka.demo.fields import package_text
from chauka.demo.house import house, read_house
from chauka.demo.market import offers, read_offers
from chauka.demo.shelf import MORNING, lots, read_lots
from chauka.errors import InputError
from chauka.kitchen import (
    Attention,
    Condition,
    Cook,
    Course,
    Dish,
    Form,
    Heat,
    Meal,
    Place,
    RuleKind,
    Technique,
    Vessel,
    sittings,
)

WATER = "K505"
NOT_IN_THIS_SPRING = {"C020", "X905", "E021", "E507", "E515", "D061", "B017", "A003"}
"""Fenugreek leaves, gooseberries, peas, pearl millet: foods of another season, which the demo leaves out."""

BOOK = book()
DISH_IDS = {entry.name.removesuffix(".toml") for entry in files("chauka.demo").joinpath("dishes").iterdir()}
SALTS = {"G528", "G540"}
MOST_SALT_G = {Course.SIDE: 0.8, Course.DRINK: 0.8, Course.SWEET: 0.0}


def named(dish: Dish) -> str:
    """A dish's name in the test report."""
    return dish.id


each_dish = pytest.mark.parametrize("dish", BOOK.dishes, ids=named)


# -- house ------------------------------------------------------------------------------------


def test_a_house_file_may_tell_of_small_burners_the_bench_and_who_cooks() -> None:
    """None of which the demo house's own file says."""
    more = "small_burners = 1\nbench_places = 1\n" + package_text("house.toml")
    more += '\n[[cook]]\nname = "Tara"\ncannot = ["deep-fry", "temper"]\npace = 1.5\n'
    read = read_house(more, "house.toml")
    assert (read.small_burners, read.bench_places) == (1, 1)
    assert read.crew == (Cook("Tara", frozenset({Technique.DEEP_FRY, Technique.TEMPER}), 1.5),)


def test_five_people_eat_at_three_sittings_a_day() -> None:
    """The week has 21 sittings with all five at the table."""
    week = sittings(house(), START, 7)
    assert len(week) == 21
    assert {len(s.eaters) for s in week} == {5}


def test_the_people_are_those_of_the_scenario() -> None:
    """A grandmother with low-salt advice, a pregnant woman, a man, a teenager and a six-year-old."""
    ages = {p.id: int(p.age_years(START)) for p in house().people}
    assert ages == {"basanti": 68, "nirmala": 31, "girish": 35, "tara": 15, "kunal": 6}
    assert house().person("basanti").conditions == {Condition.LOW_SALT}
    assert house().person("nirmala").conditions == {Condition.PREGNANT}
    assert house().person("kunal").chilli <= 1


def test_tuesday_is_without_onion_and_garlic() -> None:
    """The rule holds at every sitting of the Tuesday and at no other."""
    held = {s.day.weekday() for s in sittings(house(), START, 7) if RuleKind.NO_ONION_GARLIC in s.rules}
    assert held == {1}


def test_everybody_has_tastes_and_they_name_dishes_of_the_book() -> None:
    """No liking points to a dish that is not there."""
    for person in house().people:
        assert len(person.liking) >= 10, person.name
        assert set(person.liking) <= DISH_IDS, person.name


def test_allergies_and_aversions_are_known_to_the_tables() -> None:
    """An allergen that no food carries would protect nobody."""
    carried = frozenset[str]().union(*(tables.allergens(code) for code in tables.foods()))
    for person in house().people:
        assert person.allergies <= carried
        assert all(tables.food(code) for code in person.aversions)


def test_the_house_has_every_vessel_that_its_dishes_ask_for() -> None:
    """A dish that needs a vessel the house lacks could never be cooked."""
    asked = {step.vessel for dish in BOOK.dishes for step in dish.steps if step.vessel}
    assert all(house().vessel_count(kind) for kind in asked)


def test_weekday_breakfasts_do_not_run_out() -> None:
    """Five breakfasts fit the shortest morning, so that no working day repeats one."""
    shortest = min(m.hands_on_min for m in house().meal_times if m.meal is Meal.BREAKFAST)
    fitting = [d.id for d in BOOK.dishes if d.course is Course.BREAKFAST and d.hands_on_min <= shortest]
    assert len(fitting) >= 5, fitting


# -- market and shelf -------------------------------------------------------------------------


@each_dish
def test_every_food_can_be_bought_or_is_there(dish: Dish) -> None:
    """Each line's food has an offer or a lot."""
    there = {o.food for o in BOOK.offers} | {lot.food for lot in BOOK.lots} | {WATER}
    assert {line.food: line.said for line in dish.lines if line.food not in there} == {}


def test_all_foods_are_in_the_tables_and_of_this_season() -> None:
    """Nothing is sold or kept that the composition tables do not know, nothing of another season."""
    codes = {o.food for o in offers()} | {lot.food for lot in lots() if lot.food}
    used = codes.union(*(dish.foods for dish in BOOK.dishes))
    assert all(tables.food(code) for code in codes)
    assert not used & NOT_IN_THIS_SPRING


def test_every_offer_is_cooked_with() -> None:
    """The market list is not longer than the dish book needs."""
    used = frozenset[str]().union(*(dish.foods for dish in BOOK.dishes))
    assert {o.pack for o in offers() if o.food not in used} == set()


def test_offers_stand_once_and_on_days_when_somebody_sells() -> None:
    """Only dairy comes to the door between markets; larger packs are cheaper by the gram."""
    assert len({(o.food, o.pack) for o in offers()}) == len(offers())
    for offer in offers():
        assert offer.stall == "dairy" or set(offer.weekdays) <= set(house().market_weekdays), offer.pack
    for one in offers():
        for other in offers():
            if one.food == other.food and one.grams > other.grams:
                assert one.price / one.grams <= other.price / other.grams, one.pack


@given(on=st.dates(date(2000, 1, 1), date(2100, 1, 1)))
def test_lots_have_the_same_ages_on_any_first_morning(on: date) -> None:
    """Moving the first day moves every lot with it."""
    then = lots(on)
    assert [(lot.id, lot.grams, lot.age_days) for lot in then] == [(x.id, x.grams, x.age_days) for x in lots()]
    shift = on - START
    assert all(lot.since - was.since == shift for lot, was in zip(then, lots(), strict=True))


def test_every_lot_stands_where_its_form_belongs() -> None:
    """What was cut, soaked, set, boiled or milked stands cold and covered; dry goods stand covered."""
    cold = {Form.CUT, Form.CHOPPED, Form.GRATED, Form.SOAKED, Form.SPROUTED, Form.BOILED, Form.SET}
    now = datetime.combine(START, MORNING)
    for lot in lots():
        lot.check_not_from_the_future(now)
        if lot.form in cold or (lot.food and "dairy" in tables.traits(lot.food) and lot.form is not Form.LIQUID):
            assert lot.place is Place.FRIDGE, lot.id
            assert lot.covered, lot.id
        if lot.form is Form.DRY:
            assert lot.covered, lot.id
        if lot.food and "leafy_green" in tables.traits(lot.food):
            assert lot.place is Place.FRIDGE, lot.id


def test_the_shelf_holds_finished_dishes_worth_a_sitting() -> None:
    """What was put by feeds everybody once, else no plan can use it."""
    ready = {lot.dish: lot.grams for lot in lots() if lot.dish}
    assert len(ready) >= 2
    for dish_id, grams in ready.items():
        dish = BOOK.dish(dish_id or "")
        raw_g = sum(line.grams.mean * line.eaten_share for line in dish.lines)
        assert grams >= 5 * raw_g / dish.portions


# -- dishes -----------------------------------------------------------------------------------


@each_dish
def test_every_line_goes_in_at_one_step(dish: Dish) -> None:
    """No line is forgotten and none goes in twice."""
    going_in = [line for step in dish.steps for line in step.lines]
    assert sorted(going_in) == sorted(line.id for line in dish.lines)


@each_dish
def test_pressure_is_let_fall_before_the_lid_opens(dish: Dish) -> None:
    """After every pressure-cooking step the same vessel rests off the flame."""
    for step in dish.steps:
        if step.technique is Technique.PRESSURE_COOK:
            after = [s for s in dish.steps if any(a.step == step.id for a in s.after)]
            assert after
            assert all(s.vessel is Vessel.PRESSURE_COOKER and s.heat is Heat.NONE for s in after)
            assert all(s.attention is Attention.HANDS_OFF for s in after)


@each_dish
def test_a_temper_is_poured_at_once(dish: Dish) -> None:
    """A ladle of bloomed spices waits a minute at most."""
    for step in dish.steps:
        if step.technique is Technique.TEMPER and step.vessel is Vessel.LADLE:
            lags = [a.max_lag_min for s in dish.steps for a in s.after if a.step == step.id]
            assert lags
            assert all(lag is not None and lag <= 1 for lag in lags)


@each_dish
def test_a_flame_has_a_vessel_and_long_waits_are_ahead(dish: Dish) -> None:
    """Heat needs something to stand under; what takes over two hours is not left for the session."""
    for step in dish.steps:
        assert step.heat is Heat.NONE or step.vessel, step.id
        assert step.ahead or step.minutes.high <= 120, step.id


@each_dish
def test_salt_is_modest(dish: Dish) -> None:
    """A portion of a main dish holds no more than 1.3 g of salt, of a small one 0.8 g."""
    salt_g = sum(line.grams.mean for line in dish.lines if line.food in SALTS) / dish.portions
    assert salt_g <= MOST_SALT_G.get(dish.course, 1.3)


@each_dish
def test_kept_days_are_conservative(dish: Dish) -> None:
    """Nothing is kept longer than a week, a dish of greens no longer than two days, raw herbs three."""
    if dish.kept:
        assert dish.kept.days.high <= 7
        assert dish.kept.why
        if "leafy_green" in tables.traits(dish.base):
            assert dish.kept.days.high <= (3 if dish.course is Course.SIDE else 2)


def test_half_of_the_dishes_do_without_onion_and_garlic() -> None:
    """A Tuesday must not be a day of poor choice."""
    without = [
        dish
        for dish in BOOK.dishes
        if not any("onion_garlic" in tables.traits(line.food) for line in dish.lines if not line.optional)
    ]
    assert len(without) >= len(BOOK.dishes) / 2
    for course in (Course.PULSE, Course.VEGETABLE, Course.GRAIN):
        assert sum(d.course is course for d in without) >= 3, course


def test_dishes_have_names_in_devanagari_and_a_story() -> None:
    """Every dish says its Hindi name and why one would cook it."""
    for dish in BOOK.dishes:
        assert all("\u0900" <= sign <= "\u097f" or sign in " ,-()" for sign in dish.names["hi"]), dish.id
        assert dish.story, dish.id


def test_a_weekday_dinner_of_three_dishes_fits_its_hour() -> None:
    """Half of the pulse, vegetable and grain dishes cook together within the hands-on minutes of a weekday dinner."""
    hour = min(m.hands_on_min for m in house().meal_times if m.meal is Meal.DINNER)
    middle = 0.0
    for course in (Course.PULSE, Course.VEGETABLE, Course.GRAIN):
        minutes = sorted(d.hands_on_min for d in BOOK.dishes if d.course is course)
        middle += minutes[len(minutes) // 2]
    assert middle <= hour


# -- refusals ---------------------------------------------------------------------------------


def shelf_of(text: str, file: str) -> object:
    """The lots of a text on the first morning."""
    return read_lots(text, file, datetime.combine(START, MORNING))


@pytest.mark.parametrize(
    ("file", "read", "good", "bad", "named"),
    [
        ("house.toml", read_house, "burners = 2", "burners = 0", ("house.toml", "burners", "at least one burner")),
        ("house.toml", read_house, "burners = 2", "", ("house.toml.burners", "is missing")),
        ("house.toml", read_house, "burners = 2", "burners = true", ("burners", "True is not a whole number")),
        ("house.toml", read_house, "burners = 2", "burners = ", ("house.toml", "is not TOML", "line")),
        ("house.toml", read_house, "born = 1958-11-02", 'born = "long ago"', ("person basanti.born", "is not a date")),
        ("house.toml", read_house, "serve = 07:45:00", "serve = 7", ("meal breakfast.serve", "is not a time")),
        ("house.toml", read_house, 'sex = "male"', 'sex = "man"', ("person girish.sex", "none of female, male")),
        ("house.toml", read_house, "weight_kg = 52", "weight_kg = 520", ("person basanti", "520 kg cannot be right")),
        ("house.toml", read_house, '"tuesday"]\n', '"mardi"]\n', ("'mardi' is no weekday", "monday")),
        ("house.toml", read_house, "activity = 1.5", "activty = 1.5", ("activty", "is no key here", "activity")),
        (
            "market.toml",
            read_offers,
            "grams = 400",
            "grams = -1",
            ("market.toml stall greens offer 1 bunch of mustard",),
        ),
        ("market.toml", read_offers, "rupees = 62", 'rupees = "62"', ("offer 1 litre of milk.rupees", "whole number")),
        ("market.toml", read_offers, 'food = "C033", ', "", ("offer 1 bunch of spinach.food", "is missing")),
        ("shelf.toml", shelf_of, "here_days = 0.5", "here_days = -1", ("lot milk", "is still to come")),
        ("shelf.toml", shelf_of, 'food = "C033"', "", ("shelf.toml lot spinach", "either of a food or of a dish")),
        ("shelf.toml", shelf_of, 'place = "fridge"', 'place = "cellar"', ("lot spinach.place", "counter, cupboard")),
    ],
)
def test_bad_entries_are_refused_by_name(
    file: str, read: Callable[[str, str], object], good: str, bad: str, named: tuple[str, ...]
) -> None:
    """The complaint says which file, which entry and which key, and what would do."""
    text = package_text(file)
    assert good in text
    with pytest.raises(InputError) as refusal:
        read(text.replace(good, bad, 1), file)
    for words in named:
        assert words in str(refusal.value)


def test_all_complaints_of_an_entry_come_at_once() -> None:
    """Two wrong keys of one lot are both named."""
    text = '[[lot]]\nid = "x"\nfood = "C033"\ngrams = "much"\nform = "wet"\nplace = "fridge"\nhere_days = 1\n'
    with pytest.raises(InputError) as refusal:
        read_lots(text, "shelf.toml", datetime.combine(START, MORNING) + timedelta(days=1))
    assert set(refusal.value.fields) == {"shelf.toml lot x.grams", "shelf.toml lot x.form"}
