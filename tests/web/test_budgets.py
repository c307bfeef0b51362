"""What a page may cost: bytes over the wire, questions to the database."""

from __future__ import annotations

import gzip
import re
from dataclasses import replace
from pathlib import Path

from django.contrib.staticfiles import finders
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from tests.web.conftest import NOW

from chauka.kitchen import Book
from chauka.store import books, ledger
from chauka.store.models import Household

PAGES = (
    "/", "/market/", "/shelf/", "/bench/", "/stove/2027-03-14/dinner/", "/table/", "/page/", "/dishes/",
    "/dishes/spinach-dal-with-lemon/", "/house/", "/ledger/", "/foods/C033/", "/dishes/spinach-dal-with-lemon/edit/",
    "/dishes/new",
    "/ledger/weeks/", "/house/learned/", "/house/copies/", "/table/2027-03-15/",
)  # fmt: skip
FIRST_LOAD, AFTER = 120_000, 30_000
MOST_QUERIES = 12
PLAIN = re.compile(rb'(?:href|src)="(/static/[^"]+)"')


def test_bytes_over_the_wire(client: Client) -> None:
    """At most 120 kB the first time with styles and scripts, at most 30 kB after."""
    for page in PAGES:
        answer = client.get(page)
        assert answer.status_code == 200, page
        assert len(answer.content) <= AFTER, page
        files = {name.decode().removeprefix("/static/") for name in PLAIN.findall(gzip.decompress(answer.content))}
        assert files, page
        weighed = sum(len(gzip.compress(Path(finders.find(name) or name).read_bytes())) for name in files)
        assert len(answer.content) + weighed <= FIRST_LOAD, page


def test_a_page_asks_the_database_little(client: Client) -> None:
    """Once warm, a page puts at most a dozen questions."""
    for page in PAGES:
        client.get(page)
        with CaptureQueriesContext(connection) as asked:
            client.get(page)
        assert len(asked) <= MOST_QUERIES, page


def test_questions_do_not_grow_with_rows(client: Client, household: Household, book: Book) -> None:
    """Five times the lots and actions: the same number of questions to the database."""

    def cold(page: str) -> int:
        with ledger.action(household, NOW, "something"):
            pass
        with CaptureQueriesContext(connection) as asked:
            assert client.get(page).status_code == 200
        return len(asked)

    before = {page: cold(page) for page in PAGES}
    with ledger.action(household, NOW, "fill the shelf") as recorder:
        for number in range(4):
            for lot in book.lots:
                recorder.put(replace(lot, id=f"{lot.id}-{number}"))
    assert {page: count for page in PAGES if (count := cold(page)) > before[page]} == {}


def test_only_our_own_files_may_be_loaded(client: Client) -> None:
    """Every page forbids scripts and styles that are written into it or come from elsewhere."""
    for page in PAGES:
        answer = client.get(page)
        assert "default-src 'self'" in answer["Content-Security-Policy"]
        assert "unsafe-inline" not in answer["Content-Security-Policy"]
        text = gzip.decompress(answer.content)
        assert b" style=" not in text
        assert re.search(rb"<script(?![^>]*(?:src=|ld\+json))", text) is None, page


def test_a_kept_book_is_read_anew_after_an_action(client: Client, household: Household) -> None:
    """What one phone writes, the next page shows."""
    before = books.load_book(household)
    assert books.load_book(household) is before
    client.post("/shelf/add", {"text": "300 g paneer"})
    new = set(books.load_book(household).lots) - set(before.lots)
    assert [(lot.food, lot.grams) for lot in new] == [("L003", 300.0)]
