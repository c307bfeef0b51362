"""A dish's pages without a browser: for as many as eat, why a nutrient, changed in place, how it went, looked for."""

from __future__ import annotations

import gzip
import re
from dataclasses import replace

import pytest
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext
from tests.web.test_budgets import AFTER

from chauka.kitchen import Book
from chauka.services import dish_changes
from chauka.store import books
from chauka.store.models import Household

DISH = "spinach-dal-with-lemon"
HERE = f"/dishes/{DISH}/"


@pytest.fixture
def client(client: Client) -> Client:
    """Takes pages as they are, not packed."""
    client.defaults["HTTP_ACCEPT_ENCODING"] = "identity"
    return client


def _text(answer: HttpResponse) -> str:
    return re.sub(r"\s+", " ", answer.content.decode())


def _fields(page: str) -> dict[str, list[str]]:
    """What a browser would send of the form on the page, as it stands."""
    said: dict[str, list[str]] = {}
    form = page[page.index("<form", page.index("<main")) :]
    for tag in re.findall(r"<input[^>]*>|<textarea.*?</textarea>|<select.*?</select>", form, re.DOTALL):
        name = re.search(r'name="([^"]+)"', tag)
        if name is None:
            continue
        if tag.startswith("<select"):
            chosen = re.search(r'value="([^"]*)" selected', tag)
            first = re.search(r'value="([^"]*)"', tag)
            value = (chosen or first)[1] if chosen or first else ""
        elif tag.startswith("<textarea"):
            value = re.sub(r"<textarea[^>]*>|</textarea>", "", tag)
        else:
            found = re.search(r'value="([^"]*)"', tag)
            value = found[1] if found else ""
        said.setdefault(name[1], []).append(_unescaped(value))
    return said


def _unescaped(value: str) -> str:
    for sign, written in (("<", "&lt;"), (">", "&gt;"), ('"', "&quot;"), ("'", "&#x27;"), ("&", "&amp;")):
        value = value.replace(written, sign)
    return value


def test_portions_with_and_without_a_script(client: Client) -> None:
    """The part alone for a script, with the address to show; the whole page for everybody else; the same figures."""
    part = client.get(f"{HERE}scaled?portions=8")
    assert part["HX-Replace-Url"] == f"{HERE}?portions=8"
    whole = client.get(f"{HERE}?portions=8")
    lines = re.search(r"<table class=.lines.*?</table>", part.content.decode(), re.DOTALL)
    assert lines is not None
    assert lines[0] in whole.content.decode()
    assert "<h1" not in part.content.decode()
    assert client.get(f"{HERE}?portions=many").status_code == 422
    assert client.get(f"{HERE}?line=no-such&have=5+g").status_code == 422


def test_why_opens_in_its_row_and_on_a_page(client: Client) -> None:
    opened, closed = client.get(f"{HERE}why/FE/?row=open"), client.get(f"{HERE}why/FE/?row=closed")
    assert "Indian Food Composition Tables 2017" in _text(opened)
    assert "of the doubt" in _text(opened)
    assert "of the doubt" not in _text(closed)
    assert "<h1>Iron</h1>" in _text(client.get(f"{HERE}why/FE/"))
    assert client.get(f"{HERE}why/NONSENSE/").status_code == 422


def test_another_person_needs_another_share(client: Client, household: Household) -> None:
    people = books.load_book(household).house.people
    shown = {_text(client.get(f"{HERE}nutrition?for={person.id}")) for person in people}
    assert len(shown) == len(people)
    assert client.get(f"{HERE}nutrition?for=nobody").status_code == 422


def test_sent_back_as_it_came_nothing_is_different(client: Client, household: Household) -> None:
    said = _fields(client.get(f"{HERE}edit/").content.decode())
    looked = _text(client.post(f"{HERE}change", {**said, "do": "look"}))
    assert "Nothing is different yet." in looked
    kept = client.post(f"{HERE}change", {**said, "do": "keep"})
    assert kept.status_code == 422
    assert "there is nothing to keep" in _text(kept)


