"""Screenshots of every page at phone and laptop width: `make pictures` writes them to docs/pictures.

The pages come from the real server on a demo book made for this; the browser is Debian's Chromium.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

FOLDER = Path(__file__).parents[1] / "docs" / "pictures"
DAY = "2027-03-14"
SIZES = ((390, 844), (1280, 860))
PAGES = {
    "home": "/",
    "market": "/market/",
    "shelf": "/shelf/",
    "bench": "/bench/",
    "stove": f"/stove/{DAY}/dinner/",
    "table": "/table/",
    "page": "/page/",
    "dishes": "/dishes/",
    "dish": "/dishes/spinach-dal-with-lemon/",
    "food": "/foods/C033/",
    "day": "/table/2027-03-16/",
    "house": "/house/",
    "learned": "/house/learned/",
    "copies": "/house/copies/",
    "ledger": "/ledger/",
}
QUIET = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]


@contextmanager
def server() -> Iterator[str]:
    """The address of the real server on a fresh demo book."""
    with tempfile.TemporaryDirectory() as folder:
        book = Path(folder) / "book.sqlite3"
        chauka = [sys.executable, "-m", "chauka"]
        made = ["demo", "--from", DAY, "--seconds", "20", "--book", str(book)]
        subprocess.run([*chauka, *made], check=True, stdout=subprocess.DEVNULL)
        serving = subprocess.Popen(
            [*chauka, "serve", "--port", "0", "--book", str(book), "--today", DAY],
            stdout=subprocess.PIPE,
            text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1"},
        )
        try:
            yield _address(serving)
        finally:
            serving.terminate()
            serving.communicate(timeout=20)


def _address(serving: subprocess.Popen[str]) -> str:
    for line in serving.stdout or ():
        if found := re.search(r"http://127\.0\.0\.1:\d+", line):
            return found.group()
    sys.exit("the server said no address")


def prepare(page: Page, name: str) -> None:
    """What a page shows best while somebody is at it."""
    if name == "market":
        for box in page.locator(".box[aria-pressed=false]").all()[:3]:
            box.click()
        page.wait_for_timeout(800)
        page.evaluate("scrollTo(0, 0)")
    if name == "copies" and not page.get_by_role("link", name="Look into it").count():
        page.get_by_role("button", name="Take a copy now").click()
    if name == "learned" and not page.get_by_text("means spinach").count():
        page.get_by_label("We call it").fill("palak")
        page.get_by_label("The tables call it").fill("spinach")
        page.get_by_role("button", name="Teach").click()
    if name == "stove":
        if page.get_by_role("button", name="Begin to cook").count():
            page.get_by_role("button", name="Begin to cook").click()
        begin = page.get_by_role("button", name="Begin", exact=True)
        if not page.get_by_role("button", name="Done").count() and begin.count():
            begin.first.click()
        page.wait_for_timeout(800)


def take(browser: Browser, address: str) -> None:
    """All pages at both widths; the home page by night too."""
    for width, height in SIZES:
        context = browser.new_context(viewport={"width": width, "height": height}, base_url=address)
        page = context.new_page()
        page.set_default_navigation_timeout(120_000)  # also where the machine is busy
        for name, path in PAGES.items():
            page.goto(path)
            prepare(page, name)
            page.screenshot(path=FOLDER / f"{name}-{width}.png")
        page.goto("/table/")
        page.locator("section[aria-labelledby=intake]").screenshot(path=FOLDER / f"gets-{width}.png")
        page.goto("/shelf/")
        page.locator("section[aria-labelledby=line]").screenshot(path=FOLDER / f"two-weeks-{width}.png")
        page.goto("/table/")
        page.locator(".day").nth(2).locator("a.hand").first.click()
        page.screenshot(path=FOLDER / f"by-hand-{width}.png")
        page.emulate_media(color_scheme="dark")
        page.goto("/")
        page.screenshot(path=FOLDER / f"night-{width}.png")
        context.close()


def main() -> None:
    """Write all pictures anew."""
    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
    if chromium is None:
        sys.exit("no Chromium on this machine; sudo apt-get install chromium brings it")
    FOLDER.mkdir(parents=True, exist_ok=True)
    with server() as address, sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=chromium, args=QUIET)
        take(browser, address)
        browser.close()
    total = sum(picture.stat().st_size for picture in FOLDER.glob("*.png"))
    print(f"{len(list(FOLDER.glob('*.png')))} pictures, {total / 1e6:.1f} MB, in {FOLDER}")


if __name__ == "__main__":
    main()
