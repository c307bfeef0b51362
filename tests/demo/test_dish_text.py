"""A dish written as a file and read again is the same dish."""

from __future__ import annotations

import string
from dataclasses import replace
from types import MappingProxyType
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from chauka.demo import dish_toml, read_dish
from chauka.kitchen import (
    After,
    Attention,
    Course,
    Dish,
    Form,
    Heat,
    Kept,
    Line,
    Place,
    Served,
    Step,
    Substitute,
    Technique,
    Vessel,
)
from chauka.units import Estimate, Span

foods = st.sampled_from(["B010", "C033", "K505", "T506", "G528"])
texts = st.text(st.characters(exclude_categories=["Cs"]), max_size=6)
words = st.text(string.ascii_lowercase + string.digits, min_size=1, max_size=6)
says = texts.map(str.strip).filter(bool)
grams = st.floats(0, 40_000)
estimates = st.builds(Estimate, grams, grams)
spans = st.tuples(st.floats(0, 90), st.floats(0, 9_000)).map(lambda two: Span(two[0], two[0] + two[1]))
lags = st.tuples(st.integers(0, 5000), st.none() | st.integers(0, 5000))


def _few(of: st.SearchStrategy[Any]) -> st.SearchStrategy[tuple[Any, ...]]:
    return st.lists(of, max_size=2).map(tuple)


lines = st.builds(
    Line,
    id=texts,
    food=foods,
    said=texts,
    amount=texts,
    grams=estimates,
    form=st.sampled_from(Form),
    part=texts,
    prep=texts,
    optional=st.booleans(),
    to_taste=st.booleans(),
    eaten_share=st.floats(0, 1),
    substitutes=_few(st.builds(Substitute, foods, st.floats(0, 9), texts)),
)
steps = st.builds(
    Step,
    id=words,
    text=says,
    technique=st.sampled_from(Technique),
    minutes=spans,
    attention=st.sampled_from(Attention),
    vessel=st.none() | st.sampled_from(Vessel),
    heat=st.sampled_from(Heat),
    ahead=st.booleans(),
    until=texts,
    whistles=st.none() | st.integers(0, 30),
)
kept = st.builds(Kept, st.sampled_from(Place), spans, texts, st.booleans())
heads = st.fixed_dictionaries(
    {
        "id": words.map(lambda word: f"{word}-dish"),
        "name": says,
        "course": st.sampled_from(Course),
        "base": foods,
        "portions": st.floats(0.1, 500),
        "names": st.dictionaries(texts, texts, max_size=2).map(MappingProxyType),
        "yield_g": st.none() | estimates,
        "kept": st.none() | kept,
        "served": st.sampled_from(Served),
        "hold_min": st.integers(0, 300),
        "chilli": st.integers(0, 3),
        "batch": st.booleans(),
        "story": texts.map(str.strip),
        "cautions": _few(texts),
        "tags": st.frozensets(texts, max_size=2),
    }
)


@st.composite
def dishes(draw: st.DrawFn) -> Dish:
    """Any dish that the nouns allow: every step comes after the one before, and takes all lines."""
    some = tuple(draw(st.lists(lines, min_size=1, max_size=2, unique_by=lambda line: line.id)))
    loose = draw(st.lists(steps, max_size=3, unique_by=lambda step: step.id))
    chained = list[Step]()
    for step in loose:
        low, more = draw(lags)
        after = (After(chained[-1].id, low, None if more is None else low + more),) if chained else ()
        chained.append(replace(step, after=after, lines=tuple(line.id for line in some)))
    return Dish(lines=some, steps=tuple(chained), **draw(heads))


@settings(max_examples=40)
@given(dishes())
def test_reading_what_was_written_gives_the_same_dish(dish: Dish) -> None:
    assert read_dish(dish_toml(dish), "any file.toml") == dish


def test_what_holds_its_default_is_left_out() -> None:
    plain = Dish(
        "dal", "Dal", Course.PULSE, "B010", 5, (Line("d", "B010", "dal", "200 g", Estimate(200), Form.DRY),), ()
    )
    assert dish_toml(plain) == (
        'id = "dal"\nname = "Dal"\ncourse = "pulse"\nbase = "B010"\nportions = 5\n\n'
        '[[line]]\nid = "d"\nfood = "B010"\nsaid = "dal"\namount = "200 g"\nform = "dry"\ngrams = 200\ngrams_sd = 0\n'
    )
