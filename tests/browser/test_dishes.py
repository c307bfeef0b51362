"""A dish in a real browser: made for more, asked why, changed in place, its photo taken, how it went written down."""

from __future__ import annotations

import io

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect
from tests.browser.axe import violations

pytestmark = [pytest.mark.browser, pytest.mark.slow]

DISH = "/dishes/spinach-dal-with-lemon/"


def _photo() -> bytes:
    out = io.BytesIO()
    Image.effect_noise((1600, 1200), 20).convert("RGB").save(out, "JPEG")
    return out.getvalue()


def _fine(page: Page) -> None:
    """Nothing scrolls sideways, and axe-core has nothing to say by day and by night."""
    wide, shown = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
    assert wide <= shown
    for theme in ("light", "dark"):
        page.emulate_media(color_scheme=theme)
        assert violations(page) == [], theme
    page.emulate_media(color_scheme="light")


def test_for_more_people_without_a_reload(page: Page) -> None:
    """The amounts change in place, the address with them; a reload and the way back show the same."""
    page.goto(DISH)
    page.evaluate("window.still = true")
    before = page.locator(".lines").inner_text()
    page.locator("#more").click()
    expect(page.locator("#scaled input[name=portions]")).to_have_value("6")
    assert page.url.endswith("?portions=6")
    assert page.evaluate("window.still")
    assert page.locator(".lines").inner_text() != before
    page.locator("#scaled input[name=portions]").fill("20")
    page.keyboard.press("Enter")
    expect(page.locator("#scaled .complaint").first).to_be_visible()
    _fine(page)
    page.reload()
    expect(page.locator("#scaled input[name=portions]")).to_have_value("20")
    page.get_by_role("link", name="as written, for 5").click()
    expect(page.locator("#scaled input[name=portions]")).to_have_value("5")
    assert page.locator(".lines").inner_text() == before


def test_for_more_people_without_scripts(browser: Browser, server: str) -> None:
    """The same by links and forms alone."""
    context = browser.new_context(java_script_enabled=False, base_url=server)
    page = context.new_page()
    page.goto(DISH)
    page.locator("#more").click()
    expect(page.locator("#scaled input[name=portions]")).to_have_value("6")
    page.locator("#n-FE").click()
    expect(page.locator("h1")).to_have_text("Iron")
    expect(page.locator("main")).to_contain_text("Indian Food Composition Tables")
    context.close()


def test_why_of_a_nutrient_opens_and_closes_in_its_place(page: Page) -> None:
    page.goto(DISH)
    page.locator("#n-FE").focus()
    page.keyboard.press("Enter")
    row = page.locator("li", has=page.locator("#n-FE"))
    expect(row).to_contain_text("of the doubt")
    expect(page.locator("#n-FE")).to_have_attribute("aria-expanded", "true")
    _fine(page)
    page.locator("#n-FE").click()
    expect(row).not_to_contain_text("of the doubt")
    page.get_by_label("Against a day of").select_option(index=3)
    expect(page.get_by_label("Against a day of")).not_to_have_value("")
    expect(page.locator("#nutrition")).to_contain_text("Iron")


def test_changed_in_place_looked_at_kept_and_taken_back(page: Page) -> None:
    """What is unclear is asked in its line; what would be different is shown before it is kept."""
    page.goto(DISH)
    page.get_by_role("link", name="Change the dish").click()
    _fine(page)
    line = page.locator("#line-1 input[name=line]")
    line.fill("300 g flubber")
    page.get_by_role("button", name="Look again", exact=True).last.click()
    expect(page.locator("#line-1")).to_contain_text("Which food is")
    line.fill("300 g moong dal")
    page.get_by_label("Name", exact=True).fill("Spinach dal, more of it")
    page.get_by_role("button", name="Look again", exact=True).last.click()
    expect(page.locator("#changes ins").first).to_be_visible()
    _fine(page)
    page.get_by_role("button", name="Keep the dish").click()
    expect(page.locator("h1")).to_have_text("Spinach dal, more of it")
    became = page.locator("section[aria-labelledby=became]")
    became.locator("summary").first.click()
    expect(became.locator("del").first).to_be_visible()
    became.get_by_role("button", name="Take back").first.click()
    page.goto(DISH)
    expect(page.locator("h1")).to_have_text("Spinach dal with lemon")


def test_a_photo_is_taken_and_taken_off(page: Page) -> None:
    page.goto(DISH)
    page.set_input_files("input[name=photo]", {"name": "dal.jpg", "mimeType": "image/jpeg", "buffer": _photo()})
    page.get_by_label("What is on it").fill("a bowl of dal")
    page.get_by_role("button", name="Show it").click()
    shown = page.get_by_role("img", name="a bowl of dal")
    expect(shown).to_be_visible()
    assert shown.evaluate("image => image.decode().then(() => image.naturalWidth)") == 760
    _fine(page)
    page.goto("/page/spinach-dal-with-lemon/")
    expect(page.get_by_role("img", name="a bowl of dal")).to_be_visible()
    page.goto(DISH)
    page.get_by_role("button", name="Take the photo off").click()
    expect(page.locator("figure.photo")).to_have_count(0)


def test_a_drawing_with_a_script_is_no_photo(page: Page) -> None:
    page.goto(DISH)
    svg = b'<svg xmlns="http://www.w3.org/2000/svg"><script>alert(1)</script></svg>'
    page.set_input_files("input[name=photo]", {"name": "dal.jpg", "mimeType": "image/jpeg", "buffer": svg})
    page.get_by_role("button", name="Show it").click()
    expect(page.locator("main")).to_contain_text("is no photo that chauka reads")


def test_how_it_went(page: Page) -> None:
    page.goto(DISH)
    page.get_by_text("It was cooked today").click()
    page.get_by_label("Minutes at work").fill("33")
    page.get_by_label("What the food weighed").fill("1.3 kg")
    page.locator("select[name^=liking]").first.select_option("5")
    page.get_by_role("button", name="Write it down").click()
    went = page.locator("section[aria-labelledby=went]")
    expect(went).to_contain_text("33 min at work")
    expect(went).to_contain_text("Weighed 1.3 kg")
    page.goto("/ledger/")
    page.get_by_role("button", name="Take back cook a dish").first.click()
    page.goto(DISH)
    expect(went).not_to_contain_text("33 min at work")


def test_looked_for_while_typing(page: Page) -> None:
    page.goto("/dishes/")
    page.locator("#q").press_sequentially("chana")
    expect(page.locator("#found [role=status]")).to_contain_text("of 55 dishes")
    expect(page.locator("#found")).to_contain_text("Chana dal with bottle gourd")
    expect(page.locator("#q")).to_be_focused()
    _fine(page)
    page.locator("#q").fill("zzz")
    expect(page.locator("#found")).to_contain_text("No dish of the book is called so")
