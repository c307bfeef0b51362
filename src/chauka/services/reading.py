"""Reading what was written or said: a draft with its questions, and ingredient lines one by one."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from chauka import reading


def read(text: str) -> reading.Draft:
    """The draft dish of a recipe, a narration or a page, with the questions that a careful editor would ask."""
    return reading.read_dish(text)


def draft_data(draft: reading.Draft) -> dict[str, Any]:
    """The draft as plain data."""
    return reading.draft_as_json(draft)


def lines(texts: Iterable[str]) -> Iterator[dict[str, Any]]:
    """Each ingredient line as plain data, in order."""
    for text in texts:
        yield reading.as_json(reading.read_line(text.rstrip("\r\n")))
