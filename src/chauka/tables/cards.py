"""Tables and their cards: what each table is, where it comes from, under which licence."""

from __future__ import annotations

import csv
import difflib
import io
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

from chauka.errors import DataError

_DATA = files("chauka.tables") / "data"


@dataclass(frozen=True, slots=True)
class Card:
    """What a table is and how far it can be trusted.

    `columns` gives the meaning and unit of each column, `sums` the sum of each numeric column as a
    check, `trust` says plainly whether the figures are published, common practice or from memory.
    """

    name: str
    title: str
    source: str
    author: str
    year: int
    table: str
    licence: str
    notice: str
    how_obtained: str
    made_by: str
    trust: str
    rows: int
    columns: Mapping[str, str]
    sums: Mapping[str, float]


@cache
def cards() -> Mapping[str, Card]:
    """All cards by the name of their table, in alphabetical order."""
    found = sorted(entry.name[:-5] for entry in _DATA.iterdir() if entry.name.endswith(".toml"))
    return MappingProxyType({name: _read_card(name) for name in found})


def card(name: str) -> Card:
    """The card of one table.

    Raises
    ------
    DataError
        No such table; names those that look like it.
    """
    if name not in cards():
        near = difflib.get_close_matches(name, cards(), n=3) or list(cards())
        raise DataError(f"there is no table called {name!r}; there is {', '.join(near)}")
    return cards()[name]


@cache
def rows(name: str) -> tuple[Mapping[str, str], ...]:
    """All rows of a table, each column by its header, every cell as text; an empty cell is unknown.

    Raises
    ------
    DataError
        No such table, or it has not the columns that its card names.
    """
    header, cells = raw_rows(name)
    return tuple(MappingProxyType(dict(zip(header, row, strict=True))) for row in cells)


def raw_rows(name: str) -> tuple[tuple[str, ...], list[list[str]]]:
    """Header and rows of a table as lists of cells, for readers that need speed."""
    about = card(name)
    reader = csv.reader(io.StringIO((_DATA / f"{name}.csv").read_text(encoding="utf-8"), newline=""))
    header = tuple(next(reader))
    cells = list(reader)
    if header != tuple(about.columns):
        raise DataError(f"table {name} has the columns {', '.join(header)}, its card names {', '.join(about.columns)}")
    if len(cells) != about.rows:
        raise DataError(f"table {name} has {len(cells)} rows, its card says {about.rows}")
    return header, cells


def _read_card(name: str) -> Card:
    values = tomllib.loads((_DATA / f"{name}.toml").read_text(encoding="utf-8"))
    columns, sums = MappingProxyType(values.pop("columns")), MappingProxyType(values.pop("sums", {}))
    return Card(name=name, columns=columns, sums=sums, **values)
