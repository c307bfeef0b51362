"""The real server on a demo book with a plan, and a real Chromium: skipped with a reason where there is none."""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

DAY = "2027-03-14"
CHROMIUM = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))), None)
QUIET = [
    "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking",
    "--disable-component-update", "--disable-sync",
]  # fmt: skip
START_S = 60


@pytest.fixture(scope="session")
def made_book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A demo book with a plan made in ten seconds; nobody opens it, tests take copies."""
    book = tmp_path_factory.mktemp("made") / "book.sqlite3"
    chauka = [sys.executable, "-m", "chauka"]
    made = subprocess.run(  # noqa: S603 -- our own command
        [*chauka, "demo", "--from", DAY, "--seconds", "10", "--book", str(book)],
        capture_output=True,
        text=True,
        check=False,
    )
    assert made.returncode == 0, made.stderr
    return book


@pytest.fixture(scope="session")
def server(made_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of `chauka serve`, showing the demo house on its first day with its plan."""
    book = tmp_path_factory.mktemp("browser") / "book.sqlite3"
    shutil.copy(made_book, book)
    with serving(book) as address:
        yield address


@pytest.fixture(scope="module")
def own_server(made_book: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """A server of a module's own, for what changes the plan or replaces the book."""
    book = tmp_path_factory.mktemp("own") / "book.sqlite3"
    shutil.copy(made_book, book)
    with serving(book) as address:
        yield address


@contextmanager
def serving(book: Path) -> Iterator[str]:
    """The address of `chauka serve` on that book, on the demo's first day."""
    process = subprocess.Popen(  # noqa: S603
        [sys.executable, "-m", "chauka", "serve", "--port", "0", "--book", str(book), "--today", DAY],
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        env={**os.environ, "PYTHONUNBUFFERED": "1"},
    )
    try:
        yield _address(process)
    finally:
        process.terminate()
        process.communicate(timeout=20)  # closes the pipe too


def _address(process: subprocess.Popen[str]) -> str:
    assert process.stdout is not None
    said = []
    for line in process.stdout:
        said.append(line)
        if found := re.search(r"http://127\.0\.0\.1:\d+", line):
            return found.group()
    raise AssertionError("the server said no address: " + "".join(said))


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """One Chromium for all tests."""
    if CHROMIUM is None:
        pytest.skip("no Chromium on this machine; sudo apt-get install chromium brings it")
    # The driver keeps an event loop in this thread until the session ends; Django would refuse the
    # database to every test that comes after, though none of them is asynchronous.
    os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"
    with sync_playwright() as playwright:
        running = playwright.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        yield running
        running.close()


@pytest.fixture(params=[360, 1280], ids=["phone", "laptop"])
def page(request: pytest.FixtureRequest, browser: Browser, server: str) -> Iterator[Page]:
    """A page of phone or laptop width that fails the test if the browser's console complains."""
    context = browser.new_context(viewport={"width": request.param, "height": 800}, base_url=server)
    opened = context.new_page()
    complaints: list[str] = []
    opened.on("console", lambda m: complaints.append(m.text) if m.type in ("error", "warning") else None)
    opened.on("pageerror", lambda e: complaints.append(str(e)))
    yield opened
    context.close()
    # A refusal in words is an answer, and a dead spot is no fault of the page.
    assert [c for c in complaints if "422" not in c and "ERR_INTERNET_DISCONNECTED" not in c] == []
