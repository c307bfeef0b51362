"""The pages in Hindi: every section opens, says its own words in Devanagari, and English stays the default."""

from __future__ import annotations

import gzip
import re
from html import unescape

import pytest
from django.test import Client

from chauka import demo

PAGES = (
    "/", "/market/", "/shelf/", "/bench/", "/table/", "/table/2027-03-16/", "/page/",
    "/page/spinach-dal-with-lemon/pack/", "/dishes/", "/dishes/new", "/dishes/spinach-dal-with-lemon/",
    "/dishes/spinach-dal-with-lemon/edit/", "/dishes/spinach-dal-with-lemon/why/FE/", "/house/", "/house/learned/",
    "/house/copies/", "/ledger/", "/ledger/weeks/", "/foods/C033/",
)  # fmt: skip
SECTIONS = ("बाज़ार", "अलमारी", "तैयारी", "चूल्हा", "थाली", "पन्ना", "व्यंजन", "घर")
DEVANAGARI = re.compile(r"[\u0900-\u097f]")
WRITTEN_BY_THE_COOK = {"Spinach dal with lemon", "The house above the walnut trees"}
PEOPLE = {"Basanti", "Nirmala", "Girish", "Tara", "Kunal"}


@pytest.fixture
def hindi(client: Client) -> Client:
    """A phone that has chosen Hindi."""
    client.cookies["django_language"] = "hi"
    return client


def _page(client: Client, path: str) -> str:
    answer = client.get(path)
    assert answer.status_code == 200, path
    assert "text/html" in answer["Content-Type"]
    raw = gzip.decompress(answer.content) if answer.get("Content-Encoding") == "gzip" else answer.content
    return unescape(raw.decode())


def _texts(html: str, tag: str) -> list[str]:
    found = re.findall(rf"<{tag}\b[^>]*>(.*?)</{tag}>", html, re.DOTALL)
    return [" ".join(re.sub(r"<[^>]+>", " ", text).split()) for text in found]


@pytest.mark.parametrize("path", PAGES)
def test_page_speaks_hindi(hindi: Client, path: str) -> None:
    """The page says its language, names the sections in it, and its headings, buttons and labels are translated."""
    html = _page(hindi, path)
    assert '<html lang="hi"' in html
    assert all(f">{name}</a>" in html for name in SECTIONS)
    for tag in ("h1", "h2", "h3", "legend", "dt", "summary", "button"):
        for text in _texts(html, tag):
            said = text and not DEVANAGARI.search(text) and re.search("[A-Za-z]{3}", text)
            # A dish is called what the cook called it; the language's own name stands in itself.
            assert not said or text in WRITTEN_BY_THE_COOK | PEOPLE | {"English"} or _names_a_dish(text), (tag, text)


def _names_a_dish(summary: str) -> bool:
    return any(dish.name in summary for dish in demo.book().dishes)


def test_english_is_the_default(client: Client) -> None:
    """A phone that has chosen nothing reads English."""
    html = _page(client, "/shelf/")
    assert '<html lang="en"' in html
    assert ">Shelf</h1>" in html
    assert "Fridge" in html


def test_the_button_in_the_foot_changes_the_language(client: Client) -> None:
    """The foot offers the other language in its own script; a phone remembers the choice."""
    assert ">हिंदी</button>" in _page(client, "/shelf/")
    answer = client.post("/language", {"language": "hi", "next": "/shelf/"})
    assert (answer.status_code, answer["Location"]) == (302, "/shelf/")
    assert ">अलमारी</h1>" in _page(client, "/shelf/")


def test_foods_are_called_by_their_local_name(hindi: Client) -> None:
    """A food's page and the shelf name it in Devanagari; the code stays."""
    assert ">पालक</h1>" in _page(hindi, "/foods/C033/")
    assert "<strong>पालक</strong>" in _page(hindi, "/shelf/")


def test_days_and_money_are_said_in_hindi(hindi: Client) -> None:
    """Days have their Hindi names; digits stay grouped as in India."""
    html = _page(hindi, "/market/")
    assert "रविवार 14 मार्च" in html
    assert re.search(r"रु \d", html)


def test_two_phones_read_one_house_in_two_languages(hindi: Client) -> None:
    """What is remembered for one language is not shown in the other."""
    assert "अलमारी" in _page(hindi, "/shelf/")
    english = Client(SERVER_NAME="localhost")
    assert ">Shelf</h1>" in _page(english, "/shelf/")
    assert "Fridge" in _page(english, "/shelf/")


def test_a_choice_in_hindi_is_understood(hindi: Client) -> None:
    """Forms send the house's own words, whatever the page shows: a day rule chosen in Hindi is the same rule."""
    html = _page(hindi, "/house/")
    assert '<option value="lunch">दोपहर का खाना</option>' in html
    answer = hindi.post("/house/rule", {"kind": "fast", "weekday": "3", "meal": "lunch"})
    assert answer.status_code == 302
    assert "व्रत" in " ".join(_texts(_page(hindi, "/house/"), "li"))


def test_the_sheet_of_a_dish_is_labelled_in_hindi(hindi: Client) -> None:
    """The write-up for the screen has its labels in the language of the pages, and the pack offers both."""
    html = _page(hindi, "/page/spinach-dal-with-lemon/")
    assert '<html lang="hi"' in html
    assert "सामग्री" in html
    pack = _page(hindi, "/page/spinach-dal-with-lemon/pack/")
    assert "/a4-hi" in pack
    assert "/a4-en" in pack
