"""Photos over HTTP: what is sent is re-written or refused; what is given out can be taken for nothing but a JPEG."""

from __future__ import annotations

import gzip
import re
from pathlib import Path

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.test import Client
from tests.services.test_picture import HOSTILE, photo
from tests.web.test_budgets import FIRST_LOAD

from chauka.services import photos
from chauka.store import books, models
from chauka.store.models import Household

DISH = "spinach-dal-with-lemon"
HERE = f"/dishes/{DISH}/"


@pytest.fixture
def client(client: Client) -> Client:
    """Takes pages as they are, not packed."""
    client.defaults["HTTP_ACCEPT_ENCODING"] = "identity"
    return client


def _send(client: Client, data: bytes, name: str = "dal.jpg", kind: str = "image/jpeg", to: str = HERE) -> HttpResponse:
    answer: HttpResponse = client.post(f"{to}photo", {"photo": SimpleUploadedFile(name, data, kind), "words": "a bowl"})
    return answer


def test_a_photo_is_shown_with_its_words_and_served_as_nothing_else(client: Client) -> None:
    assert _send(client, photo((1600, 1200)))["Location"] == HERE
    page = client.get(HERE).content.decode()
    sources = re.findall(r'"(/photos/[0-9a-f]{64}/\w+\.jpg)"', page)
    assert len(sources) == 2
    assert 'alt="a bowl"' in page
    for source in sources:
        answer = client.get(source)
        assert answer["Content-Type"] == "image/jpeg"
        assert answer["X-Content-Type-Options"] == "nosniff"
        assert answer["Content-Security-Policy"] == "default-src 'none'; sandbox"
        assert "immutable" in answer["Cache-Control"]
        assert answer["Cache-Control"].startswith("private")
        assert answer.content.startswith(b"\xff\xd8\xff")
    assert "small.jpg" in client.get("/dishes/").content.decode()


def test_the_page_with_its_photo_stays_light(client: Client) -> None:
    """Page, styles, scripts and picture together are what a first load may cost."""
    _send(client, photo((3000, 2000)))
    page = client.get(HERE).content
    picture = re.search(rb'src="(/photos/[^"]+)"', page)
    assert picture is not None
    assert len(gzip.compress(page)) + len(client.get(picture[1].decode()).content) <= FIRST_LOAD - 45_000


def test_taken_off_taken_back_and_by_another(client: Client, household: Household) -> None:
    _send(client, photo())
    first = photos.of_dish(household, DISH)
    client.post(f"{HERE}photo", {"do": "take-off"})
    assert photos.of_dish(household, DISH) is None
    last = client.get("/ledger/").content.decode()
    client.post("/ledger/take-back", {"number": last.split('name="number" value="', 1)[1].split('"', 1)[0]})
    assert photos.of_dish(household, DISH) == first


def test_what_is_hostile_is_refused_in_words(client: Client, household: Household) -> None:
    for name, (data, complaint) in HOSTILE.items():
        answer = _send(client, data)
        assert answer.status_code == 422, name
        assert re.search(f"{complaint}|larger than 15 MB", answer.content.decode()), name
    assert models.Photo.objects.count() == 0
    assert photos.of_dish(household, DISH) is None


def test_neither_name_nor_type_sent_along_means_anything(client: Client) -> None:
    for name, kind in (
        ("dal.png", "image/png"), ("dal.html", "text/html"), ("../../dal.jpg", "image/svg+xml"), ("a\r\nX: y", "x/y"),
    ):  # fmt: skip
        assert _send(client, photo(), name, kind).status_code == 302


def test_nothing_sent(client: Client) -> None:
    assert client.post(f"{HERE}photo", {"words": "a bowl"}).status_code == 422
    assert client.post(f"{HERE}photo", {"photo": "no file"}).status_code == 422
    assert client.get(f"{HERE}photo").status_code == 405


def test_only_sums_lead_to_photos(client: Client) -> None:
    _send(client, photo())
    for path in (
        "/photos/../full.jpg", "/photos/%2e%2e%2f%2e%2e%2fetc%2fpasswd/full.jpg", f"/photos/{'0' * 64}/full.jpg",
        f"/photos/{'0' * 64}/huge.jpg", f"/photos/{'0' * 64}%0d%0aX:y/full.jpg", "/photos/x%00/full.jpg",
    ):  # fmt: skip
        answer = client.get(path)
        assert answer.status_code in (404, 422), path
        assert b"JFIF" not in answer.content


def test_a_photo_of_a_lot(client: Client, household: Household) -> None:
    lot = books.load_book(household).lots[0].id
    assert _send(client, photo(), to=f"/shelf/{lot}/")["Location"] == "/shelf/"
    assert list(photos.of_lots(household, {lot})) == [lot]
    client.post(f"/shelf/{lot}/photo", {"do": "take-off"})
    assert not photos.of_lots(household, {lot})
    assert _send(client, photo(), to="/shelf/no-such-lot/").status_code == 422


def test_nothing_is_left_on_the_disk(client: Client, tmp_path: Path) -> None:
    """A photo is in the book and nowhere beside it."""
    before = {p.name for p in tmp_path.rglob("*")}
    _send(client, photo((3000, 3000), quality=100))
    assert {p.name for p in tmp_path.rglob("*")} - before <= {"book.sqlite3-wal", "book.sqlite3-shm", "book.copies"}
