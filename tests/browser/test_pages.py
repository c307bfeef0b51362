"""Every page opens in a real browser at phone and laptop width, reads well, and can be walked by keyboard."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect
from tests.browser.axe import violations

pytestmark = [pytest.mark.browser, pytest.mark.slow]

PAGES = {
    "home": "/",
    "market": "/market/",
    "shelf": "/shelf/",
    "bench": "/bench/",
    "stove": "/stove/",
    "table": "/table/",
    "page": "/page/",
    "dishes": "/dishes/",
    "dish": "/dishes/spinach-dal-with-lemon/",
    "sheet": "/page/spinach-dal-with-lemon/",
    "house": "/house/",
    "ledger": "/ledger/",
    "weeks": "/ledger/weeks/",
    "learned": "/house/learned/",
    "copies": "/house/copies/",
    "day": "/table/2027-03-16/",
    "food": "/foods/C033/",
    "new dish": "/dishes/new",
    "edit dish": "/dishes/spinach-dal-with-lemon/edit/",
    "why": "/dishes/spinach-dal-with-lemon/why/FE/",
}


@pytest.mark.parametrize("name", PAGES)
def test_page_opens_and_fits(page: Page, name: str) -> None:
    """The page answers 200, has one main heading, and never scrolls sideways."""
    answer = page.goto(PAGES[name])
    assert answer is not None
    assert answer.status == 200
    expect(page.locator("h1")).to_have_count(1)
    wide, shown = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    assert wide <= shown, f"{wide} px of page in {shown} px"


@pytest.mark.parametrize("name", PAGES)
def test_axe_finds_nothing(page: Page, name: str) -> None:
    """axe-core (WCAG 2.2 AA and good practice) has nothing to say, by day and by night."""
    page.goto(PAGES[name])
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        assert violations(page) == [], f"{name}, {theme}"


def test_the_way_leads_through_all_sections(page: Page) -> None:
    """From today through market, shelf, bench, stove and table to the page, by the links at the head."""
    page.goto("/")
    for section in ("Market", "Shelf", "Bench", "Stove", "Table", "Page"):
        page.get_by_role("navigation", name="The food's way").get_by_role("link", name=section, exact=True).click()
        expect(page.locator("[aria-current=page]").first).to_be_visible()


def test_touch_targets_in_the_head_are_large(page: Page) -> None:
    """Links of the way are at least 44 px high, for wet thumbs."""
    page.goto("/shelf/")
    for link in page.locator(".way a").all():
        box = link.bounding_box()
        assert box is not None
        assert box["height"] >= 44


def test_first_tab_stop_skips_to_the_page(page: Page) -> None:
    """The keyboard reaches the content with one key."""
    page.goto("/shelf/")
    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_text("To the page")


def test_a_lot_used_up_leaves_the_shelf(page: Page) -> None:
    """Logging a lot as used takes it from the shelf."""
    page.goto("/shelf/")
    row = page.locator("section > ul > li", has=page.locator("summary")).last
    name = row.locator("strong").inner_text()
    before = page.locator("main strong", has_text=name).count()
    row.locator("summary").click()
    row.get_by_role("button", name="Used").click()
    expect(page.locator("h1")).to_have_text("Shelf")
    assert page.locator("main strong", has_text=name).count() < before


def test_a_wrong_amount_is_told_and_nothing_changes(page: Page) -> None:
    """More than there is gives a complaint in words, and the shelf stays as it was."""
    page.goto("/shelf/")
    lots = page.locator("main summary").count()
    row = page.locator("main li", has=page.locator("summary")).first
    row.locator("summary").click()
    row.locator("input[name=amount]").fill("900 kg")
    with page.expect_navigation():
        row.get_by_role("button", name="Used").click()
    expect(page.locator("main")).to_contain_text("Nothing was changed")
    page.goto("/shelf/")
    assert page.locator("main summary").count() == lots
