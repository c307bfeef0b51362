"""Sectioning: one bunch into boxes, a box for each sitting, each in a form that keeps until then, with its label."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, time

from chauka.errors import Complaints
from chauka.keeping.life import UseBy, last_day
from chauka.keeping.of_lot import lot_use_by
from chauka.kitchen import Book, Form, House, Lot, Place, TablePlan

_BEFORE = {
    Form.CHOPPED: (Form.CHOPPED, Form.WASHED, Form.PICKED),
    Form.GRATED: (Form.GRATED, Form.WASHED, Form.PICKED),
    Form.CUT: (Form.CUT, Form.WASHED, Form.PICKED),
    Form.PEELED: (Form.PEELED, Form.PICKED),
}
"""What a box may hold on the way to a form."""

_TABLE = time(12)
_LEAST_G = 1.0


@dataclass(frozen=True, slots=True)
class Need:
    """So many edible grams of the bunch, in a form, for something at a moment."""

    at: datetime
    grams: float
    form: Form
    name: str


@dataclass(frozen=True, slots=True)
class Box:
    """One box: grams, the form it is kept in, for what and when, when it is washed, until when and why it is good.

    `safe` is False where no form keeps so long: use it earlier, or freeze it.
    """

    grams: float
    form: Form
    name: str
    at: datetime | None
    wash_at: datetime | None
    use_by: UseBy
    label: str
    safe: bool = True


def split_bunch(lot: Lot, needs: Sequence[Need], house: House, *, edible_g: float, said: str = "") -> tuple[Box, ...]:
    """How to split a lot into boxes, for the needs in the order of their time; what is over is the last box.

    Each box holds the most worked form on the way to what is cooked whose plan still reaches that sitting.
    Leaves keep longer unwashed: a box that is only picked is washed just before cooking. A need that no
    form reaches stays with the whole bunch, and says so.

    Parameters
    ----------
    edible_g
        What the lot yields when it is cleaned [g].
    said
        What the house calls the food, for the label.
    """
    bad = Complaints(f"boxes of {lot.id}")
    bad.check(lot.food is not None, "", "only a food is split; a dish is boxed by portions")
    bad.check(edible_g >= 0, "edible_g", f"{edible_g:g} g is below zero")
    total = sum(need.grams for need in needs)
    bad.check(
        total <= edible_g + _LEAST_G, "needs", f"{total:.0f} g are asked for, and the lot yields {edible_g:.0f} g"
    )
    bad.raise_if_any()
    boxes = [_box(lot, need, house, said) for need in sorted(needs, key=lambda need: need.at)]
    rest = edible_g - total
    if rest > _LEAST_G:
        kept = lot_use_by(replace(lot, grams=rest), house)
        boxes.append(Box(rest, lot.form, "left over", None, None, kept, _label(said, rest, lot.form, "", kept)))
    return tuple(boxes)


def split_lot(lot: Lot, plan: TablePlan, book: Book, *, edible_g: float, said: str = "") -> tuple[Box, ...]:
    """The same for what a table plan draws from a lot of the shelf, by the plan's own batches."""
    return split_bunch(lot, needs_of(lot.id, plan, book), book.house, edible_g=edible_g, said=said)


def needs_of(source: str, plan: TablePlan, book: Book) -> tuple[Need, ...]:
    """What a plan draws from one lot or purchase (its id), cooking by cooking."""
    out = []
    for draw in plan.draws:
        if draw.source != source:
            continue
        batch = plan.batch(draw.batch)
        dish = book.dish(batch.dish)
        form = next((line.form for line in dish.lines if line.food == draw.food), Form.PICKED)
        serve = next(
            (m.serve for m in book.house.meal_times if m.meal is batch.meal and m.weekday == batch.day.weekday()),
            _TABLE,
        )
        out.append(Need(datetime.combine(batch.day, serve), draw.grams, form, dish.name))
    return tuple(sorted(out, key=lambda need: need.at))


def _box(lot: Lot, need: Need, house: House, said: str) -> Box:
    for form in _on_the_way(need.form):
        boxed = replace(lot, form=form, place=Place.FRIDGE, grams=need.grams, covered=True)
        keeps = lot_use_by(boxed, house)
        if keeps.at >= need.at:
            wash = lot.since if form not in (Form.PICKED, Form.WHOLE) else need.at
            label = _label(said, need.grams, form, f"{need.name}, {need.at:%a %d %b}", keeps, washed=wash != need.at)
            return Box(need.grams, form, need.name, need.at, wash, keeps, label)
    whole = lot_use_by(replace(lot, grams=need.grams), house)
    label = _label(said, need.grams, lot.form, f"{need.name}, {need.at:%a %d %b}", whole)
    return Box(need.grams, lot.form, need.name, need.at, need.at, whole, label, safe=whole.at >= need.at)


def _on_the_way(form: Form) -> tuple[Form, ...]:
    if form in _BEFORE:
        return _BEFORE[form]
    return (form, Form.PICKED) if form in (Form.WASHED, Form.PICKED) else (Form.WASHED, Form.PICKED)


def _label(said: str, grams: float, form: Form, whom: str, keeps: UseBy, *, washed: bool = False) -> str:
    first = f"{said} · {grams:.0f} g · {form}".lstrip(" ·")
    work = "" if washed or form in (Form.WHOLE, Form.DRY) else " · wash before cooking" * (form is Form.PICKED)
    use = f"use by {last_day(keeps):%a %d %b}"
    return "\n".join(filter(None, (f"{first}{work}", whom, use)))
