"""The pages are served to this machine alone, unless told otherwise in so many words."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.cli.running import Run
from tests.faults.serving import Phone, Serving
from tests.services.small_house import BOOK

from chauka.cli.commands import serve
from chauka.store import books


def test_an_address_that_others_can_reach_needs_to_be_meant(run: Run) -> None:
    code, out, err = run("serve", "--host", "0.0.0.0", "--port", "0")  # noqa: S104 - it must be refused
    assert (code, out) == (1, "")
    assert "0.0.0.0 can be reached from other machines; add --share if that is meant" in err


@pytest.mark.parametrize(
    ("host", "alone"), [("127.0.0.1", True), ("::1", True), ("localhost", True), ("10.1.2.3", False)]
)
def test_which_addresses_only_this_machine_reaches(host: str, alone: bool) -> None:
    assert serve._is_loopback(host) is alone


def test_a_host_that_is_none_is_named(run: Run) -> None:
    assert "'no such host' is no address" in run("serve", "--host", "no such host")[2]


@pytest.fixture
def server(book_file: Path) -> Iterator[str]:
    """The pages of the small house, by a process of their own; gives their address."""
    books.create(BOOK)
    environment = os.environ | {"CHAUKA_BOOK": str(book_file), "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(
        [sys.executable, "-m", "chauka", "serve", "--port", "0", "--today", "2027-03-14"],
        env=environment,
        stdout=subprocess.PIPE,
        text=True,
    ) as process:
        assert process.stdout is not None
        said = process.stdout.readline() + process.stdout.readline()
        found = re.search(r"http://127\.0\.0\.1:\d+/", said)
        assert found, said
        yield found.group()
        process.terminate()


def _get(url: str, host: str | None = None) -> tuple[int, str, dict[str, str]]:
    request = urllib.request.Request(url, headers={"Host": host} if host else {})  # noqa: S310 - our own address
    try:
        with urllib.request.urlopen(request, timeout=20) as answer:  # noqa: S310
            return answer.status, answer.read().decode(), dict(answer.headers)
    except urllib.error.HTTPError as error:
        return error.code, "", dict(error.headers)


def test_the_pages_are_served_and_foreign_names_refused(server: str) -> None:
    status, body, headers = _get(server + "house/")
    assert status == 200
    assert "Small house" in body
    assert headers["X-Frame-Options"] == "DENY"
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"
    assert _get(server + "house/", host="evil.example")[0] == 400
    assert _get(server + "no-such-page")[0] == 404


def test_a_port_in_use_is_named(server: str, run: Run) -> None:
    port = server.rstrip("/").rpartition(":")[2]
    code, _, err = run("serve", "--port", port)
    assert code == 1
    assert f"127.0.0.1:{port} cannot be used" in err


def test_sharing_needs_a_pass_phrase(run: Run) -> None:
    code, _, err = run("serve", "--share", "--port", "0")
    assert code == 1
    assert "needs a pass phrase first: `chauka house phrase` sets one" in err
    assert run("house", "phrase", "--phrase", "four words of ours")[0] == 0
    assert "No device is signed in." in run("house", "devices")[1]
    assert run("house", "phrase", "--phrase", "short")[0] == 1


def test_shared_pages_ask_for_the_phrase(book_file: Path, run: Run) -> None:
    """The real server, from the outside."""
    books.create(BOOK)
    assert run("house", "phrase", "--phrase", "four words of ours")[0] == 0
    with Serving(book_file, "--share") as shared:
        phone = Phone(shared.port)
        status, _, headers = phone.ask("GET", "/house/")
        assert (status, headers["Location"]) == (302, "/sign-in?next=%2Fhouse%2F")
        assert phone.post("/shelf/add", text="1 kg rice") == 403
        phone.get("/sign-in")
        assert phone.post("/sign-in", phrase="four words of ours", device="phone") == 302
        assert "Small house" in phone.get("/house/")[1]
        phone.close()
