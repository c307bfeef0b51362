"""The pages in Hindi in a real browser: they fit, read well, change language in the foot, and are read aloud in it."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect
from tests.browser.axe import violations
from tests.browser.test_pages import PAGES

pytestmark = [pytest.mark.browser, pytest.mark.slow]

FITS = ("home", "market", "shelf", "bench", "stove", "table", "page", "dish", "house", "day")


def _hindi(page: Page) -> Page:
    page.goto("/ledger/")
    page.get_by_role("button", name="हिंदी").click()
    return page


def test_the_foot_changes_the_language_and_back(page: Page) -> None:
    """One tap to Hindi, one tap back, on the same page."""
    _hindi(page)
    expect(page.locator("html")).to_have_attribute("lang", "hi")
    expect(page.get_by_role("heading", level=1)).to_have_text("बही")
    page.get_by_role("button", name="English").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Ledger")


def test_pages_fit_in_hindi(page: Page) -> None:
    """No section scrolls sideways with its longer words."""
    _hindi(page)
    for name in FITS:
        page.goto(PAGES[name])
        expect(page.locator("html")).to_have_attribute("lang", "hi")
        wide, shown = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
        assert wide <= shown, f"{name}: {wide} px of page in {shown} px"


@pytest.mark.parametrize("name", ["shelf", "table", "dish"])
def test_axe_finds_nothing_in_hindi(page: Page, name: str) -> None:
    """axe-core has nothing to say of a page in Hindi, nor of the English sentences marked in it."""
    _hindi(page).goto(PAGES[name])
    assert violations(page) == []


def test_letters_have_a_font(page: Page) -> None:
    """Devanagari letters of a heading are drawn, not boxes: two different letters differ in width or shape."""
    _hindi(page)
    drawn = page.evaluate(
        """() => {
            const paper = document.createElement("canvas").getContext("2d");
            paper.font = getComputedStyle(document.body).font;
            return ["क", "औ", "ज्ञ"].map((letter) => paper.measureText(letter).width);
        }"""
    )
    assert len(set(drawn)) == len(drawn), "this machine has no Devanagari font"
