"""The grammar of an ingredient line: text → amount and pieces, by `line.peg`."""

from __future__ import annotations

import re
import unicodedata
from dataclasses import dataclass, field
from functools import cache
from importlib import resources

from parsimonious import Grammar
from parsimonious.nodes import Node

from chauka.reading.words import ABSURD_NUMBER, alternatives, words

LONGEST_LINE = 1_000
"""Characters of a line that are read; no ingredient line is longer, and what follows is not looked at."""

_DASHES = dict.fromkeys(map(ord, "‐‑‒–—―−~"), "-")
_NOT_AMOUNT = r"\s?%|[./\d]\d|-?in-one|\s*(?:day|year|month|hour|minute)s?[\s-]"
"""What makes a number before it no amount: "2% milk", "five-in-one", "1 day old"."""

_MARKS = re.compile(r"[™®©•]+")
_INCHES = re.compile(r"(?<=[\d½¼¾⅓⅔⅛])\s?(?:''|[″”“])")
_BLANKS = re.compile(r"[\x00-\x20\x7f~*]+")
_FRACTION = re.compile(r"(\d*)\s*([¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])")


@dataclass(slots=True)
class Amount:
    """A quantity from `low` to `high` of a unit; `pack` is the size of one container."""

    low: float | None = None
    high: float | None = None
    unit: str | None = None
    pack: Amount | None = None
    size: str | None = None
    level: str | None = None


@dataclass(slots=True)
class Piece:
    """A run of words, the inside of a bracket, or a mark between them."""

    kind: str  # "run", "bracket", "mark"
    text: str


@dataclass(slots=True)
class Parsed:
    """What the grammar found in one line, before anybody asks what the words mean."""

    amount: Amount = field(default_factory=Amount)
    also: list[Amount] = field(default_factory=list)
    approximate: bool = False
    juice: str | None = None
    pieces: list[Piece] = field(default_factory=list)


def parse(text: str) -> Parsed:
    """Parse one line; any text parses, if only as a name."""
    tree = _grammar().parse(normal(text))
    parsed = Parsed()
    _walk(tree, parsed)
    return parsed


def parse_amount(text: str) -> Amount | None:
    """The amount that a text starts with, or None."""
    parsed = parse(text)
    return parsed.amount if parsed.amount.low is not None else None


def normal(text: str) -> str:
    """One line of plain signs: ½ as 1/2, every dash as -, no control characters."""
    text = _INCHES.sub('"', text[:LONGEST_LINE])
    if not text.isascii():
        text = _FRACTION.sub(_spell_fraction, unicodedata.normalize("NFC", text))
        text = text.replace("⁄", "/").replace("∕", "/").translate(_DASHES)
        text = _MARKS.sub(" ", "".join(_plain_sign(c) for c in text))
    return _BLANKS.sub(" ", ABSURD_NUMBER.sub(" ", text)).strip(" .-")


def _plain_sign(sign: str) -> str:
    if sign.isascii():
        return sign
    digit = unicodedata.decimal(sign, None)
    if digit is not None:
        return str(digit)
    return " " if unicodedata.category(sign) in ("Cc", "Cf", "Zs", "Zl", "Zp") else sign


def _spell_fraction(match: re.Match[str]) -> str:
    whole, sign = match.groups()
    spelt = unicodedata.normalize("NFKC", sign).replace("⁄", "/")
    return f"{whole} {spelt} " if whole else f"{spelt} "


@cache
def _grammar() -> Grammar:
    lists = words().lists
    text = (resources.files("chauka.reading") / "line.peg").read_text(encoding="utf-8")
    text = re.sub(r"^\s*#.*$", "", text, flags=re.MULTILINE)
    spellings = {
        "unit": [*words().spelt_units()],
        "container": [s for unit in lists["containers"] for s in words().units[unit]],
        "number": list(words().numbers),
        "level": lists["levels"],
        "size": lists["sizes"],
        "about": lists["about"],
        "juice": lists["juice"],
    }
    for name, entries in spellings.items():
        text = text.replace(f"<{name}>", alternatives(entries).replace('"', r"\x22"))
    text = text.replace("<fraction>", r"\d+\s*/\s*0*[1-9]\d*").replace("<not_amount>", _NOT_AMOUNT)
    return Grammar(text)


def _walk(node: Node, into: Parsed) -> None:
    """Collect what matters from the parse tree, top down."""
    rule = node.expr_name
    if rule in _AMOUNTS:
        _AMOUNTS[rule](node, into)
    elif rule == "about":
        into.approximate = True
    elif rule == "juice_word":
        into.juice = node.text.strip().lower()
    elif rule == "name":
        into.pieces.append(Piece("run", node.text.strip()))
    elif rule in ("tail", "bracket"):
        into.pieces += _pieces(node.text)
    elif rule == "mark":
        into.pieces.append(Piece("mark", node.text.strip()))
    else:
        for child in node.children:
            _walk(child, into)


_PIECE = re.compile(
    r"(?P<bracket>[(\[{]+\s*(?P<inside>(?:[^()\[\]{}]|\([^()]*\))*+)(?:[)\]}]+|$)\s*)|"
    r"(?P<mark>[,;:]+\s*|[-=]+(?=\s|$)\s*|[)\]}]+\s*)|"
    r"(?P<run>(?:(?!:|[-=]+(?:\s|$))(?:[^\s,;:()\[\]{}]|:(?=\S))++\s*+)++)|"
    r"(?P<stray>[(\[{]+\s*|.)",  # an opening bracket that nothing closes
    re.DOTALL,
)


