"""Headings, columns and paragraphs in plain text."""

from __future__ import annotations

import textwrap
import unicodedata
from collections.abc import Iterable, Iterator, Sequence

WIDTH = 100
INDENT = "  "
GAP = "  "


def heading(text: str, aside: str = "") -> Iterator[str]:
    """A section's title with a rule under it, and a word at the right edge."""
    yield ""
    yield text + (aside.rjust(WIDTH - width(text)) if aside else "")
    yield "─" * WIDTH


def subheading(text: str, aside: str = "") -> str:
    """A lesser title."""
    return text + (aside.rjust(WIDTH - width(text)) if aside else "")


def paragraph(text: str, indent: str = INDENT, hang: str | None = None) -> Iterator[str]:
    """A paragraph, wrapped."""
    yield from textwrap.wrap(
        text, WIDTH, initial_indent=indent, subsequent_indent=indent if hang is None else hang, break_on_hyphens=False
    )


def columns(rows: Iterable[Sequence[str]], align: str, indent: str = INDENT, most: int = WIDTH) -> Iterator[str]:
    """Rows in columns as wide as they need; the last column wraps at the right edge.

    `align` has one letter a column: l or r.
    """
    table = [tuple(row) for row in rows]
    if not table:
        return
    last = len(align) - 1
    widths = [max(width(row[i]) for row in table) for i in range(last)]
    left = width(indent) + sum(widths) + len(GAP) * last
    for row in table:
        head = indent + "".join(_set(row[i], widths[i], align[i]) + GAP for i in range(last))
        tail = textwrap.wrap(row[last], max(most - left, 16), break_on_hyphens=False) or [""]
        if align[last] == "r":
            tail = [row[last].rjust(max(width(r[last]) for r in table))]
        yield (head + tail[0]).rstrip()
        for more in tail[1:]:
            yield " " * left + more


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
