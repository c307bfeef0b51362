"""Make the tables of food traits and allergens from our maps of codes.

python tools/make_food_kinds.py
"""

from __future__ import annotations

import csv
import re
from collections.abc import Iterator
from pathlib import Path

from table_writing import DATA, write_table

MAPS = Path(__file__).parent / "maps"


def known_codes() -> set[str]:
    """Every food that a composition table carries."""
    codes: set[str] = set()
    for table in ("ifct2017", "beyond_ifct", "own_foods"):
        with (DATA / f"{table}.csv").open(encoding="utf-8", newline="") as file:
            codes |= {row["code"] for row in csv.DictReader(file)}
    return codes


def lines(name: str) -> Iterator[str]:
    """The lines of a map, comments left out."""
    text = (MAPS / name).read_text(encoding="utf-8")
    yield from (line for line in text.splitlines() if line and not line.startswith("#"))


def spread_out(text: str, known: set[str]) -> list[str]:
    """`A001-A003 B001` as codes; a range takes the codes that exist, a single code must exist."""
    codes: list[str] = []
    for word in text.split():
        match = re.fullmatch(r"([A-Z])(\d{3})-[A-Z](\d{3})", word)
        if match:
            letter, low, high = match[1], int(match[2]), int(match[3])
            codes += [code for n in range(low, high + 1) if (code := f"{letter}{n:03}") in known]
        elif word in known:
            codes.append(word)
        else:
            raise ValueError(f"no food has the code {word}")
    return codes


def traits(known: set[str]) -> None:
    """Write food_traits.csv: one row per food, its traits in alphabetical order."""
    found: dict[str, set[str]] = {code: set() for code in known}
    for line in lines("traits.txt"):
        trait, _, codes = line.partition(" : ")
        for code in spread_out(codes, known):
            found[code].add(trait)
    rows = [{"food_code": code, "traits": " ".join(sorted(found[code]))} for code in sorted(found)]
    columns = {"food_code": "code of the food [-]", "traits": "kinds it belongs to, separated by blanks [-]"}
    write_table("food_traits", columns, rows)


def allergens(known: set[str]) -> None:
    """Write food_allergens.csv: one row per food and allergen."""
    rows = []
    for line in lines("allergens.txt"):
        allergen, certainty, codes, why = (part.strip() for part in line.split("|"))
        values = {"allergen": allergen, "certainty": certainty, "why": why}
        rows += [{"food_code": code, **values} for code in spread_out(codes, known)]
    rows.sort(key=lambda row: (row["food_code"], row["allergen"]))
    columns = {
        "food_code": "code of the food [-]",
        "allergen": "one of the fourteen of Regulation (EU) No 1169/2011, Annex II [-]",
        "certainty": "contains: by nature; usual: in most packets; possible: in some brands or lots [-]",
        "why": "what it is that carries the allergen [-]",
    }
    write_table("food_allergens", columns, rows)


def main() -> None:
    """Write both tables."""
    traits(known_codes())
    allergens(known_codes())


if __name__ == "__main__":
    main()
