"""Write one table in our own format, a CSV and its TOML card, with the same bytes every time.

The words of a card (title, source, licence …) are written by hand in the card itself; a script
that makes the table keeps them and brings columns, rows and sums up to date.
"""

from __future__ import annotations

import csv
import io
import math
import tomllib
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any

DATA = Path(__file__).parents[1] / "src" / "chauka" / "tables" / "data"
"""Where the tables of the package lie."""

TARGET = DATA
"""Where tables are written; a test writes elsewhere."""

_NOT_NUMBERS = {"", "Tr", "N"}


def read_card(stem: str) -> dict[str, Any]:
    """The card of a table as it stands."""
    return tomllib.loads((DATA / f"{stem}.toml").read_text(encoding="utf-8"))


def column_sum(cells: Iterable[str]) -> float | None:
    """The sum of a column, marks and gaps left out; None where a cell is text or none is a number."""
    numbers = []
    for cell in cells:
        if cell in _NOT_NUMBERS:
            continue
        try:
            numbers.append(float(cell))
        except ValueError:
            return None
    return round(math.fsum(numbers), 6) if numbers else None


def write_table(
    stem: str,
    columns: Mapping[str, str],
    rows: Sequence[Mapping[str, str]],
    *,
    folder: Path | None = None,
    summed: Sequence[str] | None = None,
) -> None:
    """Write `stem`.csv and `stem`.toml into `folder`, or where the tables of the package lie.

    `columns` maps each column to what it means, with its unit in brackets. The card gets the number
    of rows and the sums of all columns of numbers (or of those in `summed`).
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    for row in rows:
        unknown = set(row) - set(columns)
        if unknown:
            raise ValueError(f"{stem}: columns without a description: {sorted(unknown)}")
        writer.writerow([row.get(name, "") for name in columns])
    words = {k: v for k, v in read_card(stem).items() if k not in {"columns", "rows", "sums"}}
    folder = folder or TARGET
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{stem}.csv").write_text(text.getvalue(), encoding="utf-8", newline="\n")
    lines = [f"{key} = {value if isinstance(value, int) else _quoted(value)}" for key, value in words.items()]
    lines += [f"rows = {len(rows)}", "", "[columns]"]
    lines += [f"{_quoted(name)} = {_quoted(meaning)}" for name, meaning in columns.items()]
    lines += ["", "[sums]"]
    for name in columns if summed is None else summed:
        total = column_sum(row.get(name, "") for row in rows)
        if total is not None:
            lines.append(f"{_quoted(name)} = {total!r}")
    (folder / f"{stem}.toml").write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'
