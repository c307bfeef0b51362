"""A dish as a TOML file that a cook can write by hand: read with every check."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from pathlib import PurePosixPath
from types import MappingProxyType
from typing import TypeVar

from chauka import quantities, tables
from chauka.demo.fields import Fields, read_toml, within
from chauka.errors import DataError, InputError
from chauka.kitchen import (
    After,
    Attention,
    Course,
    Dish,
    Form,
    Heat,
    Kept,
    Line,
    Measures,
    Place,
    Served,
    Step,
    Substitute,
    Technique,
    Vessel,
)
from chauka.units import Estimate

_Part = TypeVar("_Part")
_Finish = Callable[[tuple[Line, ...], tuple[Step, ...], Kept | None, Estimate | None], Dish]

_WEIGHT_CV = 0.10
"""Spread of a weight that stands beside an amount without one of its own: common practice, no source."""

_USUAL_MEASURES = Measures()


def read_dish(text: str, where: str, measures: Measures = _USUAL_MEASURES) -> Dish:
    """The dish that a TOML text describes; `where` is its file, whose stem is the id unless `id` is given.

    A line's `grams` (and `grams_sd`) win over its `amount`, which otherwise becomes grams by the
    house's `measures`. Raises one `InputError` with everything that is wrong in the file: an unknown
    key, word or food, a missing field, an amount that cannot become grams.
    """
    top, parts = read_toml(text, where), _Parts()
    lines = parts.read(top.tables("line"), lambda fields: _line(fields, measures))
    steps = parts.read(top.tables("step"), _step)
    kept = parts.read([top.table("kept")] if top.has("kept") else [], _kept)
    yield_g = parts.read([top.table("yield_g")] if top.has("yield_g") else [], _estimate)
    finish = parts.read([top], lambda fields: _head(fields, PurePosixPath(where).stem))
    parts.raise_if_any()
    with within(where):
        return finish[0](lines, steps, kept[0] if kept else None, yield_g[0] if yield_g else None)


class _Parts:
    """Reads the parts of a file one by one and keeps the complaints of all of them."""

    def __init__(self) -> None:
        self._bad = dict[str, tuple[str, ...]]()

    def read(self, parts: Iterable[Fields], read_one: Callable[[Fields], _Part]) -> tuple[_Part, ...]:
        """The parts that can be read."""
        return tuple(part for fields in parts for part in self._tried(fields, read_one))

    def _tried(self, fields: Fields, read_one: Callable[[Fields], _Part]) -> tuple[_Part, ...]:
        try:
            return (read_one(fields),)
        except InputError as error:
            for place, complaints in error.fields.items():
                self._bad[place] = (*self._bad.get(place, ()), *complaints)
            return ()

    def raise_if_any(self) -> None:
        """Raise everything that was wrong, if anything was."""
        if self._bad:
            raise InputError(self._bad)


def _head(top: Fields, stem: str) -> _Finish:
    """The dish but for its parts, which are read one by one."""
    id_, name, course, base = top.text("id", stem), top.text("name"), top.word("course", Course), _food(top, "base")
    portions, names, story = top.number("portions"), top.sayings("names"), top.text("story", "").strip()
    served, hold_min, chilli = top.word("served", Served, Served.HOT), top.whole("hold_min", 20), top.whole("chilli", 0)
    batch, cautions, tags = top.flag("batch", default=False), top.texts("cautions"), frozenset(top.texts("tags"))
    top.close()
    return lambda lines, steps, kept, yield_g: Dish(
        id=id_,
        name=name,
        course=course,
        base=base,
        portions=portions,
        lines=lines,
        steps=steps,
        names=MappingProxyType(names),
        yield_g=yield_g,
        kept=kept,
        served=served,
        hold_min=hold_min,
        chilli=chilli,
        batch=batch,
        story=story,
        cautions=cautions,
        tags=tags,
    )


def _line(fields: Fields, measures: Measures) -> Line:
    id_, food, said = fields.text("id"), _food(fields, "food"), fields.text("said")
    amount, form = fields.text("amount", ""), fields.word("form", Form)
    grams = _grams(fields, amount, food, form, measures)
    part, prep, eaten_share = fields.text("part", ""), fields.text("prep", ""), fields.number("eaten_share", 1.0)
    optional, to_taste = fields.flag("optional", default=False), fields.flag("to_taste", default=False)
    substitutes = tuple(_substitute(inner) for inner in fields.tables("substitutes", named="food"))
    made = fields.text("made", "") or None
    fields.close()
    with within(fields.where):
        return Line(
            id=id_,
            food=food,
            said=said,
            amount=amount,
            grams=grams,
            form=form,
            part=part,
            prep=prep,
            optional=optional,
            to_taste=to_taste,
            eaten_share=eaten_share,
            substitutes=substitutes,
            made=made,
        )


def _grams(fields: Fields, amount: str, food: str, form: Form, measures: Measures) -> Estimate:
    mean, sd = fields.number_or_none("grams"), fields.number_or_none("grams_sd")
    if sd is not None and sd < 0:
        fields.complain("grams_sd", f"{sd:g} g is below zero; a spread is 0 or more")
        sd = 0.0
    if mean is not None:
        return Estimate(mean, abs(_WEIGHT_CV * mean) if sd is None else sd)
    if sd is not None:
        fields.complain("grams_sd", "is the spread of `grams`; give that too")
    if not amount:
        fields.complain("amount", 'is missing; write one such as "1 cup", or give `grams`')
    elif food in tables.foods():
        try:
            return quantities.grams(amount, food, form, measures)
        except InputError as error:
            for complaint in (c for complaints in error.fields.values() for c in complaints):
                fields.complain("amount", f"{complaint}; or give `grams`")
    return Estimate(0.0)


def _food(fields: Fields, key: str) -> str:
    """A code of a food that a table has."""
    code = fields.text(key)
    if code:
        try:
            tables.food(code)
        except DataError as error:
            fields.complain(key, str(error))
    return code


def _substitute(fields: Fields) -> Substitute:
    made = Substitute(_food(fields, "food"), fields.number("ratio", 1.0), fields.text("note", ""))
    fields.close()
    return made


def _step(fields: Fields) -> Step:
    id_, text, technique = fields.text("id"), fields.text("text").strip(), fields.word("technique", Technique)
    minutes, attention = fields.span("minutes"), fields.word("attention", Attention)
    vessel = fields.word("vessel", Vessel) if fields.has("vessel") else None
    heat, after = fields.word("heat", Heat, Heat.NONE), tuple(map(_after, fields.tables("after", named="step")))
    lines, ahead, until = fields.texts("lines"), fields.flag("ahead", default=False), fields.text("until", "")
    whistles = fields.whole_or_none("whistles")
    fields.close()
    with within(fields.where):
        return Step(
            id=id_,
            text=text,
            technique=technique,
            minutes=minutes,
            attention=attention,
            vessel=vessel,
            heat=heat,
            after=after,
            lines=lines,
            ahead=ahead,
            until=until,
            whistles=whistles,
        )


def _after(fields: Fields) -> After:
    step, low, high = fields.text("step"), fields.whole("min", 0), fields.whole_or_none("max")
    fields.close()
    with within(fields.where):
        return After(step, low, high)


def _kept(fields: Fields) -> Kept:
    place, days, why = fields.word("place", Place), fields.span("days"), fields.text("why")
    freezes = fields.flag("freezes", default=False)
    fields.close()
    return Kept(place, days, why, freezes)


def _estimate(fields: Fields) -> Estimate:
    mean, sd = fields.number("mean"), fields.number("sd", 0.0)
    if sd < 0:
        fields.complain("sd", f"{sd:g} is below zero; a spread is 0 or more")
    fields.close()
    return Estimate(mean, sd)
