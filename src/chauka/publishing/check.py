"""Consistency: every number in every output of a dish is the dish's.

Two proofs. Numbers are read out of what was written (HTML, page data, tables, drawings' titles, the film's
text), and each line's weight, each step's minutes, the yield and the nutrition must be the dish's own. What
cannot be read so — PDF and pictures — is made again and must be the same bytes.
"""

from __future__ import annotations

import csv
import hashlib
import html
import io
import json
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from chauka.errors import ChaukaError
from chauka.publishing.pack import MANIFEST
from chauka.publishing.read_back import read_page, read_page_data
from chauka.publishing.text import amount_text, grams_text, line_parts, minutes_text, span_text
from chauka.publishing.words import Language, words
from chauka.publishing.write_up import WriteUp

_REMADE = (".pdf", ".png", ".svg")
_WEIGHT = re.compile(r"(?<![\d.])(\d+(?:\.\d+)?) g\b")
_MINUTES = re.compile(r"(?<![\d.])(\d+(?:–\d+)?) min\b")
_WEIGHT_CELL = re.compile(r'class="weight">([^<]*)<')
_TAG = re.compile(r"<(?:style|script)\b.*?</(?:style|script)>|<[^>]+>", re.DOTALL)


@dataclass(frozen=True, slots=True)
class Finding:
    """Something in one file that is not the dish's."""

    path: str
    complaint: str


def check_pack(write_up: WriteUp, files: Mapping[str, bytes]) -> tuple[Finding, ...]:
    """All findings in a pack's files by path; none where everything agrees."""
    in_files = (finding for path in sorted(files) for finding in _file(write_up, path, files[path]))
    return (*_manifest(write_up, files), *in_files)


def check_remade(files: Mapping[str, bytes], again: Mapping[str, bytes]) -> tuple[Finding, ...]:
    """Sheets and cards that are not, byte for byte, what the dish gives when they are made again."""
    return tuple(
        Finding(path, "is not what the dish gives now in this style")
        for path in sorted(files)
        if path.endswith(_REMADE) and again.get(path) != files[path]
    )


def _manifest(write_up: WriteUp, files: Mapping[str, bytes]) -> Iterator[Finding]:
    if MANIFEST not in files:
        yield Finding(MANIFEST, "is missing: the pack was not written to its end")
        return
    try:
        told = json.loads(files[MANIFEST])
        entries = {str(e["path"]): str(e["sha256"]) for e in told["files"]}
    except (ValueError, KeyError, TypeError):
        yield Finding(MANIFEST, "is damaged; write the pack anew")
        return
    if told.get("dish") != write_up.dish.id:
        yield Finding(MANIFEST, f"is of {told.get('dish')!r}, not of {write_up.dish.id!r}")
    for path, sha in entries.items():
        if path not in files:
            yield Finding(path, "is missing")
        elif hashlib.sha256(files[path]).hexdigest() != sha:
            yield Finding(path, "was changed after the pack was written")


def _file(write_up: WriteUp, path: str, data: bytes) -> Iterable[Finding]:
    if path.endswith("data.json"):
        return _page_data(write_up, path, data.decode("utf-8", "replace"))
    if path.startswith("sheet/") and path.endswith(".html"):
        return _sheet(write_up, path, data.decode("utf-8", "replace"))
    if path.endswith(".svg"):
        found = re.search(r"<title>(.*?)</title>", data[:20_000].decode("utf-8", "replace"), re.DOTALL)
        return _numbers(write_up, path, html.unescape(found.group(1)) if found else "")
    if path in ("cards/alt.csv", "film/cards.csv"):
        rows = csv.DictReader(io.StringIO(data.decode("utf-8", "replace")))
        return _numbers(write_up, path, "\n".join(row.get("words") or "" for row in rows))
    if path == "film/description.txt":
        return _description(write_up, path, data.decode("utf-8", "replace"))
    return ()


