"""Make the table of nutrients from the headers of the composition tables.

python tools/make_nutrients_table.py
"""

from __future__ import annotations

from make_ifct_table import Column, read_columns
from table_writing import write_table

FIRST = [
    "ENERC_KCAL", "ENERC", "WATER", "PROCNT", "FAT", "CHOAVLDF", "FIBTG", "FSUGAR", "CA", "FE", "MG", "P", "K", "NA",
    "ZN", "CU", "MN", "SE", "VITC", "THIA", "RIBF", "NIA", "PANTAC", "VITB6C", "BIOT", "FOL", "VITB12", "VITA_RAE",
    "CARTB", "RETOL", "VITD", "VITE", "VITK1", "FASAT", "FAMS", "FAPU", "CHOLE",
]  # fmt: skip
"""The everyday ones, in the order in which a cook's page shows them."""

OTHERS = (
    Column("", "ENERC_KCAL", "kcal", "", "Energy"),
    Column("", "VITA_RAE", "ug", "", "Vitamin A (retinol activity equivalents)"),
    Column("", "VITB12", "ug", "", "Vitamin B12"),
)


def main() -> None:
    """Write nutrients.csv and its card."""
    found = {column.tag: column for column in (*OTHERS, *read_columns())}
    tags = [*FIRST, *(tag for tag in found if tag not in FIRST)]
    rows = [
        {
            "tag": tag,
            "name": found[tag].name,
            "unit": found[tag].unit,
            "kind": found[tag].block or "energy and vitamins",
            "everyday": "yes" if tag in FIRST else "no",
        }
        for tag in tags
    ]
    columns = {
        "tag": "INFOODS tagname, or the source's own where none exists (FSUGAR, OXALT ...) [-]",
        "name": "name [-]",
        "unit": "unit of every amount of it here [-]",
        "kind": "the group of nutrients that the Indian tables print together [-]",
        "everyday": "yes where a cook's page shows it [-]",
    }
    write_table("nutrients", columns, rows)


if __name__ == "__main__":
    main()
