"""Settings come from the environment, say what is wrong, and are careful by default."""

from __future__ import annotations

import os
import stat
import subprocess
import sys
from pathlib import Path

import pytest
from django.conf import settings
from django.core.exceptions import ImproperlyConfigured

from chauka.site import environment


@pytest.mark.parametrize(("value", "meaning"), [("yes", True), ("1", True), ("ON ", True), ("no", False), ("", False)])
def test_yes_and_no(value: str, meaning: bool) -> None:
    assert environment.flag("X", environ={"X": value}) is meaning


def test_anything_else_stops_the_start() -> None:
    with pytest.raises(ImproperlyConfigured, match="X='maybe': write yes or no"):
        environment.flag("X", environ={"X": "maybe"})


def test_what_is_not_set_has_its_default() -> None:
    assert environment.flag("X", default=True, environ={}) is True
    assert environment.text("X", "there", environ={}) == "there"
    assert environment.words("X", ("a", "b"), environ={}) == ["a", "b"]
    assert environment.words("X", ("a",), environ={"X": " one, two ,"}) == ["one", "two"]


def test_the_pages_are_careful_by_default() -> None:
    assert settings.DEBUG is False
    assert "*" not in settings.ALLOWED_HOSTS
    assert settings.X_FRAME_OPTIONS == "DENY"
    assert settings.CSRF_COOKIE_HTTPONLY
    assert "django.middleware.csrf.CsrfViewMiddleware" in settings.MIDDLEWARE


def test_nothing_is_written_before_it_is_needed(tmp_path: Path) -> None:
    """Setting up makes neither book nor key; the key is made when a form is first signed."""
    book = tmp_path / "house" / "book.sqlite3"
    program = (
        "import django; django.setup()\n"
        "from pathlib import Path\n"
        f"assert not Path({str(book.parent)!r}).exists()\n"
        "from django.conf import settings\n"
        "from django.core import signing\n"
        "assert signing.loads(signing.dumps('x')) == 'x'\n"
        "assert len(settings.SECRET_KEY) >= 50\n"
    )
    variables = {k: v for k, v in os.environ.items() if not k.startswith(("CHAUKA", "DATABASE"))}
    variables |= {"DJANGO_SETTINGS_MODULE": "chauka.site.settings", "CHAUKA_BOOK": str(book)}
    made = subprocess.run([sys.executable, "-c", program], env=variables, capture_output=True, text=True, check=False)  # noqa: S603 - our own words
    assert made.returncode == 0, made.stderr
    assert [p.name for p in book.parent.iterdir()] == ["book.sqlite3.key"]
    assert stat.S_IMODE((book.parent / "book.sqlite3.key").stat().st_mode) == 0o600


def test_the_machines_own_time_is_the_houses_time() -> None:
    assert settings.USE_TZ is False
    assert settings.TIME_ZONE is None
