"""axe-core, brought by npm into a folder of the user's cache: no file of others stands in this repository."""

from __future__ import annotations

import shutil
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

import platformdirs
import pytest
from playwright.sync_api import Page

VERSION = "4.10.3"
FOLDER = Path(platformdirs.user_cache_dir("chauka-tests")) / f"axe-core-{VERSION}"
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]


@cache
def source() -> str:
    """The text of axe-core; skips with a reason where neither cache nor npm has it."""
    script = FOLDER / "node_modules" / "axe-core" / "axe.min.js"
    if not script.exists():
        npm = shutil.which("npm")
        if npm is None:
            pytest.skip("axe-core comes through npm, and there is none here")
        fetched = subprocess.run(  # noqa: S603 -- npm itself
            [npm, "install", "--silent", "--no-audit", "--no-fund", "--prefix", str(FOLDER), f"axe-core@{VERSION}"],
            capture_output=True,
            text=True,
            check=False,
            timeout=120,
        )
        if fetched.returncode or not script.exists():
            pytest.skip(f"npm could not bring axe-core: {fetched.stderr[-200:]}")
    return script.read_text(encoding="utf-8")


def violations(page: Page) -> list[str]:
    """What axe-core finds wrong with the page as it is shown now, one line each."""
    if not page.evaluate("typeof window.axe === 'object'"):
        page.evaluate(source())
    found: list[dict[str, Any]] = page.evaluate(
        "rules => axe.run(document, {runOnly: rules, resultTypes: ['violations']}).then(r => r.violations)", RULES
    )
    return [f"{v['id']}: {v['help']} — {node['html'][:160]}" for v in found for node in v["nodes"][:4]]
