"""Changing a dish that is in the book: its words read anew, what that would change shown, then kept as one action."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from datetime import datetime

from chauka.errors import InputError
from chauka.kitchen import Dish
from chauka.reading import Finding, proofread
from chauka.services import dish_changes, dish_particulars, taught
from chauka.services.dish_changes import Changed
from chauka.services.dish_form import DishForm, LineForm, line_text, step_form
from chauka.services.dish_reader import Reader
from chauka.store import books, codec, ledger
from chauka.store.models import Household


@dataclass(frozen=True, slots=True)
class Looked:
    """The form looked at: with its questions in place, what would be different, and what else an editor would mend."""

    form: DishForm
    changes: tuple[Changed, ...]
    remarks: tuple[str, ...]


def form_of(household: Household, dish_id: str) -> DishForm:
    """A dish of the book as a form."""
    dish = books.load_written(household).dish(dish_id)
    ids = [line.id for line in dish.lines]
    form = DishForm(
        name=dish.name,
        course=str(dish.course),
        portions=f"{dish.portions:g}",
        lines=tuple(LineForm(line_text(line), origin=line.id) for line in dish.lines),
        steps=tuple(step_form(step, ids) for step in dish.steps),
        more=dish_particulars.of_dish(dish),
    )
    return _reader(household, dish_id).looked_at(form)


def mark_of(household: Household, dish_id: str) -> str:
    """What tells whether somebody else has changed the dish since the form was opened."""
    return _mark(books.load_written(household).dish(dish_id))


def _mark(dish: Dish) -> str:
    return hashlib.sha256(codec.to_text(dish).encode()).hexdigest()[:16]


def looked_at(household: Household, dish_id: str, form: DishForm) -> Looked:
    """The form read anew; where nothing is unclear, with what it would change and what an editor would mend."""
    reader = _reader(household, dish_id)
    seen = reader.looked_at(form)
    try:
        made = reader.dish(form, dish_id)
    except InputError:
        return Looked(seen, (), ())
    before = books.load_written(household).dish(dish_id)
    known = set(proofread(before, reader.book.house))
    new = [found for found in proofread(made, reader.book.house) if found not in known]
    return Looked(_with_remarks(seen, made, new), dish_changes.between(before, made), tuple(_elsewhere(made, new)))


def _with_remarks(form: DishForm, made: Dish, found: list[Finding]) -> DishForm:
    """Each remark beside its line or step."""
    said = {f.where: tuple(f"{g.text}: {g.mend}." for g in found if g.where == f.where) for f in found}
    lines = zip(form.lines, made.lines, strict=True)
    steps = zip(form.steps, made.steps, strict=True)
    return replace(
        form,
        lines=tuple(replace(one, asked=said.get(line.id, ())) for one, line in lines),
        steps=tuple(replace(one, asked=(*one.asked, *said.get(step.id, ()))) for one, step in steps),
    )


def _elsewhere(made: Dish, found: list[Finding]) -> list[str]:
    placed = {line.id for line in made.lines} | {step.id for step in made.steps}
    return [f"{f.text[:1].upper()}{f.text[1:]}: {f.mend}." for f in found if f.where not in placed]


def keep(household: Household, dish_id: str, form: DishForm, mark: str, now: datetime) -> Dish:
    """Change the dish of the book. `mark` is that of the dish as it was when the form was opened.

    Raises one `InputError` that names each thing still unclear, or says that somebody else was faster;
    then nothing is changed.
    """
    reader = _reader(household, dish_id)
    made = reader.dish(form, dish_id)
    with ledger.action(household, now, "change a dish", made.name) as recorder:
        if mark_of(household, dish_id) != mark:
            said = "was changed from another phone meanwhile; open it anew and change it then"
            raise InputError({made.name: (said,)})
        if made == reader.before:
            raise InputError({"": ("nothing is different; there is nothing to keep",)})
        books.save_dish(recorder, made)
    return made


def _reader(household: Household, dish_id: str) -> Reader:
    book = books.load_written(household)
    return Reader(book, taught.meant(household), book.dish(dish_id))
