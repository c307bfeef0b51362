"""The Page section: previews, PDFs, packs, booklet, lists and the calendar; and each refusal."""

from __future__ import annotations

import io
import json
import xml.etree.ElementTree as ET
import zipfile

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import translation
from django.utils.translation import gettext
from tests.publishing.test_calendar import check_rfc5545

from chauka import composition, demo
from chauka.composition import Rule
from chauka.web.templatetags.said import printed


@pytest.fixture
def client(client: Client) -> Client:
    """Takes pages as they are, not packed."""
    client.defaults["HTTP_ACCEPT_ENCODING"] = "identity"
    return client


DISH = "spinach-dal-with-lemon"
VTT = (
    b"WEBVTT\n\n00:01.000 --> 00:04.000\nWash the spinach and chop it.\n\n00:05.000 --> 00:19.000\nNow add the salt.\n"
)


@pytest.mark.parametrize(
    ("path", "kind", "starts"),
    [
        (f"/page/{DISH}/a4-en.pdf", "application/pdf", b"%PDF"),
        (f"/page/{DISH}/a5-hi.pdf", "application/pdf", b"%PDF"),
        (f"/page/{DISH}/cards/title.svg", "image/svg+xml", b"<svg"),
        ("/page/lists/market.pdf", "application/pdf", b"%PDF"),
        ("/page/lists/bench.pdf", "application/pdf", b"%PDF"),
        ("/page/lists/labels.pdf", "application/pdf", b"%PDF"),
        ("/page/booklet.epub", "application/epub+zip", b"PK"),
    ],
)
def test_files_are_served(client: Client, path: str, kind: str, starts: bytes) -> None:
    """Each with its type."""
    answer = client.get(path)
    assert answer.status_code == 200
    assert answer["Content-Type"].startswith(kind)
    assert answer.content.startswith(starts)


def test_the_pack_page_previews_every_card_in_words(client: Client) -> None:
    """Links to all sheets, a form for the narration, an alternative text for each card."""
    html = client.get(f"/page/{DISH}/pack/").content.decode()
    for words in ("a4-en.pdf", "a5-hi.pdf", 'type="file"', "cards/list-1-1.svg", "225 g split moong dal"):
        assert words in html
    assert html.count("<img") == html.count('alt="')
    assert f"/page/{DISH}/pack/" in client.get("/page/").content.decode()


def test_the_pack_page_shows_both_labels(client: Client) -> None:
    """Per 100 g and a portion as each rule rounds them, in kcal and kJ; references from memory are marked."""
    html = " ".join(client.get(f"/page/{DISH}/pack/").content.decode().split())
    for words in ("Nutrition label by the FSSAI", "Nutrition label by the FDA", "kcal</span>", "kJ</span>"):
        assert words in html
    nutrients = composition.dish_nutrients(demo.book().dish(DISH))
    rows = [row for rule in Rule for row in composition.label(nutrients, rule)]
    for row in rows:
        assert f'<td class="num">{row.per_100g}</td><td class="num">{row.per_portion}</td>' in html
    assert html.count('title="written down from memory"') == sum(row.percent is not None for row in rows)


def test_figures_of_a_label_in_the_reader_s_words() -> None:
    """The number stays; the words beside it are said in the language of the page."""
    with translation.override("hi"):
        said = [printed(figure) for figure in ("12.5", "less than 5", "not known")]
        assert said == ["12.5", f"{gettext('less than')} 5", gettext("not known")]
    assert [printed(figure) for figure in ("0", "at least 12", "less than 5", "not known")] == [
        "0", "at least 12", "less than 5", "not known",
    ]  # fmt: skip


def test_a_pack_with_and_without_a_narration(client: Client) -> None:
    """An archive with a manifest; the film's files where a narration is sent."""
    plain = zipfile.ZipFile(io.BytesIO(client.post(f"/page/{DISH}/pack.zip").content))
    assert json.loads(plain.read(f"{DISH}/manifest.json"))["dish"] == DISH
    sent = {"narration": SimpleUploadedFile("film.vtt", VTT)}
    told = zipfile.ZipFile(io.BytesIO(client.post(f"/page/{DISH}/pack.zip", sent).content))
    assert f"{DISH}/film/captions.srt" in told.namelist()
    assert f"{DISH}/film/captions.srt" not in plain.namelist()


def test_the_calendar_is_sound(client: Client) -> None:
    """The feed of the plan in force keeps our RFC 5545 rules."""
    answer = client.get("/calendar.ics")
    assert answer["Content-Type"].startswith("text/calendar")
    assert check_rfc5545(answer.content) > 10


@pytest.mark.parametrize(
    ("path", "words"),
    [
        ("/page/no-such-dish/a4-en.pdf", "not in the dish book"),
        (f"/page/{DISH}/a3-en.pdf", "there is no sheet"),
        (f"/page/{DISH}/cards/nothing.svg", "is none of"),
        ("/page/booklet.doc", "there is no booklet"),
        ("/page/lists/wishes.pdf", "there is no list"),
    ],
)
def test_what_is_not_there_is_said_in_words(client: Client, path: str, words: str) -> None:
    """No stack trace: what was asked for and what there is."""
    answer = client.get(path)
    assert answer.status_code >= 400
    assert words in answer.content.decode()


def test_a_bad_narration_is_refused_in_words(client: Client) -> None:
    """The line at fault is named."""
    sent = {"narration": SimpleUploadedFile("film.vtt", b"WEBVTT\n\n5 --> 6\nx\n")}
    answer = client.post(f"/page/{DISH}/pack.zip", sent)
    assert answer.status_code >= 400
    assert "narration line 3" in answer.content.decode()


def test_drawings_are_well_formed(client: Client) -> None:
    """A card can be opened by anything that reads SVG."""
    ET.fromstring(client.get(f"/page/{DISH}/cards/step-1.svg").content)  # noqa: S314 -- our own