def test_changed_in_place_and_taken_back(client: Client, household: Household) -> None:
    before = books.load_book(household).dish(DISH)
    said = _fields(client.get(f"{HERE}edit/").content.decode())
    said["name"], said["line"][0] = ["Green dal"], "300 g moong dal"
    looked = _text(client.post(f"{HERE}change", {**said, "do": "look"}))
    assert "<del>225 g</del>" in looked
    assert "<del>Spinach dal with lemon</del> <ins>Green dal</ins>" in looked
    assert books.load_book(household).dish(DISH) == before
    assert client.post(f"{HERE}change", {**said, "do": "keep"}).headers["Location"] == HERE
    assert books.load_book(household).dish(DISH).name == "Green dal"
    assert "Change a dish" in _text(client.get(HERE))
    (version,) = dish_changes.of_dish(household, DISH)
    client.post("/ledger/take-back", {"number": version.number})
    assert books.load_book(household).dish(DISH) == before


def test_an_unclear_line_is_asked_in_its_place(client: Client, household: Household) -> None:
    said = _fields(client.get(f"{HERE}edit/").content.decode())
    said["line"][1] = "2 flubbers"
    answer = client.post(f"{HERE}change", {**said, "do": "keep"})
    assert answer.status_code == 422
    assert "Which food is" in _text(answer)
    assert 'value="2 flubbers"' in answer.content.decode()


def test_steps_go_up_and_room_is_made(client: Client) -> None:
    said = _fields(client.get(f"{HERE}edit/").content.decode())
    texts = [t for t in said["step-text"] if t]
    up = _fields(client.post(f"{HERE}change", {**said, "do": "up 2"}).content.decode())
    assert [t for t in up["step-text"] if t][:2] == [texts[1], texts[0]]
    below = _fields(client.post(f"{HERE}change", {**said, "do": "below 1"}).content.decode())
    assert below["step-text"][1] == ""
    for wrong in ("up", "up x", "below 99999999999999999999", "fly 2"):
        assert client.post(f"{HERE}change", {**said, "do": wrong}).status_code == 200


def test_how_it_went(client: Client, household: Household) -> None:
    person = books.load_book(household).house.people[0]
    said = {"portions": "5", "minutes": "35", "weight": "1.3 kg", f"liking-{person.id}": "5", "note": "less salt"}
    assert client.post(f"{HERE}cooked", said).status_code == 302
    page = _text(client.get(HERE))
    assert "35 min at work" in page
    assert f"Liked by {person.name}" in page
    assert client.post(f"{HERE}cooked", {"weight": "1 elephant"}).status_code == 422


def test_looked_for_in_any_language(client: Client) -> None:
    """By words of the dish, of its foods in the tables' languages, in any case; no result says so."""
    for words, found in (
        ("palak", True),
        ("पालक", True),
        ("SPINACH lemon", True),
        ("spinach rice", False),
        ("zz", False),
    ):
        page = _text(client.get("/dishes/", {"q": words}))
        assert ("Spinach dal with lemon" in page) is found, words
        assert client.get("/dishes/found", {"q": words})["HX-Replace-Url"].startswith("/dishes/?q=")
    assert "No dish of the book is called so" in _text(client.get("/dishes/", {"q": "zz"}))


def test_a_large_book_is_one_light_page(client: Client, household: Household, book: Book) -> None:
    many = tuple(replace(dish, id=f"{dish.id}-{n}", name=f"{dish.name} {n}") for n in range(3) for dish in book.dishes)
    books.save_book(household, replace(book, dishes=(*book.dishes, *many)))
    client.post("/shelf/add", {"text": "300 g paneer"})  # an action, so that answers are kept
    for path in ("/dishes/", "/dishes/?course=vegetable", "/dishes/?q=palak"):
        client.get(path)
        with CaptureQueriesContext(connection) as asked:
            answer = client.get(path)
        assert len(asked) <= 12, path
        assert len(gzip.compress(answer.content)) <= AFTER, path
    assert "more" in _text(client.get("/dishes/"))
