"""Market list, bench list, run sheet and labels on paper."""

from __future__ import annotations

import io

import pikepdf
import pytest
from tests.publishing.made_plan import NAMES, bench, plan, run_sheet
from tests.publishing.test_press import flat, pages

from chauka.publishing.lists import bench_pdf, labels_pdf, list_pdf, market_pdf, run_sheet_pdf

MADE = {
    "market": market_pdf(plan(), NAMES),
    "bench": bench_pdf(bench()),
    "run sheet": run_sheet_pdf(run_sheet(), "Dinner"),
    "labels": labels_pdf(bench().labels, NAMES),
}


@pytest.mark.parametrize(
    ("which", "said"),
    [
        ("market", ("½ kg of split moong", "2 ×", "Small dal", "Sunday 14 March: greens")),
        ("bench", ("21:00", "Wash and soak 200 g split moong", "until Sun 07:00", "5 min")),
        ("run sheet", ("19:20", "Chop the greens.", "Boil the dal. Until it is soft.", "on the table at 20:00")),
        ("labels", ("Split moong", "soaked · 430 g", "use by Tue 16 March", "packed Sunday 14 March", "no date known")),
    ],
)  # fmt: skip
def test_everything_is_on_paper(which: str, said: tuple[str, ...]) -> None:
    """Times, amounts, dishes, dates."""
    text = flat(pages(MADE[which]))
    for words in said:
        assert flat(words) in text


@pytest.mark.parametrize("which", list(MADE))
def test_they_are_tagged(which: str) -> None:
    """The same standard as the sheet."""
    with pikepdf.open(io.BytesIO(MADE[which])) as pdf, pdf.open_metadata() as meta:
        assert str(meta["pdfuaid:part"]) == "1"


def test_empty_lists_still_print() -> None:
    """A week without work ahead gives a page that says so by its head."""
    assert flat("Nothing") in flat(pages(list_pdf("Nothing", [])))


def test_many_labels_take_more_pages() -> None:
    """Twenty-four to a page."""
    many = bench().labels[:1] * 50
    with pikepdf.open(io.BytesIO(labels_pdf(many, NAMES))) as pdf:
        assert len(pdf.pages) == 3
