"""Any text of a dish → a draft: a page, a timed narration, a written recipe, or plain speech."""

from __future__ import annotations

from chauka.errors import InputError
from chauka.reading.cues import is_timed, refuse_if_endless
from chauka.reading.draft import Draft
from chauka.reading.narration import read_narration
from chauka.reading.page import is_page, read_page
from chauka.reading.recipe import is_recipe, read_recipe

LONGEST_PAGE = 2_000_000
"""Characters of a web page with everything around its recipe."""


def read_dish(text: str) -> Draft:
    """The draft dish and its questions.

    Raises `InputError` where the text is empty, too long, or a page without Recipe data.
    """
    if not text.strip():
        raise InputError({"text": ("is empty; give a recipe, a narration or a page",)})
    if len(text) > LONGEST_PAGE:
        raise InputError({"text": (f"is longer than {LONGEST_PAGE} characters; give one dish at a time",)})
    if is_page(text):
        return read_page(text)
    if is_timed(text):
        return read_narration(text)
    refuse_if_endless(len(text))
    return read_recipe(text) if is_recipe(text) else read_narration(text)
