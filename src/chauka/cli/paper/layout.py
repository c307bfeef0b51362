"""Headings, columns and paragraphs in plain text."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator, Sequence

WIDTH = 100
INDENT = "  "
GAP = "  "
_NARROWEST = 16
_UNIT = re.compile(r"(?<=\d) (?=(?:°C|%|g|kg|mg|µg|ml|l|min|h|s|days?|weeks?|months?|years?)\b|°C|%)|(?<=\bRs) (?=\d)")


def heading(text: str, aside: str = "") -> Iterator[str]:
    """A section's title with a rule under it, and a word at the right edge."""
    yield ""
    yield text + (aside.rjust(WIDTH - width(text)) if aside else "")
    yield "─" * WIDTH


def subheading(text: str, aside: str = "") -> str:
    """A lesser title."""
    return text + (aside.rjust(WIDTH - width(text)) if aside else "")


def paragraph(text: str, indent: str = INDENT, hang: str | None = None) -> Iterator[str]:
    """A paragraph, wrapped; a number stays with its unit."""
    yield from _wrapped(text, WIDTH, indent, indent if hang is None else hang)


def _wrapped(text: str, most: int, indent: str = "", hang: str = "") -> list[str]:
    """Lines of at most `most` columns; textwrap counts letters, and a vowel sign of Devanagari takes no column."""
    lines, line, start = list[str](), "", indent
    for word in re.findall(r"[^ \t\r\n]+", _UNIT.sub("\u00a0", text)):
        for part in _broken(word, max(most - max(width(indent), width(hang)), 1)):
            longer = f"{line} {part}" if line else part
            if line and width(start) + width(longer) > most:
                lines.append(start + line)
                start, longer = hang, part
            line = longer
    return [ready.replace("\u00a0", " ") for ready in (*lines, *([start + line] if line else []))]


def _broken(word: str, most: int) -> Iterator[str]:
    """A word in parts that fit; most words are one part."""
    part = ""
    for letter in word:
        if width(part + letter) > most:
            yield part
            part = ""
        part += letter
    if part:
        yield part


def columns(
    rows: Iterable[Sequence[str]], align: str, indent: str = INDENT, widest: Sequence[int | None] = ()
) -> Iterator[str]:
    """Rows in columns as wide as they need, at most `widest`; the last reaches to the right edge. Cells wrap.

    `align` has one letter a column: l or r.
    """
    table = [tuple(row) for row in rows]
    wide = _fitted(table, len(align), indent, widest)
    for row in table:
        yield from _row(row, wide, align, indent)


def noted(rows: Iterable[tuple[Sequence[str], str]], align: str, indent: str = INDENT) -> Iterator[str]:
    """Rows in columns, each with a note indented under it."""
    pairs = [(tuple(row), note) for row, note in rows]
    wide = _fitted([row for row, _ in pairs], len(align), indent, ())
    for row, note in pairs:
        yield from _row(row, wide, align, indent)
        yield from paragraph(note, indent=indent + INDENT * 3)


def _fitted(table: list[tuple[str, ...]], count: int, indent: str, widest: Sequence[int | None]) -> list[int]:
    """The width of every column: as wide as it needs, the widest cut until a row fits the page."""
    if not table:
        return []
    most = [*widest, *[None] * (count - len(widest))]
    wide = [min(max(width(row[i]) for row in table), most[i] or WIDTH) for i in range(count)]
    room = WIDTH - width(indent) - len(GAP) * (count - 1)
    wide[-1] = min(wide[-1], max(room - sum(wide[:-1]), _NARROWEST))
    while (over := sum(wide) - room) > 0 and max(wide) > _NARROWEST:
        broadest = wide.index(max(wide))
        wide[broadest] = max(_NARROWEST, wide[broadest] - over)
    return wide


def _row(row: tuple[str, ...], wide: list[int], align: str, indent: str) -> Iterator[str]:
    cells = [_wrapped(text, wide[i]) or [""] for i, text in enumerate(row)]
    for line in range(max(len(cell) for cell in cells)):
        texts = (cell[line] if line < len(cell) else "" for cell in cells)
        yield (indent + GAP.join(_set(t, wide[i], align[i]) for i, t in enumerate(texts))).rstrip()


def _set(text: str, wide: int, align: str) -> str:
    space = " " * (wide - width(text))
    return space + text if align == "r" else text + space


def width(text: str) -> int:
    """Columns that a text takes on a terminal."""
    return sum(
        0 if unicodedata.combining(c) or unicodedata.category(c) in ("Mn", "Me", "Cf") else
        2 if unicodedata.east_asian_width(c) in "WF" else 1
        for c in text
    )  # fmt: skip


def listing(items: Sequence[str], last: str = "and") -> str:
    """`a, b and c`."""
    if len(items) < 2:
        return "".join(items)
    return f"{', '.join(items[:-1])} {last} {items[-1]}"
