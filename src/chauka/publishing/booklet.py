"""A season's dishes as one booklet: what stands in it, and its PDF."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from chauka import quantities, season, tables
from chauka.kitchen import Course, Form, House
from chauka.publishing import press, text
from chauka.publishing.paper import sheet_data
from chauka.publishing.style import Style, style
from chauka.publishing.wheel import months_text, wheel_svg
from chauka.publishing.words import words
from chauka.publishing.write_up import WriteUp

HEADS = {
    "contents": "Contents", "wheel": "The year and what it brings", "measures": "Measures of this house",
    "measure": "Measure", "holds": "holds", "care": "Take care", "by_produce": "By produce", "by_time": "By time",
}  # fmt: skip
WHEEL_NOTE = (
    "Months in which the region's calendar lists what these dishes are made of; a calendar is a list that "
    "somebody wrote, so look at the stalls."
)
_GROWN = ("Green Leafy Vegetables", "Other Vegetables", "Roots and Tubers", "Fruits")
_TIMES = (
    (15, "Up to 15 minutes"),
    (30, "Up to half an hour"),
    (60, "Up to an hour"),
    (math.inf, "Longer, or begun ahead"),
)
_IN_SHORT = ("ENERC_KCAL", "PROCNT", "FIBTG", "NA", "CA", "FE")
_MOST_ON_WHEEL = 16
_MOST_WEIGHED = 36
_SPOONS = ("cup", "tbsp", "tsp")


@dataclass(frozen=True, slots=True)
class Booklet:
    """What a booklet holds, whatever it is printed on. Indexes are (head, ((dish name, dish id), …))."""

    title: str
    sub: str
    season: str
    author: str
    dishes: tuple[WriteUp, ...]
    produce: tuple[tuple[str, frozenset[int]], ...]
    measures: tuple[tuple[str, str], ...]
    cautions: tuple[str, ...]
    by_produce: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]
    by_time: tuple[tuple[str, tuple[tuple[str, str], ...]], ...]

    @property
    def courses(self) -> tuple[tuple[Course, tuple[WriteUp, ...]], ...]:
        """Dishes by course, in the order of a day's eating."""
        named = ((course, tuple(w for w in self.dishes if w.dish.course is course)) for course in Course)
        return tuple((course, of_it) for course, of_it in named if of_it)


def booklet(
    title: str, write_ups: Sequence[WriteUp], house: House, *, season_name: str = "", sub: str = "", author: str = ""
) -> Booklet:
    """Gather dishes, wheel, measures, cautions and indexes."""
    dishes = tuple(sorted(write_ups, key=lambda w: (list(Course).index(w.dish.course), w.dish.name)))
    cautions = [c for w in dishes for c in (*w.dish.cautions, *(f"{c.text} ({c.source})" for c in w.cautions))]
    return Booklet(
        title=title,
        sub=sub or f"{len(dishes)} dishes from {house.name}",
        season=season_name,
        author=author,
        dishes=dishes,
        produce=_produce(dishes, house.region),
        measures=_measures(dishes, house),
        cautions=tuple(dict.fromkeys(cautions)),
        by_produce=_by_produce(dishes),
        by_time=_by_time(dishes),
    )


def booklet_pdf(made: Booklet, look: Style | None = None) -> bytes:
    """The booklet as PDF/UA-1, A5."""
    look, w = look or style(), words()
    data: dict[str, Any] = {
        "author": made.author, "season": made.season, "sub": made.sub, "heads": HEADS,
        "wheel": wheel_svg(made.produce, look) if made.produce else "",
        "wheel_alt": wheel_words(made), "wheel_note": WHEEL_NOTE,
        "produce": [[str(n), name, months_text(m)] for n, (name, m) in enumerate(made.produce, start=1)],
        "measures": [list(row) for row in made.measures],
        "measures_note": "Amounts are given in these measures and in grams; where they differ, the grams are meant.",
        "cautions": made.cautions,
        "courses": [
            {"name": w.courses[course].capitalize(), "dishes": [_dish(x) for x in of_it]}
            for course, of_it in made.courses
        ],
        "by_produce": made.by_produce,
        "by_time": made.by_time,
    }  # fmt: skip
    return press.pdf("booklet", data, look, title=made.title)


