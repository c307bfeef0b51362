"""A dish of one's own: any text of it → a form with the editor's questions → a dish in the book."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from datetime import datetime

from chauka.kitchen import Book, Dish
from chauka.reading import Draft, DraftLine, read_dish
from chauka.services import taught
from chauka.services.dish_form import DishForm, LineForm, drafted_step
from chauka.services.dish_reader import Reader
from chauka.store import books, ledger
from chauka.store.models import Household


def from_text(text: str, book: Book, own: Mapping[str, str]) -> DishForm:
    """The form of a pasted recipe or narration. Raises `InputError` for an empty or endless text."""
    draft = read_dish(text)
    form = DishForm(
        name=draft.title,
        portions=f"{draft.yield_low:g}" if draft.yield_low else "",
        lines=tuple(LineForm(_line_text(line)) for line in draft.lines),
        steps=tuple(drafted_step(step) for step in draft.steps),
        questions=_questions(draft),
    )
    return Reader(book, own).looked_at(form)


def _questions(draft: Draft) -> tuple[str, ...]:
    return tuple(dict.fromkeys(question.text for question in draft.questions))


def _line_text(line: DraftLine) -> str:
    if line.text:
        return line.text
    if line.low is None:
        return f"{line.food} to taste" if line.to_taste else line.food
    amount = f"{line.low:g}" if line.high in (None, line.low) else f"{line.low:g}-{line.high:g}"
    return " ".join(filter(None, (amount, line.unit, line.food, *line.form)))


def looked_at(household: Household, form: DishForm) -> DishForm:
    """The same form with what each line is read as, and what is unclear."""
    return _reader(household).looked_at(form)


def keep(household: Household, form: DishForm, now: datetime) -> Dish:
    """Put the dish into the book. Raises one `InputError` that names each thing still unclear."""
    reader = _reader(household)
    dish = reader.dish(form, _free_id(form.name, reader.book))
    with ledger.action(household, now, "write a dish", dish.name) as recorder:
        books.save_dish(recorder, dish)
    return dish


def _reader(household: Household) -> Reader:
    return Reader(books.load_written(household), taught.meant(household))


def _free_id(name: str, book: Book) -> str:
    ascii_name = unicodedata.normalize("NFKD", name).encode("ascii", "ignore").decode().lower()
    plain = "-".join(re.findall(r"[a-z0-9]+", ascii_name)) or "dish"
    taken, number, key = {dish.id for dish in book.dishes}, 1, plain
    while key in taken:
        number += 1
        key = f"{plain}-{number}"
    return key
