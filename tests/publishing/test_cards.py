"""On-screen cards: what stands on them, how they are split, where they are painted."""

from __future__ import annotations

import io
import xml.etree.ElementTree as ET

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image
from tests.publishing.samples import HOSTILE, all_write_ups, demo_write_up, line, small_dish, written

from chauka.publishing import style
from chauka.publishing.card_art import Frame, cap_share, card_pngs, card_svgs
from chauka.publishing.cards import STEP_LETTERS, CardKind, cards, row_height, split, split_text
from chauka.publishing.text import line_parts
from chauka.units import Estimate

LOOK = style()


def of_kind(kind: CardKind, dish_id: str = "hill-rajma") -> list[str]:
    """Ids of the cards of one kind."""
    return [c.id for c in cards(demo_write_up(dish_id), LOOK) if c.kind is kind]


def test_every_line_stands_on_the_lists_once_and_has_its_own_card() -> None:
    """No ingredient is missing from the screen or twice on the lists."""
    for w in all_write_ups():
        found = cards(w, LOOK)
        listed = [i for c in found if c.kind is CardKind.LIST for i in c.lines]
        assert listed == [x.id for part in w.parts for x in part.lines]
        assert sum(c.kind is CardKind.LINE for c in found) == len(w.dish.lines)
        assert len({c.id for c in found}) == len(found)


def test_every_step_is_told_whole() -> None:
    """The words of a step's cards are the words of the step."""
    for w in all_write_ups():
        for step in w.dish.steps:
            told = " ".join(c.text for c in cards(w, LOOK) if c.step == step.id)
            wanted = step.text + (f" Until {step.until}." if step.until else "")
            bare = str.maketrans("", "", ".,;:… ")
            assert told.translate(bare) == wanted.translate(bare)


def test_spices_have_a_card_of_their_own() -> None:
    """Three dry spices or more make a spice card; fresh onion and ginger are none."""
    w = demo_write_up("hill-rajma")
    on_it = {i for c in cards(w, LOOK) if c.kind is CardKind.SPICES for i in c.lines}
    assert {"cumin", "turmeric", "chilli-powder"} <= on_it
    assert not on_it & {"onion", "garlic", "ginger", "coriander"}


@given(st.lists(st.text("abcdefg", min_size=1, max_size=60), min_size=1, max_size=20), st.integers(1, 8))
def test_lists_split_by_rule(names: list[str], most: int) -> None:
    """Order kept, nothing lost, no card over its height unless one row alone is."""
    lines = [line(f"l{i}", said=name) for i, name in enumerate(names)]
    pages = split(lines, most)
    assert [x for page in pages for x in page] == lines
    assert all(sum(map(row_height, page)) <= most or len(page) == 1 for page in pages)
    assert max(map(len, pages)) - min(map(len, pages)) <= 1


@given(st.text(st.characters(categories=["L", "P", "Zs", "N"]), min_size=1, max_size=600), st.integers(10, 140))
def test_text_splits_by_rule(text: str, most: int) -> None:
    """No piece is longer than allowed (but for its “…”), and no letter is lost."""
    pieces = split_text(text, most)
    assert all(len(p) <= most + 2 for p in pieces)
    bare = str.maketrans("", "", ",;:… ")
    assert "".join("".join(pieces).split()).translate(bare) == "".join(text.split()).translate(bare)


@pytest.mark.parametrize("frame", list(Frame))
def test_pictures_stand_inside_the_title_safe_area(frame: Frame) -> None:
    """Right size; a plate inside; not a trace of paint in the outer five per cent on any side."""
    some = [
        c for c in cards(demo_write_up("hill-rajma"), LOOK) if c.id in {"title", "list-1-1", "line-onion", "step-4"}
    ]
    for made in card_pngs(some, frame, LOOK):
        picture = Image.open(io.BytesIO(made))
        assert picture.size == (frame.value.width, frame.value.height)
        assert picture.mode == "RGBA"
        left, top, right, bottom = picture.getchannel("A").getbbox() or (0, 0, 0, 0)
        assert left >= 0.05 * picture.width - 1
        assert top >= 0.05 * picture.height - 1
        assert right <= 0.95 * picture.width + 1
        assert bottom <= 0.95 * picture.height + 1
        assert right - left > 0.05 * picture.width


def test_capitals_are_high_enough_for_a_phone() -> None:
    """A capital H on a card measures at least 3.5 % of the frame (20 lines of 576, a regulator's caption rule)."""
    card = next(
        c for c in cards(written(small_dish(lines=(line(said="H", amount=""),), steps=())), LOOK) if c.id == "line-dal"
    )
    picture = Image.open(io.BytesIO(card_pngs([card], Frame.HD, LOOK)[0])).convert("RGBA")
    bright = picture.convert("L").point(lambda v: 255 if v > 160 else 0)
    half = bright.crop((0, 0, picture.width, bright.getbbox()[3]))  # type: ignore[index]
    rows = [y for y in range(half.height) if half.crop((0, y, half.width, y + 1)).getbbox()]
    last = rows[-1]
    first = last
    while first - 1 in rows:
        first -= 1
    assert last - first + 1 >= 0.035 * 1080
    assert 0.5 < cap_share(LOOK) < 0.8


def test_drawings_carry_their_words() -> None:
    """An SVG is well-formed, names itself in words, and comes in both shapes."""
    found = cards(demo_write_up(), LOOK)[:3]
    for frame in (Frame.HD, Frame.TALL):
        for card, svg in zip(found, card_svgs(found, frame, LOOK), strict=True):
            root = ET.fromstring(svg)  # noqa: S314 -- our own
            assert root[0].text == card.alt
            assert root.get("role") == "img"


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_only_words(name: str) -> None:
    """Markup in a name neither breaks a drawing nor a picture."""
    w = written(small_dish(name=name, lines=(line(said=name),), steps=()))
    found = cards(w, LOOK)
    svgs = card_svgs(found, Frame.HD, LOOK)
    assert ET.fromstring(svgs[0])[0].text == found[0].alt  # noqa: S314


def test_long_lists_fit_the_frame() -> None:
    """All list and spice cards of all demo dishes fit, in the wide and in the tall frame."""
    found = [
        c for w in all_write_ups() for c in cards(w, LOOK) if c.kind in (CardKind.LIST, CardKind.SPICES, CardKind.STEP)
    ]
    for frame in (Frame.HD, Frame.TALL):
        assert len(card_svgs(found, frame, LOOK)) == len(found)


def test_a_bare_count_keeps_to_its_food() -> None:
    """One bay leaf reads as one bay leaf."""
    assert line_parts(line(said="bay leaf", amount="1", grams=Estimate(0.4))) == ("1", "bay leaf (0.4 g)")


def test_the_same_bytes_each_time() -> None:
    """Pictures and drawings repeat byte for byte."""
    found = cards(demo_write_up(), LOOK)[:2]
    assert card_pngs(found, Frame.HD, LOOK) == card_pngs(found, Frame.HD, LOOK)
    assert card_svgs(found, Frame.HD, LOOK) == card_svgs(found, Frame.HD, LOOK)
    assert STEP_LETTERS < 17 * 9
