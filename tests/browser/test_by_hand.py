"""The table by hand, copies put in place, taps and ticks that find no network: as a cook does them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect
from tests.browser.axe import violations
from tests.browser.conftest import DAY

pytestmark = [pytest.mark.browser, pytest.mark.slow]

PLANNED = 60_000  # ms


@pytest.fixture
def phone(browser: Browser, own_server: str) -> Iterator[Page]:
    """A phone on a book of its own."""
    context = browser.new_context(viewport={"width": 360, "height": 800}, base_url=own_server)
    yield context.new_page()
    context.close()


def test_a_dish_is_locked_moved_and_refused(phone: Page) -> None:
    """Locked and let go; put elsewhere, shown with why, followed; refused, and welcome again."""
    page = phone
    page.goto("/table/")
    first = page.locator(".day").nth(2).locator("a.hand", has_text="change").first
    where = first.get_attribute("href")
    first.click()
    assert violations(page) == []
    page.get_by_role("button", name="It stays here").click()
    expect(page.locator(".day").nth(2)).to_contain_text("locked")
    page.goto(where or "")
    page.get_by_role("button", name="It may move again").click()
    expect(page.locator(".days")).not_to_contain_text("locked")

    page.goto(where or "")
    name = page.locator("h1").inner_text()
    page.get_by_role("button", name=re.compile("Change places|Put it here")).last.click()
    choice = page.locator("section[aria-labelledby=change]")
    expect(choice.or_(page.get_by_role("alert"))).to_be_visible(timeout=PLANNED)
    if choice.count():
        expect(choice).to_contain_text(name)
        assert violations(page) == []
        page.get_by_role("button", name="Follow the new plan").click()
        expect(choice).to_have_count(0)

    page.goto("/table/")
    hand = page.locator(".day").nth(3).locator("a.hand", has_text="change").first
    hand.click()
    refused = page.locator("h1").inner_text()
    page.get_by_role("button", name="Not this").click()
    expect(choice).to_be_visible(timeout=PLANNED)
    page.get_by_role("button", name="Follow the new plan").click()
    expect(page.locator(".days")).not_to_contain_text(refused)
    page.get_by_role("button", name=re.compile("welcome again")).click()
    expect(page.locator(".refused")).to_have_count(0)


def test_guests_come_by_keyboard_alone(phone: Page) -> None:
    """From the table to the day, two guests typed in, seen there, taken off again."""
    page = phone
    page.goto(f"/table/{DAY}/")
    page.get_by_label("How many come").focus()
    page.keyboard.type("2")
    page.keyboard.press("Enter")
    expect(page.locator("section[aria-labelledby=holds]")).to_contain_text("Guests (2)")
    page.get_by_role("button", name="Take off guests").press("Enter")
    expect(page.locator("section[aria-labelledby=holds]")).to_contain_text("A day like any other")


def test_a_copy_is_brought_in_put_in_place_and_taken_back(phone: Page, tmp_path: Path) -> None:
    """Downloaded; something is added; the copy put in place takes it off, taking that back brings it again."""
    page = phone
    page.goto("/house/copies/")
    page.get_by_role("button", name="Take a copy now").click()
    with page.expect_download() as got:
        page.get_by_role("link", name="Download Sun").first.click()
    copy = tmp_path / "copy.sqlite3"
    got.value.save_as(copy)
    page.goto("/shelf/")
    page.get_by_label("Came in").fill("333 g paneer")
    page.get_by_role("button", name="Put away").click()
    expect(page.locator("main")).to_contain_text("333 g")

    page.goto("/house/copies/")
    page.get_by_label("The file").set_input_files(copy)
    page.get_by_role("button", name="Look into it").click()
    expect(page.locator("table")).to_contain_text("Lots")
    assert violations(page) == []
    page.get_by_role("button", name="Put it in place").click()
    expect(page.locator("h1")).to_have_text("It is in place")
    page.goto("/shelf/")
    expect(page.locator("main")).not_to_contain_text("333 g")
    page.go_back()
    page.get_by_role("button", name="Take it back").click()
    page.goto("/shelf/")
    expect(page.locator("main")).to_contain_text("333 g")


def test_a_foreign_file_is_refused_with_the_place_of_the_fault(phone: Page, tmp_path: Path) -> None:
    """Neither a text nor a damaged dump gets in, and the words say what is wrong with it."""
    foreign = tmp_path / "letter.json"
    foreign.write_text('{"format": "chauka book",\n oops')
    phone.goto("/house/copies/")
    phone.get_by_label("The file").set_input_files(foreign)
    phone.get_by_role("button", name="Look into it").click()
    expect(phone.get_by_role("alert")).to_contain_text("line 2")


def test_a_tap_on_the_wheel_leads_to_the_food(phone: Page) -> None:
    """What it is good for, how it keeps, its dishes."""
    phone.goto("/")
    arc = phone.locator(".wheel .arc.best").first
    name = arc.locator("title").text_content() or ""
    arc.dispatch_event("click")
    expect(phone.locator("h1")).to_have_text(re.compile(name, re.IGNORECASE))
    expect(phone.locator("main")).to_contain_text("Good for")


def test_labels_are_a_pdf(phone: Page) -> None:
    """The label of one lot, from its row."""
    phone.goto("/shelf/")
    link = phone.locator("a", has_text="Label").first.get_attribute("href") or ""
    answer = phone.request.get(f"{link}&size=large")
    assert answer.headers["content-type"] == "application/pdf"
    assert answer.body().startswith(b"%PDF")


def test_ticks_made_while_another_is_on_its_way_are_all_sent(phone: Page) -> None:
    """Slow network: three ticks and an untick while the first is still being sent; the book has heard them all."""
    page = phone

    def slowly(route: Route) -> None:
        page.wait_for_timeout(150)
        route.continue_()

    page.route("**/market/tick", slowly)
    page.goto("/market/")
    boxes = page.locator(".box[aria-pressed=false]")
    keys = [boxes.nth(n).get_attribute("value") for n in range(3)]
    here = [page.locator(f'.box[value="{key}"]') for key in keys]
    for box in here:
        box.click(no_wait_after=True)
    here[1].click(no_wait_after=True)
    for _ in range(80):
        if page.evaluate("localStorage.getItem('chauka-ticks')") == "[]":
            break
        page.wait_for_timeout(100)
    page.unroute("**/market/tick")
    page.reload()
    assert [box.get_attribute("aria-pressed") for box in here] == ["true", "false", "true"]


def test_bought_otherwise_without_a_network(phone: Page) -> None:
    """Less, for what was really paid, said in a dead spot; in the book once there is a network."""
    page = phone
    page.goto("/market/")
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()
    row = page.locator("li:not(.bought)", has=page.locator(".box")).last
    key = row.locator(".box").get_attribute("value")
    here = page.locator(".items > li", has=page.locator(f'.box[value="{key}"]'))
    page.context.set_offline(True)
    here.locator("summary").click()
    here.get_by_label("How much").fill("130 g")
    here.get_by_label("Paid in all").fill("11")
    here.get_by_role("button", name="Bought so").click()
    expect(here).to_contain_text("130 g, Rs 11")
    page.reload()
    expect(here).to_contain_text("130 g, Rs 11")
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#waiting")).to_have_text("", timeout=20_000)
    page.reload()
    expect(here).to_contain_text("Bought: 130 g")


def test_a_tap_at_the_stove_in_a_dead_spot(phone: Page) -> None:
    """Begun without a network: it runs, also after a reload; the book hears of it when the network is back."""
    page = phone
    page.goto(f"/stove/{DAY}/dinner/")
    page.get_by_role("button", name="Begin to cook").click()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()
    going = page.locator(".step[data-ends]")
    page.context.set_offline(True)
    page.get_by_role("button", name="Begin", exact=True).first.click()
    expect(going).to_have_count(1)
    expect(page.locator("#waiting")).to_contain_text("1")
    page.reload()
    expect(going).to_have_count(1)
    page.context.set_offline(False)
    page.evaluate("dispatchEvent(new Event('online'))")
    expect(page.locator("#waiting")).to_have_text("", timeout=20_000)
    page.reload()
    expect(going).to_have_count(1)
