"""Page data → the same dish: the encoded dish, taken only if the page's visible words still say the same."""

from __future__ import annotations

import json
import re
from collections.abc import Mapping
from typing import Any

from chauka.errors import Complaints, InputError
from chauka.kitchen import Dish, plain
from chauka.publishing.page_data import ENCODING, of_dish

_SCRIPT = re.compile(r'<script type="application/ld\+json">([^<]*)</script>')
"""Our own page data has no `<` in it."""


def read_page_data(data: Mapping[str, Any]) -> Dish:
    """The dish of our own page data.

    Raises `InputError` where the page holds no dish of ours (then it must be read as a written recipe), and
    where a name, an amount or a step was changed on the page without changing the dish: it names which.
    """
    dish = _encoded(data)
    bad = Complaints("page data")
    ours = of_dish(dish)
    for key in sorted(ours.keys() - {"recipeInstructions"}):
        bad.check(
            data.get(key) == ours.get(key),
            key,
            f"says {_short(data.get(key), ours.get(key))}; write the dish anew from the dish book",
        )
    told, meant = _step_texts(data.get("recipeInstructions")), _step_texts(ours["recipeInstructions"])
    bad.check(told == meant, "recipeInstructions", "the steps on the page are not those of the dish; write it anew")
    bad.raise_if_any()
    return dish


def read_page(html: str) -> Dish:
    """The dish of a page that carries our page data in a script element."""
    for found in _SCRIPT.findall(html):
        try:
            data = json.loads(found)
        except (ValueError, RecursionError):
            continue
        if isinstance(data, dict) and data.get("@type") == "Recipe":
            return read_page_data(data)
    raise InputError({"page": ("holds no Recipe data; give a page or a data file that chauka wrote",)})


def _encoded(data: Mapping[str, Any]) -> Dish:
    encoding = data.get("encoding")
    if not isinstance(encoding, Mapping) or encoding.get("name") != ENCODING:
        raise InputError({"page data": ("holds no dish of chauka; enter it as a written recipe instead",)})
    try:
        found = json.loads(str(encoding.get("text")))
    except (ValueError, RecursionError) as error:
        raise InputError({"page data.encoding": (f"is damaged: {error}",)}) from None
    return plain.from_plain(Dish, found, "dish")


def _step_texts(instructions: Any) -> list[str]:
    rows = instructions if isinstance(instructions, list) else []
    flat = [x for row in rows if isinstance(row, Mapping) for x in row.get("itemListElement", [row])]
    return [str(x.get("text")) for x in flat if isinstance(x, Mapping)]


def _short(told: Any, meant: Any) -> str:
    if isinstance(told, list) and isinstance(meant, list):
        pairs = [(t, m) for t, m in zip(told, meant, strict=False) if t != m]
        if pairs:
            told, meant = pairs[0]
        else:
            return f"{len(told)} entries where the dish has {len(meant)}"
    return (
        f"{json.dumps(told, ensure_ascii=False)[:80]} where the dish has {json.dumps(meant, ensure_ascii=False)[:80]}"
    )
