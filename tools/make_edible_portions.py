"""Make the table of edible shares from USDA SR28 refuse figures and our map of foods.

    python tools/make_edible_portions.py FILE

FILE is a CSV of SR28 refuse figures with the columns ndb, food, refuse_percent and
refuse_description. The map is tools/maps/edible.txt.
"""

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from table_writing import DATA, write_table

MAP = Path(__file__).parent / "maps" / "edible.txt"
PUBLISHED_SD = "0.06"
"""Spread of a published share from kitchen to kitchen: ours, no source."""

NOT_IN_THIS_KITCHEN = set("NOPQRS")
SR28 = "USDA National Nutrient Database for Standard Reference, Release 28 (2016), refuse"

COLUMNS = {
    "food_code": "code of the food [-]",
    "edible_fraction": "edible portion ÷ as purchased [g/g]",
    "sd": "its spread from kitchen to kitchen, ours [g/g]",
    "refuse": "what is thrown away [-]",
    "source": "where the share comes from [-]",
    "how": "read here, or common practice [-]",
}


def mapped(refuse: Mapping[str, Mapping[str, str]]) -> Iterator[dict[str, str]]:
    """The rows that the map names."""
    for line in MAP.read_text(encoding="utf-8").splitlines():
        words, _, why = line.partition(" : ")
        first, *rest = words.split()
        codes = [word for word in rest if re.fullmatch(r"[A-Z]\d{3}", word)]
        if first == "#":
            continue
        if first.startswith("="):
            common = {"refuse": why, "source": "common practice, no source", "how": "common practice"}
            values = {"edible_fraction": first[1:], "sd": rest[0], **common}
        else:
            row = refuse[first]
            share = f"{1 - float(row['refuse_percent']) / 100:.2f}"
            source = f"{SR28}, NDB {first}: {row['food']}"
            values = {"edible_fraction": share, "sd": PUBLISHED_SD, "refuse": row["refuse_description"]}
            values |= {"source": source, "how": "read here"}
        yield from ({"food_code": code, **values} for code in codes)


def ready(done: set[str]) -> Iterator[dict[str, str]]:
    """Foods sold ready to use: grain, pulses, flours, spices, oils, dairy, shelled nuts, packets."""
    for table in ("ifct2017", "beyond_ifct", "own_foods"):
        with (DATA / f"{table}.csv").open(encoding="utf-8", newline="") as file:
            codes = [row["code"] for row in csv.DictReader(file)]
        for code in codes:
            if code in done or code[0] in NOT_IN_THIS_KITCHEN or code[0] == "M":
                continue
            yield {
                "food_code": code,
                "edible_fraction": "1.00",
                "sd": "0.01",
                "refuse": "nothing: sold ready to use",
                "source": "common practice, no source",
                "how": "common practice",
            }


def main(path: Path) -> None:
    """Write edible_portions.csv and its card."""
    with path.open(encoding="utf-8", newline="") as file:
        refuse = {row["ndb"]: row for row in csv.DictReader(file)}
    rows = list(mapped(refuse))
    rows += ready({row["food_code"] for row in rows})
    rows.sort(key=lambda row: row["food_code"])
    write_table("edible_portions", COLUMNS, rows)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(Path(sys.argv[1]))
