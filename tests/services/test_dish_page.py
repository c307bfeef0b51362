"""A dish for as many as eat: both measures, what does not grow with it; and what an editor would mend."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW

from chauka import demo
from chauka.errors import InputError
from chauka.services import after_cooking, cooked, dish_nutrition, dish_page
from chauka.services.after_cooking import Said
from chauka.store import books, undo
from chauka.store.models import Household

RICE, DAL = "boiled-rice", "spinach-dal-with-lemon"


@pytest.fixture
def owner(book_file: Path) -> Household:
    return books.create(BOOK)


@pytest.fixture
def demo_owner(book_file: Path) -> Household:
    return books.create(demo.book(date(2027, 3, 14)))


def test_as_written(owner: Household) -> None:
    seen = dish_page.view(owner, RICE)
    assert seen.as_written
    (line,) = seen.parts[0].lines
    assert (line.measure, line.line.grams.mean, line.otherwise) == ("1 cup", 190, "")
    assert (seen.fewer, seen.more) == (1, 3)


def test_for_more_people_with_cups_and_grams_and_why_salt_grows_less(demo_owner: Household) -> None:
    written, seen = dish_page.view(demo_owner, DAL), dish_page.view(demo_owner, DAL, portions="10")
    assert seen.factor == pytest.approx(10 / written.written.portions)
    said = {line.line.said: line for part in seen.parts for line in part.lines}
    assert "grow more slowly" in said["salt"].otherwise
    assert all(line.measure for name, line in said.items() if "dal" in name)
    assert seen.mind


def test_every_measured_line_keeps_a_measure(demo_owner: Household) -> None:
    """Where no spoon fits well, the nearest one, good or scant."""
    said = {}
    for portions in ("4", "6", "7"):
        seen = dish_page.view(demo_owner, DAL, portions=portions)
        for line in (line for part in seen.parts for line in part.lines):
            assert line.measure, (portions, line.line.said)
            said[portions, line.line.said] = line.measure
    assert said["6", "turmeric"] == "good ½ tsp"


def test_water_that_boils_away_is_told(demo_owner: Household) -> None:
    dishes = [dish for dish in books.load_book(demo_owner).dishes if any("water" in line.said for line in dish.lines)]
    seen = [dish_page.view(demo_owner, dish.id, portions="20") for dish in dishes[:6]]
    assert any("boils away" in line.otherwise for one in seen for part in one.parts for line in part.lines)


def test_a_weight_alone_gets_a_measure_too(demo_owner: Household) -> None:
    """225 g of moong dal is about a cup."""
    lines = [one for part in dish_page.view(demo_owner, DAL).parts for one in part.lines]
    assert any("cup" in one.measure for one in lines if "dal" in one.line.said)


def test_for_what_was_bought(owner: Household) -> None:
    assert dish_page.view(owner, RICE, line="rice", have="0.38 kg").made.dish.portions == pytest.approx(4)


@pytest.mark.parametrize(
    "asked",
    [{"portions": "many"}, {"portions": "0"}, {"portions": "501"}, {"portions": "nan"},
     {"have": "much", "line": "rice"},
     {"have": "-5 g", "line": "rice"}, {"have": "100 g", "line": "sand"}, {"have": "100 g"}],
)  # fmt: skip
def test_what_cannot_be_asked(owner: Household, asked: dict[str, str]) -> None:
    with pytest.raises(InputError):
        dish_page.view(owner, RICE, **asked)


@pytest.mark.parametrize(
    ("at", "fewer", "more"), [("1", 0.5, 2), ("2", 1, 3), ("0.5", 0.5, 1), ("7", 6, 8), ("500", 499, 500)]
)
def test_one_more_one_fewer(owner: Household, at: str, fewer: float, more: float) -> None:
    seen = dish_page.view(owner, RICE, portions=at)
    assert (seen.fewer, seen.more) == (fewer, more)


def test_a_remark_says_where_what_and_what_to_do(owner: Household) -> None:
    dish = replace(BOOK.dish(RICE), steps=BOOK.dish(RICE).steps[:1], kept=None)
    changed = books.create(replace(BOOK, house=replace(BOOK.house, name="other"), dishes=(dish,), lots=()))
    said = {(one.where, one.mark): one for one in dish_page.remarks(changed, RICE)}
    assert "no step uses it" in said["Line 1, rice", "line-1"].text
    assert said["How it keeps", "kept"].mend


def test_nutrition_against_what_each_person_needs(demo_owner: Household) -> None:
    house = books.load_book(demo_owner).house
    shares = {}
    for person in house.people:
        seen = dish_nutrition.of_dish(demo_owner, DAL, person.id, NOW.date())
        iron = next(row for row in seen.chief if row.tag == "FE")
        shares[person.id] = iron.share
        assert iron.reference is not None
        assert iron.share == pytest.approx(iron.portion.mean / iron.reference.value)
    assert len(set(shares.values())) > 1
    assert dish_nutrition.of_dish(demo_owner, DAL, "", NOW.date()).person.age_years(NOW.date()) >= 18
    with pytest.raises(InputError, match="does not eat here"):
        dish_nutrition.of_dish(demo_owner, DAL, "nobody", NOW.date())


def test_after_the_meal_all_is_one_action(owner: Household) -> None:
    who = BOOK.house.people[0]
    said = Said(portions="4", minutes="25", weight="1.1 kg", note="more salt", liking={who.id: "5"})
    after_cooking.write(owner, RICE, said, NOW)
    (cooking,) = after_cooking.of_dish(owner, RICE)
    assert (cooking.portions, cooking.minutes, cooking.weight_g) == (4, 25, 1100)
    assert cooking.planned_min == dish_page.view(owner, RICE).made.times.hands_on_min
    assert (cooking.liked_by, cooking.note) == ((who.name,), "more salt")
    book = books.load_book(owner)
    assert book.house.person(who.id).liking[RICE] == 5
    assert [w.grams for w in cooked.of_dish(owner, book.dish(RICE))] == [1100]
    undo.undo(owner, NOW)
    assert after_cooking.of_dish(owner, RICE) == ()
    assert books.load_book(owner) == BOOK
    assert cooked.of_dish(owner, book.dish(RICE)) == ()


def test_what_was_not_said_is_not_known(owner: Household) -> None:
    after_cooking.write(owner, RICE, Said(), NOW)
    (cooking,) = after_cooking.of_dish(owner, RICE)
    assert (cooking.minutes, cooking.weight_g, cooking.liked_by) == (None, None, ())
    assert cooked.of_dish(owner, BOOK.dish(RICE)) == ()


@pytest.mark.parametrize(
    "said",
    [Said(portions="x"), Said(minutes="-3"), Said(minutes="9999"), Said(weight="90 kg"), Said(weight="heavy"),
     Said(liking={"nobody": "5"}), Said(liking={"asha": "9"})],
)  # fmt: skip
def test_what_cannot_be_is_refused_whole(owner: Household, said: Said) -> None:
    with pytest.raises(InputError):
        after_cooking.write(owner, RICE, said, NOW)
    assert after_cooking.of_dish(owner, RICE) == ()
    assert books.load_book(owner) == BOOK
