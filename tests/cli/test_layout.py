"""Plain text that fits a hundred columns, whatever stands in it."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from chauka.cli.paper import layout

words = st.text(st.characters(categories=["Lu", "Ll", "Lo", "Mn", "Nd"], include_characters=" .,½"), max_size=60)


@given(st.lists(st.tuples(words, words, words), max_size=5))
def test_columns_never_pass_the_edge_and_lose_no_word(rows: list[tuple[str, str, str]]) -> None:
    for made in (list(layout.columns(rows, "lrl")), list(layout.noted(((row, "why") for row in rows), "lrl"))):
        assert all(layout.width(line) <= layout.WIDTH for line in made)
        for row in rows:
            for cell in row:
                assert "".join(cell.split())[:10] in "".join("".join(made).split()) or len(cell) > 16


@given(words)
def test_a_paragraph_keeps_all_its_words(text: str) -> None:
    lines = list(layout.paragraph(text))
    assert " ".join(" ".join(lines).split()) == " ".join(text.split())


def test_columns_line_up() -> None:
    assert list(layout.columns([("a", "1", "x"), ("bbb", "22", "y")], "lrl", indent="")) == ["a     1  x", "bbb  22  y"]


def test_a_number_stays_with_its_unit() -> None:
    text = "x" * 93 + " 18 °C"
    assert list(layout.paragraph(text))[1].strip() == "18 °C"


def test_listing() -> None:
    assert [layout.listing(list("abc")[:n]) for n in range(4)] == ["", "a", "a and b", "a, b and c"]


def test_marks_that_stand_on_a_letter_take_no_column() -> None:
    assert layout.width("पालक") == 4
    assert layout.width("é") == 1