def wheel_words(made: Booklet) -> str:
    """The wheel in words."""
    return "; ".join(f"{name}: {months_text(months)}" for name, months in made.produce) + "."


def per_portion_text(write_up: WriteUp) -> str:
    """The chief nutrients in one line."""
    w, given = words(), write_up.nutrition.per_portion
    said = [f"{w.nutrients[t]} {text.amount_text(given[t], tables.NUTRIENTS[t].unit)}" for t in _IN_SHORT if t in given]
    return "A portion gives: " + "; ".join(said) + "."


def _dish(write_up: WriteUp) -> dict[str, Any]:
    return sheet_data(write_up, words()) | {
        "id": write_up.dish.id, "name": write_up.dish.name, "per_portion": per_portion_text(write_up)
    }  # fmt: skip


def _measures(write_ups: Sequence[WriteUp], house: House) -> tuple[tuple[str, str], ...]:
    m = house.measures
    volumes = {"cup": m.cup_ml, "katori": m.katori_ml, "tablespoon": m.tablespoon_ml, "teaspoon": m.teaspoon_ml}
    return (*((f"1 {name}", f"{ml:g} ml") for name, ml in volumes.items()), *_weighed(write_ups, house))


def _weighed(write_ups: Sequence[WriteUp], house: House) -> list[tuple[str, str]]:
    """What a cup, a tablespoon or a teaspoon of the dishes' own foods weighs, where they are measured so."""
    found: dict[str, str] = {}
    for line in (x for w in write_ups for x in w.dish.lines if x.form in (Form.DRY, Form.LIQUID)):
        unit = next((u for u in _SPOONS if f" {u}" in f"{line.amount} "), None)
        if unit and line.grams.mean:
            name = f"1 {unit} of {line.said}"
            found.setdefault(name, text.grams_text(quantities.grams(f"1 {unit}", line.food, line.form, house.measures)))
    return sorted(found.items(), key=lambda row: row[0].split(" of ")[1])[:_MOST_WEIGHED]


def _grown(write_ups: Sequence[WriteUp]) -> dict[str, str]:
    """Produce of the dishes: code → name, in the order of the alphabet."""
    codes = {x.food for w in write_ups for x in w.dish.lines if tables.food(x.food).group in _GROWN}
    return dict(sorted(((c, _called(c)) for c in codes), key=lambda item: item[1]))


def _called(code: str) -> str:
    return tables.food(code).name.split(",")[0]


def _produce(write_ups: Sequence[WriteUp], region: str) -> tuple[tuple[str, frozenset[int]], ...]:
    """Foods of the wheel: listed by the region's calendar, those used most first, but not those of all the year."""
    grown = _grown(write_ups)
    used = {c: sum(any(x.food == c for x in w.dish.lines) for w in write_ups) for c in grown}
    listed = [(c, season.months_of(c, region)) for c in sorted(grown, key=lambda c: (-used[c], grown[c]))]
    rows = [(grown[c], months) for c, months in listed if 0 < len(months) < 12]
    return tuple(dict(rows[:_MOST_ON_WHEEL]).items())


def _by_produce(write_ups: Sequence[WriteUp]) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    named: dict[str, dict[str, str]] = {}
    for code, name in _grown(write_ups).items():
        for w in write_ups:
            if any(x.food == code for x in w.dish.lines):
                named.setdefault(name, {})[w.dish.id] = w.dish.name
    return tuple((name, tuple((n, i) for i, n in of_it.items())) for name, of_it in named.items())


def _by_time(write_ups: Sequence[WriteUp]) -> tuple[tuple[str, tuple[tuple[str, str], ...]], ...]:
    out, low = [], 0.0
    for high, name in _TIMES:
        here = tuple((w.dish.name, w.dish.id) for w in write_ups if low < w.times.total_min <= high)
        if here:
            out.append((name, here))
        low = high
    return tuple(out)
