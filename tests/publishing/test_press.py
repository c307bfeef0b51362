"""The typesetter's one door: what goes in is text, what comes out is the same each time."""

from __future__ import annotations

import io
import shutil
import subprocess
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from tests.publishing.samples import HOSTILE, demo_write_up, line, small_dish, written

from chauka.errors import InputError
from chauka.publishing import Language, press, style
from chauka.publishing.paper import portions_beside, sheet_pdf
from chauka.publishing.press import Sheet
from chauka.publishing.text import grams_text


def pages(made: bytes) -> str:
    """All text of a PDF as another library extracts it."""
    return "\n".join(page.extract_text() for page in PdfReader(io.BytesIO(made)).pages)


def flat(text: str) -> str:
    """Without spaces: line breaks fall where the page wants them."""
    return "".join(text.split())


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_print_as_themselves(name: str) -> None:
    """Whatever a name looks like to a typesetter, it prints letter by letter."""
    w = written(small_dish(name=name, story=name, lines=(line(said=name), small_dish().lines[1])))
    if name.isascii():
        assert flat(name) in flat(pages(sheet_pdf(w)))
    with pikepdf.open(io.BytesIO(sheet_pdf(w))) as pdf:
        assert str(pdf.docinfo["/Title"]) == name


PRINTABLE = sorted(c for c in press._signs(press._folders(style())) if c.isprintable() and c.strip())


@given(st.text(st.sampled_from(PRINTABLE), min_size=1, max_size=60))
@settings(max_examples=15, deadline=None)
def test_any_printable_text_compiles(text: str) -> None:
    """Any text of signs that the fonts have is set without a complaint, and named in the title as it is."""
    w = written(small_dish(name="x" + text, story=text, lines=(line(said=text, prep=text), small_dish().lines[1])))
    with pikepdf.open(io.BytesIO(sheet_pdf(w))) as pdf:
        assert str(pdf.docinfo["/Title"]) == "x" + text


@given(st.text(min_size=1, max_size=30))
@settings(max_examples=15, deadline=None)
def test_any_unicode_prints_or_is_named(text: str) -> None:
    """Other text is either set, or refused in words that name the sign: never a box, never another error."""
    w = written(small_dish(name="x" + text))
    if press.unprintable(press.clean(text), style()):
        with pytest.raises(InputError, match=r"U\+"):
            sheet_pdf(w)
    else:
        sheet_pdf(w)


def test_a_missing_sign_is_named() -> None:
    """The complaint shows the sign and says what to do."""
    with pytest.raises(InputError, match=r"漢 \(U\+6F22\).*folder"):
        sheet_pdf(written(small_dish(name="漢 dal")))


@pytest.mark.parametrize("paper", list(Sheet))
@pytest.mark.parametrize("language", list(Language))
def test_it_is_tagged(paper: Sheet, language: Language) -> None:
    """PDF/UA-1 facts: marked, a structure tree, a language, the title shown, the identifier in XMP, letters mapped."""
    with pikepdf.open(io.BytesIO(sheet_pdf(demo_write_up(), paper=paper, language=language))) as pdf:
        assert bool(pdf.Root.MarkInfo.Marked)
        assert "/StructTreeRoot" in pdf.Root
        assert str(pdf.Root.Lang) == language
        assert bool(pdf.Root.ViewerPreferences.DisplayDocTitle)
        with pdf.open_metadata() as meta:
            assert str(meta["pdfuaid:part"]) == "1"
        width = float(pdf.pages[0].mediabox[2])
        assert round(width) == {Sheet.A4: 595, Sheet.A5: 420}[paper]
        for page in pdf.pages:
            for font in page.Resources.Font.values():
                assert "/ToUnicode" in font


def test_the_same_bytes_each_time() -> None:
    """No clock and no chance in a sheet."""
    assert sheet_pdf(demo_write_up()) == sheet_pdf(demo_write_up())


def test_every_line_and_step_is_on_paper_in_order() -> None:
    """Weights and steps can be read out of the PDF; each list in its order."""
    w = demo_write_up()
    text = flat(pages(sheet_pdf(w, paper=Sheet.A5)))
    at = [text.index(flat(s.text)) for s in w.dish.steps if not s.ahead]
    assert at == sorted(at)
    assert all(flat(f"{grams_text(x.grams)}") in text for x in w.dish.lines)


@pytest.mark.skipif(shutil.which("pdftotext") is None, reason="poppler's pdftotext is not installed")
def test_devanagari_reads_back(tmp_path: Path) -> None:
    """The Hindi name comes out of the PDF as it went in, conjuncts and signs before their letter in place."""
    (tmp_path / "sheet.pdf").write_bytes(sheet_pdf(demo_write_up("vegetable-khichdi")))
    command = ["pdftotext", str(tmp_path / "sheet.pdf"), "-"]
    found = subprocess.run(command, capture_output=True, check=True)  # noqa: S603 -- a command of our own
    assert flat("सब्ज़ियों वाली खिचड़ी") in flat(found.stdout.decode())


def test_scaling_shows_other_portions_only() -> None:
    """The scaling table never repeats the sheet's own amounts."""
    assert portions_beside(small_dish()) == (4.0, 6.0, 8.0)
    assert portions_beside(small_dish(portions=5.0)) == (2.0, 4.0, 6.0, 10.0)
