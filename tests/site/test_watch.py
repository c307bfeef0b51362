"""The log and the health page say how the server is, and nothing of the house."""

from __future__ import annotations

import json
import logging
import sys
from pathlib import Path

import pytest
from django.db import OperationalError
from django.test import Client
from tests.services.small_house import BOOK
from tests.store.fixtures import blank_book, book_file, free_to_open

from chauka.site import watch
from chauka.store import books

__all__ = ["blank_book", "book_file", "free_to_open"]


def _line(record: logging.LogRecord) -> dict[str, object]:
    line: dict[str, object] = json.loads(watch.JsonLines().format(record))
    return line


def test_a_request_is_logged_by_its_route_alone(book_file: Path, caplog: pytest.LogCaptureFixture) -> None:
    books.create(BOOK)
    with caplog.at_level(logging.INFO, "chauka.request"):
        Client().post("/shelf/spinach-1/log", {"deed": "used", "amount": "10 g", "why": "for Asha"})
    (record,) = [r for r in caplog.records if r.name == "chauka.request"]
    line = _line(record)
    assert (line["method"], line["route"], line["status"], line["level"]) == ("POST", "shelf-log", 302, "info")
    assert not any(word in json.dumps(line) for word in ("spinach", "Asha", "10 g"))


def test_a_fault_is_logged_without_its_words() -> None:
    def fail() -> None:
        raise ValueError("Asha is pregnant")

    try:
        fail()
    except ValueError:
        record = logging.LogRecord("x", logging.ERROR, "", 1, "Asha: /shelf/secret", (), sys.exc_info())
    line = _line(record)
    assert (line["fault"], str(line["where"]).partition(",")[0]) == (
        "ValueError",
        "test_a_fault_is_logged_without_its_words.<locals>.fail",
    )
    assert "Asha" not in json.dumps(line)
    assert "secret" not in json.dumps(line)


def test_the_health_page_knows_the_book_answers(book_file: Path) -> None:
    answer = Client().get("/health")
    assert (answer.status_code, answer.json()["book"]) == (200, "answers")
    assert set(answer.json()) == {"chauka", "book", "worker"}


def test_health_is_the_same_at_both_addresses_and_says_when_the_book_is_silent(
    book_file: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One answer, from one place; 503 where the book does not answer, and then nobody knows of the worker."""
    assert Client().get("/health").json() == Client().get("/api/health").json()

    def broken() -> None:
        raise OperationalError("disk")

    monkeypatch.setattr("chauka.services.health._worker", broken)
    answers = [Client().get(address) for address in ("/health", "/api/health")]
    assert {a.status_code for a in answers} == {503}
    assert [a.json()["book"] for a in answers] == ["does not answer (OperationalError)"] * 2
    assert answers[0].json()["worker"] == answers[1].json()["worker"] == "not known"
