"""Bring the cards of hand-kept tables up to date: count their rows and add up their columns.

    python tools/refresh_cards.py [NAME ...]

Edit src/chauka/tables/data/NAME.csv by hand, then run this. Without names, every table whose card
says it was made by hand is refreshed. Columns, source and licence in the card stay as they are.
"""

from __future__ import annotations

import csv
import sys

from table_writing import DATA, read_card, write_table


def refresh(name: str) -> None:
    """Rewrite one table and its card with the present rows and sums."""
    columns = read_card(name)["columns"]
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, strict=True))
    for number, row in enumerate(rows, start=2):
        if None in row or None in row.values():
            raise ValueError(f"{name}.csv line {number} has not {len(columns)} cells")
    write_table(name, columns, rows)


def by_hand() -> list[str]:
    """The tables that no script makes."""
    stems = (path.stem for path in sorted(DATA.glob("*.toml")))
    return [stem for stem in stems if read_card(stem)["made_by"] == "by hand"]


if __name__ == "__main__":
    for table in sys.argv[1:] or by_hand():
        refresh(table)
