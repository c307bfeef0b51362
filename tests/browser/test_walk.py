"""A cook's way through the pages: the market without a network, the stove on two phones, the keyboard alone."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect
from tests.browser.axe import violations
from tests.browser.conftest import DAY, serving

pytestmark = [pytest.mark.browser, pytest.mark.slow]


def _all_sent(page: Page) -> None:
    for _ in range(50):
        if page.evaluate("localStorage.getItem('chauka-ticks')") == "[]":
            return
        page.wait_for_timeout(100)
    raise AssertionError("ticks are still waiting")


def test_the_market_list_works_without_a_network_and_catches_up(page: Page) -> None:
    """Ticked in a dead spot, kept over a reload, sent when the network is back."""
    page.goto("/market/")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()  # now the worker has the page and its files
    box = page.locator(".box[aria-pressed=false]").last
    key = box.get_attribute("value")
    here = page.locator(f'.box[value="{key}"]')
    page.context.set_offline(True)
    box.click()
    expect(here).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#waiting")).to_contain_text("1 tick waits")
    page.reload()
    expect(here).to_have_attribute("aria-pressed", "true")
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#waiting")).to_have_text("")
    page.reload()
    expect(here).to_have_attribute("aria-pressed", "true")
    here.click()
    expect(here).to_have_attribute("aria-pressed", "false")
    _all_sent(page)
    page.reload()
    expect(here).to_have_attribute("aria-pressed", "false")


def test_bought_otherwise(page: Page) -> None:
    """Less than listed, for what was really paid."""
    page.goto("/market/")
    row = page.locator("li:not(.bought)", has=page.locator(".box")).last
    key = row.locator(".box").get_attribute("value")
    row.locator("summary").click()
    row.get_by_label("How much").fill("120 g")
    row.get_by_label("Paid in all").fill("12.50")
    row.get_by_role("button", name="Bought so").click()
    here = page.locator("li.bought", has=page.locator(f'.box[value="{key}"]'))
    here.locator("summary").click()
    expect(here).to_contain_text("120 g")
    expect(here).to_contain_text("12.50")
    here.locator(".box").click()
    expect(page.locator("#waiting")).to_have_text("")


def test_two_phones_cook_one_dinner(page: Page, browser: Browser, server: str) -> None:
    """What one begins the other sees; more minutes are passed on; a reload loses nothing."""
    where = f"/stove/{DAY}/dinner/"
    page.goto(where)
    page.get_by_role("button", name="Begin to cook").click()
    page.get_by_role("button", name="Begin", exact=True).first.click()
    going = page.locator(".step[data-ends]")
    expect(going).to_have_count(1)
    text = going.locator(".do").inner_text()
    other = browser.new_context(base_url=server).new_page()
    other.goto(where)
    expect(other.locator(".step[data-ends] .do")).to_have_text(text)
    other.get_by_role("button", name="5 more minutes").click()
    before = going.get_attribute("data-ends")
    expect(going).not_to_have_attribute("data-ends", before or "", timeout=12_000)  # the first phone hears of it
    page.reload()
    page.get_by_role("button", name="Done").click()
    expect(going).to_have_count(0)
    page.get_by_role("button", name="Pause").click()
    expect(page.get_by_role("button", name="Go on")).to_be_visible()
    page.get_by_role("button", name="Put the sheet away").click()
    expect(page.get_by_role("button", name="Begin to cook")).to_be_visible()
    other.context.close()


def test_the_shelf_by_keyboard_alone(page: Page) -> None:
    """Typed in, opened, used up, without a mouse; the ledger takes it back."""
    page.goto("/shelf/")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")  # to the page
    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_attribute("name", "text")
    page.keyboard.type("200 g tomatoes on the counter")
    page.keyboard.press("Enter")
    counter = page.locator("section[aria-labelledby=counter]")
    expect(counter).to_contain_text("tomato")
    counter.locator("summary").first.focus()
    page.keyboard.press("Enter")
    page.keyboard.press("Tab")
    expect(page.locator(":focus")).to_have_attribute("name", "amount")
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    expect(counter.get_by_text("tomato")).to_have_count(0)
    page.goto("/ledger/")
    page.get_by_role("button", name="Take back").first.press("Enter")
    expect(page.locator("main")).to_contain_text("taken back")
    page.goto("/shelf/")
    expect(counter).to_contain_text("tomato")
    counter.locator("summary").first.click()
    counter.get_by_role("button", name="Used").click()


def test_a_bench_line_is_ticked(page: Page) -> None:
    """Ticked off, and still so after a reload."""
    page.goto("/bench/")
    box = page.locator(".box").last
    box.click()
    expect(box).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#waiting")).to_have_text("")
    _all_sent(page)
    page.reload()
    expect(box).to_have_attribute("aria-pressed", "true")
    box.click()
    _all_sent(page)


def test_an_empty_book_becomes_a_house_with_a_plan(browser: Browser, tmp_path: Path) -> None:
    """First run: five questions asked, the demo house in one click, a plan looked for, cut short, and followed."""
    with serving(tmp_path / "new.sqlite3") as address:
        page = browser.new_context(viewport={"width": 360, "height": 800}, base_url=address).new_page()
        page.goto("/shelf/")
        expect(page.locator("h1")).to_have_text("A new book")
        assert violations(page) == []
        page.get_by_role("button", name="Show the demo house").click()
        expect(page.locator("h2", has_text="Planning the days")).to_be_visible()
        expect(page.locator("[aria-live]")).to_contain_text("best plan so far", timeout=30_000)
        page.get_by_role("button", name="Enough").click()
        page.get_by_role("button", name="Follow this plan").click(timeout=60_000)
        expect(page.get_by_role("button", name="Follow this plan")).to_have_count(0)
        expect(page.locator(".day").first).to_be_visible()
        page.context.close()