def _pieces(text: str) -> list[Piece]:
    """What stands behind the amount, or behind the name: runs of words, brackets and marks."""
    found: list[Piece] = []
    for match in _PIECE.finditer(text):
        kind = match.lastgroup or ""
        if kind == "bracket":
            found.append(Piece("bracket", match["inside"].strip()))
        elif kind in ("run", "mark"):
            found.append(Piece(kind, match.group().strip()))
    return found


def _find(node: Node, rule: str) -> list[Node]:
    """The outermost nodes of a rule below this one, in order."""
    found = []
    for child in node.children:
        found += [child] if child.expr_name == rule else _find(child, rule)
    return found


def _only(node: Node, rule: str) -> Node:
    return _find(node, rule)[0]


def _number(node: Node) -> float:
    figure = _find(node, "figure")
    if figure:
        text = re.sub(r"(?<=\d)(?:th|rd|nd|st)\b|\ban?\b|\band\b", " ", figure[0].text, flags=re.IGNORECASE)
        parts = re.findall(r"\d+\s*/\s*\d+|\d*\.?\d+", text)
        return sum(_fraction(p) for p in parts)
    numbers = words().numbers
    whole = re.sub(r"[\s-]+", " ", node.text.lower()).strip()
    if whole in numbers:
        return numbers[whole]
    said = re.findall(r"\w+", whole.replace("do", "two") if whole == "do" else whole)
    return sum(numbers[w] for w in said if w in numbers)


def _fraction(text: str) -> float:
    top, _, bottom = text.partition("/")
    return float(top) / float(bottom) if bottom else float(top)


def _quantity_of(node: Node) -> tuple[float, float]:
    """Lowest and highest number that a node holds."""
    values = [_number(n) for n in _find(node, "number")]
    return min(values), max(values)


def _measure(node: Node, into: Parsed) -> Amount:
    """The amount that a measure, a count or a closing amount says."""
    found: dict[str, list[Node]] = {}
    _collect(node, found)
    amount = Amount()
    if "quantity" in found:
        amount.low, amount.high = _quantity_of(found["quantity"][0])
    elif "few" not in found:
        amount.low = amount.high = 1.0
    for packed in found.get("packed", ()):
        low, high = _quantity_of(packed)
        amount.pack = Amount(low, high, words().unit_of(_only(packed, "unit").text))
        into.approximate |= bool(_find(packed, "about"))
    for again in found.get("same_again", ()):
        low, high = _quantity_of(again)
        into.also.append(Amount(low, high, words().unit_of(_only(again, "unit").text)))
    if "unit" in found:
        amount.unit = words().unit_of(found["unit"][-1].text)
    amount.size = " ".join(n.text.strip().lower() for n in found.get("size", ())) or None
    for how in found.get("how", ()):
        _say_how(how.text, amount)
    return amount


_PARTS = frozenset({"quantity", "few", "packed", "same_again", "unit", "size", "how"})


def _collect(node: Node, found: dict[str, list[Node]]) -> None:
    """The outermost nodes that an amount is made of, by rule."""
    for child in node.children:
        if child.expr_name in _PARTS:
            found.setdefault(child.expr_name, []).append(child)
        elif child.children:
            _collect(child, found)


def _say_how(text: str, amount: Amount) -> None:
    """Part "heaped small" into level and size."""
    plain = text.strip(" -").lower()
    if plain:
        split = _how_parts().fullmatch(plain)
        level, size = split.groups() if split else (plain, None)
        amount.level = level.strip() or None
        amount.size = size.strip() if size else amount.size


@cache
def _how_parts() -> re.Pattern[str]:
    lists = words().lists
    level, size = alternatives(lists["levels"]), alternatives(lists["sizes"])
    return re.compile(rf"((?:(?:{level})(?![\w-])\s*)*)((?:{size}))?")


def _take_measure(node: Node, into: Parsed) -> None:
    into.amount = _measure(node, into)


def _take_packs(node: Node, into: Parsed) -> None:
    count, each = (_number(n) for n in _find(node, "number")[:2])
    container = _find(node, "container")
    unit = words().unit_of(container[0].text) if container else None
    into.amount = Amount(count, count, unit, pack=Amount(each, each, words().unit_of(_only(node, "unit").text)))


def _take_quantity(node: Node, into: Parsed) -> None:
    low, high = _quantity_of(node)
    into.amount = Amount(low, high)


ML = {"teaspoon": 5.0, "tablespoon": 15.0, "cup": 240.0, "katori": 150.0, "millilitre": 1.0, "litre": 1000.0}
"""Spoons and cups against each other [ml], for sums such as "2 tbsp + 1 tsp" only."""

GRAMS = {"gram": 1.0, "kilogram": 1000.0, "ounce": 28.349523125, "pound": 453.59237}


def _take_sum(node: Node, into: Parsed) -> None:
    first, second = (_measure(n, into) for n in _find(node, "measure"))
    for sizes in (ML, GRAMS):
        if first.unit in sizes and second.unit in sizes and first.low is not None and second.low is not None:
            ratio = sizes[second.unit] / sizes[first.unit]
            first.low += second.low * ratio
            first.high = (first.high or 0) + (second.high or 0) * ratio
            break
    else:
        into.also.append(second)
    into.amount = first


_AMOUNTS = {
    "packs": _take_packs,
    "sum": _take_sum,
    "measure": _take_measure,
    "few_units": _take_measure,
    "only_unit": _take_measure,
    "count": _take_measure,
    "closing_measure": _take_measure,
    "closing_unit": _take_measure,
    "bare_unit": _take_measure,
    "quantity": _take_quantity,
    "closing_count": _take_measure,
}
