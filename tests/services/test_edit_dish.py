"""Changing a dish: what is left alone stays exactly, what is changed is read anew and shown, one action keeps it."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW

from chauka import demo
from chauka.errors import InputError
from chauka.kitchen import After, Dish
from chauka.services import dish_changes, edit_dish, past
from chauka.services.dish_form import DishForm, LineForm, StepForm, moved_up, with_step_below
from chauka.services.dish_reader import Reader
from chauka.store import books
from chauka.store.models import Household

RICE = "boiled-rice"


@pytest.fixture
def owner(book_file: Path) -> Household:
    return books.create(BOOK)


def _kept(owner: Household, form: DishForm) -> Dish:
    return edit_dish.keep(owner, RICE, form, edit_dish.mark_of(owner, RICE), NOW)


def _with_line(form: DishForm, number: int, text: str) -> DishForm:
    lines = list(form.lines)
    lines[number] = replace(lines[number], text=text)
    return replace(form, lines=tuple(lines))


def test_every_dish_of_the_demo_house_written_and_read_again_is_itself(book_file: Path) -> None:
    """Steps that wait for others, substitutes, parts, weights: nothing is lost on the way through the form."""
    book = demo.written(date(2027, 3, 14))
    owner = books.create(book)
    for dish in book.dishes:
        form = edit_dish.form_of(owner, dish.id)
        assert not form.unclear
        assert Reader(book, {}, dish).dish(form, dish.id) == dish


def test_a_changed_line_is_read_anew_and_all_else_stays(owner: Household) -> None:
    form = _with_line(edit_dish.form_of(owner, RICE), 0, "2 cups rice")
    looked = edit_dish.looked_at(owner, RICE, form)
    assert ("Rice: grams", "190 g") in {(c.what, c.before) for c in looked.changes}
    made = _kept(owner, form)
    before = BOOK.dish(RICE)
    assert made.lines[0].grams.mean == pytest.approx(2 * before.lines[0].grams.mean, rel=0.1)
    assert replace(made, lines=before.lines) == before
    assert books.load_book(owner).dish(RICE) == made


def test_it_is_one_action_and_can_be_taken_back(owner: Household) -> None:
    _kept(owner, replace(edit_dish.form_of(owner, RICE), name="Plain rice", portions="3"))
    done = past.view(owner).days[0][1][0]
    assert (done.task, done.note) == ("change a dish", "Plain rice")
    (version,) = dish_changes.of_dish(owner, RICE)
    assert {(c.what, c.before, c.after) for c in version.changes} == {
        ("Name", "Boiled rice", "Plain rice"), ("Portions", "2", "3"),
    }  # fmt: skip
    past.take_back(owner, done.number, NOW)
    assert books.load_book(owner).dish(RICE) == BOOK.dish(RICE)
    assert [v.taken_back for v in dish_changes.of_dish(owner, RICE)] == [False, True]


def test_an_unclear_line_is_asked_in_its_place_and_nothing_is_kept(owner: Household) -> None:
    form = _with_line(edit_dish.form_of(owner, RICE), 0, "1 cup flubber")
    assert "flubber" in edit_dish.looked_at(owner, RICE, form).form.lines[0].unclear
    with pytest.raises(InputError, match="flubber"):
        _kept(owner, form)
    assert books.load_book(owner) == BOOK


def test_the_food_stays_where_its_word_stays(owner: Household) -> None:
    """Words that only this dish uses need no second answer."""
    dish = replace(BOOK.dish(RICE), lines=(replace(BOOK.dish(RICE).lines[0], said="grandmother’s grain"),))
    changed = replace(BOOK, dishes=(dish,), lots=())
    reader = Reader(changed, {}, dish)
    form = LineForm("3 cups grandmother’s grain", origin="rice")
    assert reader.line(form, "x").food == dish.lines[0].food


def test_words_of_a_new_step_fill_its_fields(owner: Household) -> None:
    form = edit_dish.form_of(owner, RICE)
    more = replace(form, steps=(*form.steps, StepForm("Simmer the rice for 5 minutes.")))
    seen = edit_dish.looked_at(owner, RICE, more).form.steps[-1]
    assert (seen.technique, seen.minutes, seen.lines) == ("simmer", "5", "1")
    made = _kept(owner, more)
    assert made.steps[-1].after == (After("boil"),)


def test_words_and_field_that_disagree_are_asked_about(owner: Household) -> None:
    form = edit_dish.form_of(owner, RICE)
    steps = (form.steps[0], replace(form.steps[1], text="Boil it for 40 minutes."))
    seen = edit_dish.looked_at(owner, RICE, replace(form, steps=steps)).form.steps[1]
    assert any("The words say 40, the field says 15" in one for one in seen.asked)


def test_a_removed_step_leaves_nobody_waiting_for_it(owner: Household) -> None:
    form = edit_dish.form_of(owner, RICE)
    made = _kept(owner, replace(form, steps=form.steps[1:]))
    assert [step.id for step in made.steps] == ["boil"]
    assert made.steps[0].after == ()


def test_steps_move_and_make_room(owner: Household) -> None:
    form = edit_dish.form_of(owner, RICE)
    up = moved_up(form, 2)
    assert [s.origin for s in up.steps] == ["boil", "soak"]
    assert moved_up(form, 1) == moved_up(form, 9) == form
    assert [s.text for s in with_step_below(form, 1).steps][1] == ""
    made = Reader(BOOK, {}, BOOK.dish(RICE)).dish(up, RICE)
    assert made.steps[0].after == ()


def test_another_phone_was_faster(owner: Household) -> None:
    form, mark = edit_dish.form_of(owner, RICE), edit_dish.mark_of(owner, RICE)
    _kept(owner, replace(form, name="Plain rice"))
    with pytest.raises(InputError, match="from another phone meanwhile"):
        edit_dish.keep(owner, RICE, replace(form, name="Rice"), mark, NOW + timedelta(minutes=1))
    assert books.load_book(owner).dish(RICE).name == "Plain rice"


def test_nothing_different_is_no_action(owner: Household) -> None:
    with pytest.raises(InputError, match="nothing is different"):
        _kept(owner, edit_dish.form_of(owner, RICE))
    assert past.view(owner).days == ()


def test_keeping_weight_tags_and_names(owner: Household) -> None:
    form = edit_dish.form_of(owner, RICE)
    more = replace(
        form.more, hindi="चावल", weighed="600 g", kept_days="1-2", kept_place="fridge", tags="plain, white",
        cautions="Do not leave it warm.\nCool it fast.", batch="yes", served="warm", chilli="1", hold_min="15",
    )  # fmt: skip
    made = _kept(owner, replace(form, more=more))
    assert made.names["hi"] == "चावल"
    assert made.yield_g is not None
    assert made.yield_g.mean == 600
    assert made.kept is not None
    assert (made.kept.days.low, made.kept.days.high) == (1, 2)
    assert made.tags == {"plain", "white"}
    assert made.cautions == ("Do not leave it warm.", "Cool it fast.")
    assert (made.batch, str(made.served), made.chilli, made.hold_min) == (True, "warm", 1, 15)


@pytest.mark.parametrize(
    ("field", "value"),
    [
        ("weighed", "much"),
        ("kept_days", "long"),
        ("hold_min", "-1"),
        ("chilli", "9"),
        ("served", "raw"),
        ("kept_place", "moon"),
    ],
)
def test_a_particular_that_cannot_be_is_named(owner: Household, field: str, value: str) -> None:
    form = edit_dish.form_of(owner, RICE)
    with pytest.raises(InputError):
        _kept(owner, replace(form, more=replace(form.more, **{field: value})))
    assert books.load_book(owner) == BOOK


def test_a_line_may_be_taken_from_another_dish_by_its_name(owner: Household) -> None:
    """By weight, as no table knows what a spoon of it weighs; the form shows the dish, the book its foods."""
    form = edit_dish.form_of(owner, RICE)
    unweighed = replace(form, lines=(*form.lines, LineForm("2 tbsp wilted spinach")))
    assert "How much Wilted spinach is it in grams" in edit_dish.looked_at(owner, RICE, unweighed).form.lines[1].unclear
    made = _kept(owner, replace(form, lines=(*form.lines, LineForm("100 g wilted spinach"))))
    assert (made.lines[1].made, made.lines[1].grams.mean) == ("wilted-spinach", 100)
    again = edit_dish.form_of(owner, RICE)
    assert "Wilted spinach" in again.lines[1].read_as
    more = _kept(owner, _with_line(again, 1, "150 g wilted spinach"))
    assert (more.lines[1].made, more.lines[1].grams.mean, more.lines[1].id) == (
        "wilted-spinach", 150, made.lines[1].id,
    )  # fmt: skip
    assert all(line.made is None for line in books.load_book(owner).dish(RICE).lines)


def test_a_dish_cannot_be_a_part_of_itself(owner: Household) -> None:
    form = replace(edit_dish.form_of(owner, RICE), name="Hill pulao")
    _kept(owner, form)
    with pytest.raises(InputError, match="needs itself"):
        _kept(owner, replace(form, lines=(*form.lines, LineForm("100 g hill pulao"))))
    assert books.load_book(owner).dish(RICE) == replace(BOOK.dish(RICE), name="Hill pulao")
