"""Made-ahead parts: real foods in place of a dish within a dish, in proportion, made once, never round in a circle."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka import composition, demo, keeping, publishing
from chauka.errors import InputError
from chauka.kitchen import (
    After,
    Attention,
    Book,
    Course,
    Dish,
    Form,
    House,
    Line,
    Person,
    Sex,
    Step,
    Technique,
    Vessel,
    parts_of,
    with_parts,
)
from chauka.units import Estimate, Span

HOUSE = House("h", (Person("p", "P", Sex.FEMALE, date(1990, 1, 1), 60.0),), 2, (), (), ())

FOODS = ("B010", "A019", "H012", "H011", "L520", "C033", "G011", "F006")
"""Among them gluten, peanut, sesame and milk."""


def line(key: str, food: str, grams: float, **more: object) -> Line:
    return Line(key, food, key, f"{grams:g} g", Estimate(grams, grams / 10), Form.DRY, **more)  # type: ignore[arg-type]


def taken(key: str, part: str, grams: float) -> Line:
    return line(key, "C033", grams, made=part)


def step(key: str, *lines: str, after: str = "", ahead: bool = False) -> Step:
    waits = (After(after, 5, 60),) if after else ()
    return Step(
        key, key, Technique.MIX, Span(3, 3), Attention.HANDS_ON, Vessel.BOWL, after=waits, lines=lines, ahead=ahead
    )


def dish(key: str, lines: tuple[Line, ...], steps: tuple[Step, ...] = ()) -> Dish:
    return Dish(key, key.title(), Course.SIDE, lines[0].food, 4, lines, steps)


PASTE = dish(
    "paste",
    (line("peanut", "H012", 150), line("garlic", "G011", 50)),
    (step("soak", "peanut", ahead=True), step("grind", "garlic", after="soak")),
)
SAUCE = dish("sauce", (line("curd", "L520", 100), taken("thick", "paste", 100)), (step("whisk", "curd", "thick"),))
MEAL = dish(
    "meal",
    (line("dal", "B010", 300), taken("first", "sauce", 50), taken("more", "paste", 20)),
    (step("mix", "dal", "first"), step("top", "more", after="mix")),
)
WHOLE = with_parts(MEAL, (PASTE, SAUCE, MEAL))


def test_each_food_has_the_grams_that_were_taken() -> None:
    """50 g of the sauce is 25 g of curd and 25 g of paste; with 20 g more that is 45 g, three quarters of it peanut."""
    grams = {food: sum(x.grams.mean for x in WHOLE.lines if x.food == food) for food in WHOLE.foods}
    assert grams == pytest.approx({"B010": 300, "L520": 25, "H012": 33.75, "G011": 11.25})
    assert not parts_of(WHOLE)
    assert {x.part for x in WHOLE.lines} == {"", "Sauce", "Paste"}


def test_a_part_of_two_lines_is_made_once_and_before_what_it_goes_into() -> None:
    """The lags within it are kept, and what is done ahead stays so."""
    assert [s.id for s in WHOLE.steps] == ["paste_soak", "paste_grind", "sauce_whisk", "mix", "top"]
    assert WHOLE.step("paste_soak").ahead
    assert WHOLE.step("paste_grind").after == (After("paste_soak", 5, 60),)
    assert WHOLE.step("sauce_whisk").after == (After("paste_grind"),)
    assert WHOLE.step("mix").after == (After("sauce_whisk"),)
    assert WHOLE.step("top").after == (After("mix", 5, 60), After("paste_grind"))
    going_in = [one for s in WHOLE.steps for one in s.lines]
    assert sorted(going_in) == sorted(x.id for x in WHOLE.lines)


def test_nutrients_are_those_of_the_same_foods_written_out() -> None:
    by_hand = replace(WHOLE, id="by-hand", lines=tuple(replace(x, part="") for x in WHOLE.lines))
    part, whole = composition.dish_nutrients(PASTE), composition.dish_nutrients(WHOLE)
    assert whole.total["PROCNT"].mean == composition.dish_nutrients(by_hand).total["PROCNT"].mean
    alone = dish("alone", (taken("all", "paste", 200),), (step("eat", "all"),))
    assert composition.dish_nutrients(with_parts(alone, (PASTE,))).total["PROCNT"].mean == pytest.approx(
        part.total["PROCNT"].mean
    )


@given(
    st.lists(st.sampled_from(FOODS), min_size=1, max_size=4, unique=True),
    st.sampled_from(FOODS),
    st.floats(1, 400),
    st.booleans(),
)
def test_a_part_brings_all_its_allergens(foods: list[str], own: str, grams: float, through_another: bool) -> None:
    """Also where it comes in through another part."""
    part = dish("part", tuple(line(f"l{n}", food, 50) for n, food in enumerate(foods)))
    between = dish("between", (line("own", own, 30), taken("in", "part", 20)))
    meal = dish("meal", (line("own", own, 100), taken("in", "between" if through_another else "part", grams)))
    whole = with_parts(meal, (part, between, meal))
    assert set(composition.dish_allergens(whole)) >= set(composition.dish_allergens(part))
    assert composition.diet_flags(whole) >= composition.diet_flags(part)


def test_an_engine_refuses_a_dish_whose_parts_are_not_put_in() -> None:
    """Rather than count the wrong foods."""
    for engine in (composition.dish_allergens, composition.dish_nutrients, composition.diet_flags, keeping.cautions):
        with pytest.raises(InputError, match="parts"):
            engine(SAUCE)


def test_a_weighed_part_is_shared_by_its_weight() -> None:
    thick = replace(PASTE, yield_g=Estimate(100, 10))
    whole = with_parts(dish("one", (taken("a", "paste", 50),)), (thick,))
    assert whole.line("a_peanut").grams.mean == pytest.approx(75)
    assert whole.line("a_peanut").grams.cv > PASTE.line("peanut").grams.cv


@pytest.mark.parametrize(
    ("dishes", "said"),
    [
        ((SAUCE,), "'sauce' takes a part from 'paste', which is not in the dish book"),
        ((dish("self", (taken("a", "self", 5),)),), "self → self"),
        ((dish("a", (taken("x", "b", 5),)), dish("b", (taken("x", "a", 5),))), "a → b → a"),
        ((dish("none", (line("salt", "G528", 0),)), dish("b", (taken("x", "none", 5),))), "'none' weighs nothing"),
    ],
)
def test_a_book_refuses_parts_that_cannot_be(dishes: tuple[Dish, ...], said: str) -> None:
    with pytest.raises(InputError, match=said):
        Book(HOUSE, dishes, (), ())


def test_a_line_from_a_dish_needs_its_grams() -> None:
    with pytest.raises(InputError, match="how many grams of 'paste'"):
        taken("a", "paste", 0)


def test_a_book_without_parts_is_whole_as_it_is() -> None:
    book = Book(HOUSE, (PASTE,), (), ())
    assert book.whole() is book


def test_the_sheet_of_the_demo_shows_what_is_in_the_chutney() -> None:
    """Its own heading, its lines, and the milk that its curd brings into the salad."""
    book = demo.book()
    salad = publishing.write_up(book.dish("sprouted-moong-salad"), book.house)
    assert "Coriander and mint chutney" in [part.name for part in salad.parts]
    assert "milk" in salad.allergens
    assert "Coriander and mint chutney" in publishing.sheet_html(salad)
