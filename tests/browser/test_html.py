"""Every page is valid HTML, by the checker of the web's own standard (through npm, with Java; else skipped)."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path
from urllib.request import Request, urlopen

import platformdirs
import pytest
from tests.browser.test_pages import PAGES

pytestmark = [pytest.mark.browser, pytest.mark.slow]

IN_HINDI = ("home", "market", "shelf", "stove", "table", "dish", "house")
VERSION = "24.10.17"
FOLDER = Path(platformdirs.user_cache_dir("chauka-tests")) / f"vnu-jar-{VERSION}"


@pytest.fixture(scope="module")
def checker() -> list[str]:
    """The command that checks files."""
    java, npm = shutil.which("java"), shutil.which("npm")
    if java is None or npm is None:
        pytest.skip("the HTML checker needs Java and npm")
    jar = FOLDER / "node_modules" / "vnu-jar" / "build" / "dist" / "vnu.jar"
    if not jar.exists():
        fetch = [npm, "install", "--silent", "--no-audit", "--no-fund", "--prefix", str(FOLDER), f"vnu-jar@{VERSION}"]
        subprocess.run(fetch, check=False, capture_output=True, timeout=180)  # noqa: S603 -- npm itself
    if not jar.exists():
        pytest.skip("npm could not bring the HTML checker")
    return [java, "-jar", str(jar), "--errors-only"]


def test_every_page_is_valid(server: str, checker: list[str], tmp_path: Path) -> None:
    """No error on any page, nor on those that say most in Hindi."""
    asked = [("en", name, path) for name, path in PAGES.items()] + [("hi", name, PAGES[name]) for name in IN_HINDI]
    for language, name, path in asked:
        request = Request(server + path, headers={"Cookie": f"django_language={language}"})  # noqa: S310 -- our own server
        with urlopen(request, timeout=30) as answer:  # noqa: S310
            (tmp_path / f"{name}-{language}.html").write_bytes(answer.read())
    files = [str(file) for file in sorted(tmp_path.glob("*.html"))]
    checked = subprocess.run([*checker, *files], capture_output=True, text=True, check=False)  # noqa: S603
    assert [line for line in checked.stderr.splitlines() if ": error:" in line or "error" in line.lower()] == []