def _page_data(write_up: WriteUp, path: str, text: str) -> Iterator[Finding]:
    try:
        data = json.loads(text)
        if read_page_data(data) != write_up.dish:
            yield Finding(path, "holds the dish as it was; the dish book has changed since")
    except (ChaukaError, ValueError) as error:
        yield Finding(path, str(error))
        return
    ours = _nutrition(write_up)
    for name, said in (data.get("nutrition") or {}).items():
        if name not in ("@type", "servingSize") and said not in ours:
            yield Finding(path, f"nutrition.{name} says {said}; the dish has no such amount")
    yield from _numbers(write_up, path, "\n".join(data.get("recipeIngredient") or ()))


def _nutrition(write_up: WriteUp) -> frozenset[str]:
    """Amounts per portion as page data writes them."""
    amounts = write_up.nutrition.per_portion.values()
    return frozenset(f"{a.mean:.{n}f} {unit}" for a in amounts for n in (0, 1) for unit in ("kcal", "g", "mg"))


def _sheet(write_up: WriteUp, path: str, text: str) -> Iterator[Finding]:
    try:
        if read_page(text) != write_up.dish:
            yield Finding(path, "holds the dish as it was; the dish book has changed since")
    except ChaukaError as error:
        yield Finding(path, str(error))
    seen = " ".join(html.unescape(_TAG.sub(" ", text)).split())
    language = Language.HINDI if path.endswith(f"{Language.HINDI}.html") else Language.ENGLISH
    for nutrient, amount in write_up.panel:
        if amount_text(amount, nutrient.unit, words(language)) not in seen:
            yield Finding(path, f"does not say {nutrient.name.lower()} as the dish has it")
    lines = [line for part in write_up.parts for line in part.lines]
    told = [html.unescape(x) for x in _WEIGHT_CELL.findall(text)]
    if len(told) != len(lines):
        yield Finding(path, f"lists {len(told)} lines; the dish has {len(lines)}")
    for line, weight in zip(lines, told, strict=False):
        if weight != grams_text(line.grams):
            yield Finding(path, f"says that {line.said} weighs {weight}; it weighs {grams_text(line.grams)}")


def _description(write_up: WriteUp, path: str, text: str) -> Iterator[Finding]:
    for line in write_up.dish.lines:
        if " ".join(part for part in line_parts(line) if part) not in text:
            yield Finding(path, f"does not give {line.said} as {grams_text(line.grams)}")
    yield from _numbers(write_up, path, text.split("\n\n", 1)[-1])


def _numbers(write_up: WriteUp, path: str, text: str) -> Iterator[Finding]:
    """Weights and minutes in a text that the dish does not have."""
    weights, minutes = _own_weights(write_up), _own_minutes(write_up)
    for found in _WEIGHT.finditer(text):
        if found.group(0) not in weights:
            yield Finding(path, f"says {found.group(0)}; nothing in the dish weighs that")
    for found in _MINUTES.finditer(text):
        if found.group(1) not in minutes:
            yield Finding(path, f"says {found.group(0)}; nothing in the dish takes that long")


def _own_weights(write_up: WriteUp) -> frozenset[str]:
    told = {grams_text(x.grams) for x in write_up.dish.lines} | {grams_text(write_up.nutrition.portion_g)}
    return frozenset(told | set(_found(_WEIGHT, _own_words(write_up), 0)))


def _own_minutes(write_up: WriteUp) -> frozenset[str]:
    times = write_up.times
    spans = [span_text(s.minutes) for s in write_up.dish.steps]
    whole = (times.hands_on_min, times.prepare_min, times.cook_min, times.ahead_min, times.total_min)
    told = " ; ".join([*spans, *(minutes_text(m) for m in whole), _own_words(write_up)])
    return frozenset(_found(_MINUTES, told, 1))


def _own_words(write_up: WriteUp) -> str:
    """What the author wrote herself may name any number."""
    dish = write_up.dish
    said = [dish.story, *dish.cautions, *(c.text for c in write_up.cautions), write_up.life.reason]
    said += [f"{s.text} {s.until}" for s in dish.steps] + [f"{x.amount} {x.said} {x.prep}" for x in dish.lines]
    return " ; ".join(said)


def _found(pattern: re.Pattern[str], text: str, group: int) -> list[str]:
    return [m.group(group) for m in pattern.finditer(text)]
