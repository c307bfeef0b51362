"""Reading a dish file: what it means, and what it refuses in which words."""

from __future__ import annotations

import pytest

from chauka.demo import read_dish
from chauka.errors import InputError
from chauka.kitchen import After, Attention, Course, Form, Heat, Measures, Place, Served, Technique, Vessel
from chauka.units import Estimate, Span

DAL = """
name = "Plain dal"
names = { hi = "सादी दाल" }
course = "pulse"
base = "B010"
portions = 5

[[line]]
id = "dal"
food = "B010"
said = "split moong dal"
amount = "200 g"
form = "dry"

[[line]]
id = "water"
food = "K505"
said = "water"
amount = "4 cups"
form = "liquid"

[[step]]
id = "wash"
text = "Wash the dal."
technique = "wash"
minutes = 2
attention = "hands-on"
lines = ["dal"]

[[step]]
id = "cook"
text = "Cook it."
technique = "pressure-cook"
minutes = [12, 15]
attention = "now-and-then"
vessel = "pressure cooker"
heat = "high"
after = [{ step = "wash", max = 60 }]
lines = ["water"]
whistles = 3
"""


def complaints(text: str, where: str = "plain-dal.toml") -> str:
    """Everything that is wrong with a file, as the user sees it."""
    with pytest.raises(InputError) as refused:
        read_dish(text, where)
    return str(refused.value)


def test_a_file_becomes_a_dish_whose_id_is_the_files_stem() -> None:
    dish = read_dish(DAL, "dishes/plain-dal.toml")
    assert (dish.id, dish.name, dish.names["hi"], dish.course) == ("plain-dal", "Plain dal", "सादी दाल", Course.PULSE)
    assert (dish.portions, dish.served, dish.hold_min, dish.kept, dish.yield_g) == (5, Served.HOT, 20, None, None)
    assert dish.line("dal").form is Form.DRY
    wash, cook = dish.steps
    assert (wash.minutes, wash.vessel, wash.heat, wash.technique) == (Span(2, 2), None, Heat.NONE, Technique.WASH)
    assert (cook.vessel, cook.attention, cook.whistles) == (Vessel.PRESSURE_COOKER, Attention.NOW_AND_THEN, 3)
    assert cook.after == (After("wash", 0, 60),)


def test_an_amount_becomes_grams_by_the_houses_measures() -> None:
    small, large = (read_dish(DAL, "d.toml", Measures(cup_ml=ml)).line("water").grams.mean for ml in (200, 250))
    assert small == pytest.approx(800, rel=0.01)
    assert large == pytest.approx(1000, rel=0.01)


def test_grams_win_over_the_amount_and_carry_ten_per_cent_unless_a_spread_is_given() -> None:
    own = DAL.replace('amount = "200 g"', 'amount = "a heap"\ngrams = 180')
    assert read_dish(own, "d.toml").line("dal").grams == Estimate(180, 18)
    narrow = own.replace("grams = 180", "grams = 180\ngrams_sd = 4")
    assert read_dish(narrow, "d.toml").line("dal").grams == Estimate(180, 4)


def test_what_is_kept_and_what_it_weighs_is_read() -> None:
    dish = read_dish(
        DAL.replace("portions = 5", "portions = 5\nyield_g = { mean = 1200, sd = 60 }").replace(
            "[[step]]", '[kept]\nplace = "fridge"\ndays = [1, 2]\nwhy = "common practice, no source"\n\n[[step]]', 1
        ),
        "d.toml",
    )
    assert dish.yield_g == Estimate(1200, 60)
    assert dish.kept
    assert (dish.kept.place, dish.kept.days, dish.kept.freezes) == (Place.FRIDGE, Span(1, 2), False)


@pytest.mark.parametrize(
    ("right", "wrong", "words"),
    [
        ('food = "B010"\nsaid', 'food = "B01O"\nsaid', ["line dal", "food", "B01O"]),
        ('base = "B010"', 'base = "B999"', ["base", "B999"]),
        ('amount = "200 g"', 'amount = "3 sprigs"', ["line dal", "amount", "cannot become grams", "grams"]),
        ('amount = "200 g"', "", ["line dal", "amount", "missing"]),
        ('amount = "200 g"', "grams_sd = 3\namount = '1 g'", ["line dal", "grams_sd"]),
        ('amount = "200 g"', "grams = 5\ngrams_sd = -3", ["line dal", "grams_sd", "below zero"]),
        ('amount = "200 g"', "grams = -200", ["line dal", "below zero"]),
        ('amount = "200 g"', "grams = 200_000", ["line dal", "household pot"]),
        ('amount = "200 g"', "grams = nan", ["line dal", "grams"]),
        ('amount = "200 g"', "grams = true", ["line dal", "grams"]),
        ('form = "dry"', 'form = "dried"', ["line dal", "form", "dried", "dry"]),
        ('form = "dry"', 'form = "dry"\nfrom = "dry"', ["line dal", "from", "keys are"]),
        ("portions = 5", "", ["portions", "missing"]),
        ("portions = 5", 'portions = "five"', ["portions", "five"]),
        ("portions = 5", "portions = 0", ["portions", "above zero"]),
        ("minutes = 2", "minutes = [20, 10]", ["step wash", "minutes", "[20, 10]"]),
        ("minutes = 2", "minutes = [inf, inf]", ["step wash", "minutes"]),
        ("minutes = 2", "", ["step wash", "minutes"]),
        ("minutes = 2", "minutes = -1", ["step wash", "minutes", "below zero"]),
        ('lines = ["dal"]', 'lines = ["dhal"]', ["wash", "dhal"]),
        ('lines = ["dal"]', 'lines = "dal"', ["step wash", "lines"]),
        ('step = "wash"', 'step = "soak"', ["cook", "soak"]),
        ("max = 60", "max = -1", ["step cook", "max_lag_min"]),
        ('vessel = "pressure cooker"', 'vessel = "kettle"', ["step cook", "vessel", "kettle", "wok"]),
        ("names = {", "nmaes = {", ["nmaes", "keys are"]),
        ('hi = "सादी दाल"', "hi = 3", ["names", "hi"]),
        ("[[line]]", "[line]", ["not TOML"]),
        ('name = "Plain dal"', "name = Plain dal", ["not TOML"]),
    ],
)
def test_a_fault_is_refused_with_file_place_key_and_problem(right: str, wrong: str, words: list[str]) -> None:
    assert right in DAL
    said = complaints(DAL.replace(right, wrong, 1))
    assert all(word in said for word in ["plain-dal.toml", *words])


def test_everything_that_is_wrong_is_told_at_once() -> None:
    text = (
        DAL.replace('"B010"\nsaid', '"B01O"\nsaid').replace('"4 cups"', '"4 sprigs"').replace('"wash"\nm', '"wsh"\nm')
    )
    said = complaints(text.replace("portions = 5", ""))
    assert all(word in said for word in ["line dal", "line water", "step wash", "portions"])


def test_a_file_name_that_is_no_id_is_refused() -> None:
    assert "hyphens" in complaints(DAL, "Plain Dal.toml")
    assert read_dish('id = "plain-dal"\n' + DAL, "Plain Dal.toml").id == "plain-dal"
