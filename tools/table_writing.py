"""Write one table in our own format: a CSV and its TOML card, with the same bytes every time."""

from __future__ import annotations

import csv
import io
import math
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

DATA = Path(__file__).parents[1] / "src" / "chauka" / "tables" / "data"
"""Where the tables of the package lie."""

_NOT_NUMBERS = {"", "Tr", "N"}


def _numbers(cells: Iterable[str]) -> list[float] | None:
    """The numbers of a column; None where some cell is text or no cell is a number."""
    numbers = []
    for cell in cells:
        if cell in _NOT_NUMBERS:
            continue
        try:
            numbers.append(float(cell))
        except ValueError:
            return None
    return numbers or None


def _quoted(text: str) -> str:
    escaped = text.replace("\\", "\\\\").replace('"', '\\"').replace("\n", "\\n")
    return f'"{escaped}"'


def write_table(
    stem: str,
    columns: Mapping[str, str],
    rows: Sequence[Mapping[str, str]],
    card: Mapping[str, str | int],
    *,
    folder: Path = DATA,
    sums: Sequence[str] | None = None,
) -> None:
    """Write `stem`.csv and `stem`.toml.

    `columns` maps each column to what it means, with its unit in brackets. `card` holds title,
    source, author, year, table, licence, notice, how_obtained, made_by and trust. The card gets the
    number of rows and the sums of all numeric columns (or of those in `sums`).
    """
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    writer.writerow(columns)
    for row in rows:
        unknown = set(row) - set(columns)
        if unknown:
            raise ValueError(f"{stem}: columns without a description: {sorted(unknown)}")
        writer.writerow([row.get(name, "") for name in columns])
    folder.mkdir(parents=True, exist_ok=True)
    (folder / f"{stem}.csv").write_text(text.getvalue(), encoding="utf-8", newline="\n")
    lines = [f"{key} = {value if isinstance(value, int) else _quoted(value)}" for key, value in card.items()]
    lines += [f"rows = {len(rows)}", "", "[columns]"]
    lines += [f"{_quoted(name)} = {_quoted(meaning)}" for name, meaning in columns.items()]
    lines += ["", "[sums]"]
    for name in columns if sums is None else sums:
        numbers = _numbers(row.get(name, "") for row in rows)
        if numbers is not None:
            lines.append(f"{_quoted(name)} = {round(math.fsum(numbers), 6)!r}")
    (folder / f"{stem}.toml").write_text("\n".join(lines) + "\n", encoding="utf-8", newline="\n")
