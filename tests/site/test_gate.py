"""Shared pages open to those who give the pass phrase, and to nobody else."""

from __future__ import annotations

import stat
from datetime import timedelta
from pathlib import Path

import pytest
from django.test import Client
from tests.services.small_house import BOOK
from tests.store.fixtures import blank_book, book_file, free_to_open

from chauka.errors import InputError
from chauka.services import clock, sharing
from chauka.site import gate
from chauka.store import books

__all__ = ["blank_book", "book_file", "free_to_open"]

PHRASE = "four words of ours"


@pytest.fixture(autouse=True)
def shared(book_file: Path, settings: object, monkeypatch: pytest.MonkeyPatch) -> None:
    """The small house's pages, shared under a phrase."""
    books.create(BOOK)
    settings.CHAUKA_SHARED = True  # type: ignore[attr-defined]
    settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]  # type: ignore[attr-defined]
    settings.CHAUKA_TODAY = "2027-03-14"  # type: ignore[attr-defined]
    sharing.set_phrase(PHRASE)
    monkeypatch.setattr(sharing, "limit", sharing.Limit(each=3, all_together=5, clock=lambda: _now[0]))
    _now[0] = 0.0


_now = [0.0]


def _sign_in(client: Client, phrase: str = PHRASE, **more: str) -> object:
    return client.post("/sign-in", {"phrase": phrase, "device": "Amma's phone", **more})


def test_no_page_is_seen_before_the_phrase_was_given() -> None:
    client = Client()
    for path in ("/", "/shelf/", "/house/", "/market/", "/ledger/", "/dishes/plain-dal/", "/no-such-page"):
        answer = client.get(path)
        assert (answer.status_code, answer["Location"].partition("?")[0]) == (302, "/sign-in")
        assert b"Small house" not in answer.content
    assert client.post("/shelf/add", {"text": "1 kg rice"}).status_code == 403
    assert client.put("/shelf/").status_code == 403
    assert len(books.load_book(books.household()).lots) == 3


def test_the_phrase_opens_the_page_that_was_wanted() -> None:
    client = Client()
    asked = client.get("/house/?x=1")
    assert asked["Location"] == "/sign-in?next=%2Fhouse%2F%3Fx%3D1"
    assert b"pass phrase" in client.get(asked["Location"]).content
    answer = _sign_in(client, next="/house/?x=1")
    assert answer["Location"] == "/house/?x=1"  # type: ignore[index]
    cookie = client.cookies[gate.COOKIE]
    assert (cookie["httponly"], cookie["samesite"]) == (True, "Strict")
    assert b"Small house" in client.get("/house/").content
    assert [d.name for d in sharing.devices(clock.now())] == ["Amma's phone"]


@pytest.mark.parametrize(
    "elsewhere", ["https://evil.example/", "//evil.example/x", "/\\evil.example", "javascript:alert(1)", "http:x", ""]
)
def test_nobody_is_led_to_another_site(elsewhere: str) -> None:
    assert _sign_in(Client(), next=elsewhere)["Location"] == "/"  # type: ignore[index]


def test_a_wrong_phrase_and_a_forged_token_open_nothing() -> None:
    client = Client()
    answer = _sign_in(client, "four words of yours")
    assert answer.status_code == 403  # type: ignore[attr-defined]
    client.cookies[gate.COOKIE] = "x" * 43
    assert client.get("/shelf/").status_code == 302


def test_tries_are_limited_for_each_address_and_for_all() -> None:
    client = Client()
    for _ in range(3):
        assert _sign_in(client, "wrong wrong wrong").status_code == 403  # type: ignore[attr-defined]
    refused = _sign_in(client)
    assert refused.status_code == 429  # type: ignore[attr-defined]
    assert int(refused["Retry-After"]) > 800  # type: ignore[index]
    for number in (2, 3):
        Client(REMOTE_ADDR=f"10.0.0.{number}").post("/sign-in", {"phrase": "wrong wrong"})
    other = Client(REMOTE_ADDR="10.0.0.9")
    assert _sign_in(other).status_code == 429  # type: ignore[attr-defined]
    _now[0] = 901.0
    assert _sign_in(client).status_code == 302  # type: ignore[attr-defined]


def test_a_device_is_signed_out_alone() -> None:
    one, other = Client(), Client()
    _sign_in(one)
    _sign_in(other)
    assert one.post("/sign-out").status_code == 302
    assert one.get("/house/").status_code == 302
    assert other.get("/house/").status_code == 200
    assert sharing.sign_out_named("Amma's phone") == 1
    assert other.get("/house/").status_code == 302


def test_a_new_phrase_signs_every_device_out() -> None:
    client = Client()
    _sign_in(client)
    sharing.set_phrase("another phrase altogether")
    assert client.get("/house/").status_code == 302


def test_a_device_that_stayed_away_is_asked_again() -> None:
    token = sharing.sign_in(PHRASE, "phone", clock.now() - timedelta(days=31))
    assert token is not None
    assert not sharing.is_signed_in(token, clock.now())


def test_form_tokens_are_asked_for_at_the_door_too() -> None:
    strict = Client(enforce_csrf_checks=True)
    assert strict.post("/sign-in", {"phrase": PHRASE}).status_code == 403
    assert sharing.devices(clock.now()) == ()


def test_neither_phrase_nor_token_is_kept_and_the_file_is_private(book_file: Path) -> None:
    client = Client()
    _sign_in(client)
    kept = sharing.file()
    assert kept.parent == book_file.parent
    assert stat.S_IMODE(kept.stat().st_mode) == 0o600
    text = kept.read_text()
    assert PHRASE not in text
    assert client.cookies[gate.COOKIE].value not in text
    assert PHRASE.encode() not in book_file.read_bytes()


def test_a_short_phrase_is_refused() -> None:
    with pytest.raises(InputError, match="at least 12 letters"):
        sharing.set_phrase("1234        ")


def test_pages_that_are_not_shared_have_no_door(settings: object) -> None:
    settings.CHAUKA_SHARED = False  # type: ignore[attr-defined]
    assert Client().get("/house/").status_code == 200
    assert Client().get("/sign-in").status_code == 302
