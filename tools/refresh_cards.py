"""Bring the cards of hand-kept tables up to date: count their rows and add up their columns.

    python tools/refresh_cards.py [NAME ...]

Edit src/chauka/tables/data/NAME.csv by hand, then run this. Without names, every table whose card
says it was made by hand is refreshed. Columns, source and licence in the card stay as they are.
"""

from __future__ import annotations

import csv
import sys
import tomllib

from table_writing import DATA, write_table


def refresh(name: str) -> None:
    """Rewrite one table and its card with the present rows and sums."""
    card = tomllib.loads((DATA / f"{name}.toml").read_text(encoding="utf-8"))
    columns = card.pop("columns")
    card.pop("rows", None)
    card.pop("sums", None)
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file, strict=True))
    for number, row in enumerate(rows, start=2):
        if None in row or None in row.values():
            raise ValueError(f"{name}.csv line {number} has not {len(columns)} cells")
    write_table(name, columns, rows, card)


def by_hand() -> list[str]:
    """The tables that no script makes."""
    cards = ((path.stem, tomllib.loads(path.read_text(encoding="utf-8"))) for path in sorted(DATA.glob("*.toml")))
    return [stem for stem, card in cards if card["made_by"] == "by hand"]


if __name__ == "__main__":
    for table in sys.argv[1:] or by_hand():
        refresh(table)
