"""The Hindi of the pages is whole: nothing untranslated, nothing lost in it, and compiled as it is written."""

from __future__ import annotations

import gettext
import re
import shutil
from enum import StrEnum
from pathlib import Path
from typing import Any

import pytest
from django.core.management import call_command
from django.utils import translation
from tests.web import po

import chauka
from chauka import tables
from chauka.kitchen import (
    Attention,
    Condition,
    Course,
    Form,
    Heat,
    Meal,
    Place,
    RuleKind,
    Served,
    Sex,
    Technique,
    Vessel,
)
from chauka.publishing import Language
from chauka.publishing import words as words_in
from chauka.services.after_cooking import LIKING
from chauka.services.house_changes import SETTINGS
from chauka.services.intake import NUTRIENTS
from chauka.services.shelf import Freshness

ROOT = Path(chauka.__file__).parent
PO = ROOT / "web" / "locale" / "hi" / "LC_MESSAGES" / "django.po"
HOLDS = re.compile(r"%(?:\(\w+\))?[sd%]")
"""What a message has filled in; `2.5 % of` fills in nothing."""


@pytest.fixture(scope="module")
def messages() -> list[po.Message]:
    """All messages of the Hindi file."""
    return po.read(PO)


def test_every_message_is_translated_for_certain(messages: list[po.Message]) -> None:
    """No translation is empty, none is a guess of the tool."""
    assert len(messages) > 500
    assert [m.english for m in messages if not all(m.said.values()) or "fuzzy" in m.flags] == []


def test_what_is_filled_in_stays_in(messages: list[po.Message]) -> None:
    """Every placeholder of a message stands in each of its translations, and no other."""
    for message in messages:
        for key, said in message.said.items():
            one = key in ("msgstr", "msgstr[0]")
            english = message.english if one else message.texts["msgid_plural"]
            assert sorted(HOLDS.findall(said)) == sorted(HOLDS.findall(english)), (key, message.english)


def test_compiled_as_written(messages: list[po.Message]) -> None:
    """What the package carries compiled says the same as the file that people read (`make words` compiles it)."""
    with PO.with_suffix(".mo").open("rb") as file:
        compiled = gettext.GNUTranslations(file)
    for message in messages:
        if "msgid_plural" in message.texts:
            forms = [compiled.ngettext(message.english, message.texts["msgid_plural"], n) for n in (1, 2)]
        else:
            forms = [compiled.gettext(message.english)]
        assert forms == list(message.said.values()), f"{message.english}: run `make words`"


@pytest.mark.slow
def test_nothing_that_the_pages_say_is_missing(
    messages: list[po.Message], tmp_path: Path, monkeypatch: pytest.MonkeyPatch, settings: Any
) -> None:
    """Every message of templates and code stands in the file, and nothing else does."""
    if shutil.which("xgettext") is None:
        pytest.skip("GNU gettext collects the messages: sudo apt-get install gettext")
    for folder in ("web", "services"):
        for file in (ROOT / folder).rglob("*"):
            if file.suffix in (".py", ".html"):
                copy = tmp_path / file.relative_to(ROOT)
                copy.parent.mkdir(parents=True, exist_ok=True)
                copy.write_bytes(file.read_bytes())
    (tmp_path / "web" / "locale").mkdir()
    settings.LOCALE_PATHS = [tmp_path / "web" / "locale"]
    monkeypatch.chdir(tmp_path)
    call_command("makemessages", locale=["hi"], extensions=["html,py"], no_location=True, no_wrap=True, verbosity=0)
    wanted = {m.english for m in po.read(tmp_path / PO.relative_to(ROOT))}
    assert wanted - {m.english for m in messages} == set(), "run `make words` and translate"
    assert {m.english for m in messages} - wanted == set(), "run `make words`"


@pytest.mark.parametrize(
    "words",
    [Attention, Condition, Course, Form, Freshness, Heat, Meal, Place, RuleKind, Served, Sex, Technique, Vessel],
)
def test_closed_lists_are_translated(words: type[StrEnum], messages: list[po.Message]) -> None:
    """Every word of a list that pages show has its Hindi."""
    assert {str(word) for word in words} <= {m.english for m in messages}


def test_words_of_tables_are_translated(messages: list[po.Message]) -> None:
    """Nutrients, settings, likings, allergens and every caution of the table have their Hindi."""
    known = {m.english for m in messages}
    assert {name for name, _ in NUTRIENTS.values()} | {s.name for s in SETTINGS} | set(LIKING) <= known
    assert {row["allergen"] for row in tables.rows("food_allergens")} <= known
    assert {row["text"] for row in tables.rows("keeping_cautions")} <= known


def test_one_word_for_one_thing_on_page_and_sheet(messages: list[po.Message]) -> None:
    """An allergen, a vessel or a part of the meal is called on a page as the printed sheet calls it."""
    sheet = words_in(Language.HINDI)
    with translation.override("hi"):
        for printed in (sheet.allergens, sheet.courses, sheet.vessels):
            for english, hindi in printed.items():
                if english != "griddle":  # the page has one word for the tool and the technique
                    assert translation.gettext(english) == hindi
