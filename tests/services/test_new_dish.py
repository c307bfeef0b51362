"""A dish of one's own: read, asked about, corrected, kept; and never kept while something is unclear."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, MOONG, NOW, SPINACH

from chauka.errors import InputError
from chauka.services import foods, new_dish, past
from chauka.services.dish_form import DishForm, LineForm, StepForm, from_fields
from chauka.services.dish_reader import Reader
from chauka.store import books

OWN = {said: code for code, said in foods.called(BOOK).items()}
TEXT = """Green dal
Serves 4

1 cup moong dal
250 g spinach, chopped
1 tsp flubber

1. Wash the dal and simmer it in water for 25 minutes.
2. Stir in the spinach.
"""
SIMMER = StepForm("Simmer it soft.", "20-30", "simmer", "now-and-then", "pot", "low", "1")
GOOD = DishForm("Green dal", "pulse", "4", (LineForm("1 cup moong dal"), LineForm("250 g palak")), (SIMMER,))


def test_a_text_becomes_a_form_that_asks() -> None:
    form = new_dish.from_text(TEXT, BOOK, OWN)
    assert (form.name, form.portions) == ("Green dal", "4")
    assert form.lines[0].read_as.endswith(", dry")
    assert "flubber" in form.lines[2].unclear
    assert form.steps[0].minutes == "25"
    assert "minutes" in form.steps[1].unclear
    assert form.unclear
    assert form.questions


def test_nothing_is_kept_while_something_is_unclear(book_file: Path) -> None:
    owner = books.create(BOOK)
    with pytest.raises(InputError) as caught:
        new_dish.keep(owner, new_dish.from_text(TEXT, BOOK, OWN), NOW)
    assert {"line 3", "step 2", "dish"} <= set(caught.value.fields)
    assert books.load_book(owner) == BOOK


def test_a_corrected_dish_is_in_the_book_and_can_be_taken_back(book_file: Path) -> None:
    owner = books.create(BOOK)
    made = new_dish.keep(owner, GOOD, NOW)
    assert made == books.load_book(owner).dish("green-dal")
    assert made.base == SPINACH
    assert [line.food for line in made.lines] == [MOONG, SPINACH]
    assert (made.steps[0].minutes.low, made.steps[0].minutes.high, made.steps[0].lines) == (20, 30, ("line-1",))
    assert new_dish.keep(owner, GOOD, NOW).id == "green-dal-2"
    past.take_back(owner, past.view(owner).days[0][1][0].number, NOW)
    assert {d.id for d in books.load_book(owner).dishes} == {d.id for d in BOOK.dishes} | {"green-dal"}


@pytest.mark.parametrize(
    "step",
    [
        replace(SIMMER, minutes="a while"),
        replace(SIMMER, technique="", text="It sits there."),
        replace(SIMMER, lines="1, 7"),
        replace(SIMMER, text=" "),
    ],
)
def test_what_a_step_must_say(step: StepForm) -> None:
    assert Reader(BOOK, OWN).looked_at(replace(GOOD, steps=(step,))).steps[0].unclear


FIELDS = (
    "text", "minutes", "technique", "attention", "vessel", "heat", "lines", "ahead", "until", "whistles", "origin",
)  # fmt: skip


def _fields(**said: str) -> dict[str, str]:
    return dict.fromkeys(FIELDS, "") | said


def test_a_form_comes_back_from_a_page_without_its_empty_rows() -> None:
    """What used a line below an emptied one still uses it; what used the emptied one does not any more."""
    lines = [{"text": text, "origin": ""} for text in ("1 cup rice", " ", "1 tsp salt", "")]
    steps = [_fields(text="Boil.", lines="1, 2, 3, 9"), _fields()]
    form = from_fields({"name": " X "}, lines, steps)
    assert (form.name, len(form.lines), len(form.steps)) == ("X", 2, 1)
    assert form.steps[0].lines == "1, 2, 9"


@pytest.mark.parametrize(
    "step",
    [{"whistles": "many"}, {"heat": "blazing"}, {"vessel": "bucket"}, {"minutes": "99999999"}, {"lines": "77777777"}],
)
def test_nothing_that_a_page_may_send_is_taken_without_a_look(step: dict[str, str]) -> None:
    form = from_fields({}, [], [_fields(text="Boil.", technique="boil", minutes="5", lines="") | step])
    seen = Reader(BOOK, OWN).looked_at(form).steps[0]
    assert seen.unclear or not seen.lines
