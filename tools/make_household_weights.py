"""Make the table of household weights: what a cup, spoon, piece or bunch of a food weighs.

    python tools/make_household_weights.py FILE

FILE is a CSV of the USDA SR28 WEIGHT file with the columns ndb, food, amount, measure,
grams_per_unit, volume_ml_per_unit and sd. tools/maps/household.txt says which SR28 food stands for
which food of ours; tools/maps/kitchen_weights.txt holds the measures of an Indian kitchen, which
come first.
"""

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

from table_writing import write_table

MAPS = Path(__file__).parent / "maps"
SR28 = "USDA National Nutrient Database for Standard Reference, Release 28 (2016), weights"

SOURCES = {
    "common": ("common practice, no source", "common practice"),
    "indb": ("household units of the Indian Nutrient Databank (2024)", "read here"),
    "fao": ("FAO/INFOODS Density Database v2.0 (2012), through a public transcription", "read here"),
    "sr26": ("USDA National Nutrient Database for Standard Reference, Release 26 (2013), weights", "read here"),
    "between": ("chosen between figures", "policy"),
    "by definition": ("by definition", "by definition"),
}
"""Source and how it was obtained, by the first word of the last column of the map."""

FORMS = (
    ("grated", r"\b(grated|shredded)\b"),
    ("ground", r"\b(ground|mashed|pureed|crumbled)\b"),
    ("chopped", r"\b(chopped|diced)\b"),
    ("cut", r"\b(sliced|slices|strips|cubes|pieces|sections|quartered|slivered)\b"),
    ("whole", r"\b(whole|halves|leaves)\b"),
)
"""Our form by what SR28 says of the filling."""

VOLUMES = {"cup": "cup", "tbsp": "tablespoon", "tablespoon": "tablespoon", "tsp": "teaspoon"}
LEFT_OUT = re.compile(
    r"whipped|in shell|with hulls|with pits|cherry tomatoes|sifted|brownulated|NLEA|packed,|container|NS as|\bdash\b"
)
COUNTS = (
    ("leaf", r"^lea(f|ves)\b"),
    ("clove", r"^cloves?$"),
    ("sprig", r"^sprigs?$"),
    ("bunch", r"^bunch$"),
    ("piece small", r"^(fruit, |potato |head )?small\b|^head, small"),
    ("piece medium", r"^(potato |head )?medium\b|^head, medium"),
    ("piece large", r"^(fruit, |potato |head )?large\b|^head, large"),
    ("piece", r"^(fruit|gourd|almond|kernel|broadbean|beet|balsam-pear|sweetpotato|cucumber|radish|pomegranate)\b"),
    ("piece", r"^(beans|pods|grapes|raisins|cherry|eggplant, unpeeled)\b"),
)
"""Our measure by how SR28 begins the name of a count."""

VOLUME_CV, PIECE_CV, LEAF_CV = 0.08, 0.25, 0.35
"""Spread where SR28 prints none: ours, no source."""

COLUMNS = {
    "food_code": "code of the food [-]",
    "form": "form that is measured, empty for any [-]",
    "measure": "cup, tablespoon, teaspoon, pinch, piece (small, medium, large), bunch, clove, inch, sprig … [-]",
    "ml": "volume of the measure, empty for a count [ml]",
    "grams": "edible weight of one measure [g]",
    "sd_g": "its spread [g]",
    "source": "where the weight comes from [-]",
    "how": "read here, common practice, policy or by definition [-]",
}


def kitchen_rows() -> Iterator[dict[str, str]]:
    """The measures of an Indian kitchen."""
    for line in (MAPS / "kitchen_weights.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            continue
        codes, form, measure, ml, grams, sd, source = (part.strip() for part in line.split("|"))
        key, _, detail = source.partition(": ")
        words, how = SOURCES[key]
        named = f"{words}: {detail}" if detail else words
        values = {"form": form, "measure": measure, "ml": ml, "grams": grams, "sd_g": sd, "source": named, "how": how}
        yield from ({"food_code": code, **values} for code in codes.split())


def measure_of(text: str) -> tuple[str, str] | None:
    """Form and measure of an SR28 measure; None where it is of no use in this kitchen."""
    if LEFT_OUT.search(text):
        return None
    first = re.split(r"[ ,]", text, maxsplit=1)[0].lower()
    form = next((name for name, pattern in FORMS if re.search(pattern, text)), "")
    if first in VOLUMES:
        return form, VOLUMES[first]
    count = next((name for name, pattern in COUNTS if re.search(pattern, text.lower())), None)
    return ("whole", count) if count else None


def weight(row: Mapping[str, str], measure: str) -> dict[str, str]:
    """Grams, spread and volume of one SR28 row."""
    grams = float(row["grams_per_unit"])
    ml = row["volume_ml_per_unit"] if measure in VOLUMES.values() else ""
    cv = VOLUME_CV if ml else LEAF_CV if measure in {"leaf", "sprig", "bunch"} else PIECE_CV
    printed = float(row["sd"]) / float(row["amount"]) if row["sd"] else 0.0
    sd = max(printed, cv * grams)
    return {"ml": ml, "grams": f"{grams:.4g}", "sd_g": f"{sd:.2g}"}


def sr28_rows(path: Path) -> Iterator[dict[str, str]]:
    """The US household weights of the foods in the map."""
    with path.open(encoding="utf-8", newline="") as file:
        by_food: dict[str, list[dict[str, str]]] = {}
        for row in csv.DictReader(file):
            by_food.setdefault(row["ndb"], []).append(row)
    for line in (MAPS / "household.txt").read_text(encoding="utf-8").splitlines():
        if line.startswith("#"):
            continue
        ndb, *codes = line.split()
        for row in by_food[ndb]:
            found = measure_of(row["measure"])
            if found is None:
                continue
            source = {"source": f"{SR28}, NDB {ndb}: {row['food']}", "how": "read here"}
            values = {"form": found[0], "measure": found[1], **weight(row, found[1]), **source}
            yield from ({"food_code": code, **values} for code in codes)


def is_piece(row: Mapping[str, str]) -> bool:
    """Whether a row counts pieces."""
    return row["measure"].startswith("piece")


def main(path: Path) -> None:
    """Write household_weights.csv and its card."""
    rows = list(kitchen_rows())
    counted_here = {row["food_code"] for row in rows if is_piece(row)}
    taken = {(row["food_code"], row["form"], row["measure"]) for row in rows}
    for row in sr28_rows(path):
        key = (row["food_code"], row["form"], row["measure"])
        if key in taken or (is_piece(row) and row["food_code"] in counted_here):
            continue
        taken.add(key)
        rows.append(row)
    rows.sort(key=lambda row: row["food_code"])
    write_table("household_weights", COLUMNS, rows)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(Path(sys.argv[1]))
