"""Make the table of everyday foods that the Indian tables lack, from UK CoFID and USDA FoodData Central rows.

    python tools/make_beyond_table.py FILE

FILE is a CSV of those rows with the columns food_code, food_code_org, food_name, table and one
column per nutrient (`iron_mg` …), where N is present but unknown, Tr is trace, blank is missing.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Mapping
from decimal import Decimal
from pathlib import Path

from table_writing import write_table

TAGS = {
    "energy_kj": ("ENERC", "kJ"), "energy_kcal": ("ENERC_KCAL", "kcal"), "protein_g": ("PROCNT", "g"),
    "fat_g": ("FAT", "g"), "fibre_g": ("FIBTG", "g"), "sfa_mg": ("FASAT", "g"), "mufa_mg": ("FAMS", "g"),
    "pufa_mg": ("FAPU", "g"), "cholesterol_mg": ("CHOLE", "mg"), "calcium_mg": ("CA", "mg"),
    "phosphorus_mg": ("P", "mg"), "magnesium_mg": ("MG", "mg"), "sodium_mg": ("NA", "mg"),
    "potassium_mg": ("K", "mg"), "iron_mg": ("FE", "mg"), "copper_mg": ("CU", "mg"), "selenium_ug": ("SE", "ug"),
    "chromium_mg": ("CR", "ug"), "manganese_mg": ("MN", "mg"), "molybdenum_mg": ("MO", "ug"), "zinc_mg": ("ZN", "mg"),
    "vita_ug": ("RETOL", "ug"), "vite_mg": ("VITE", "mg"), "vitd2_ug": ("ERGCAL", "ug"), "vitd3_ug": ("CHOCAL", "ug"),
    "vitk1_ug": ("VITK1", "ug"), "vitk2_ug": ("VITK2", "ug"), "folate_ug": ("FOL", "ug"), "vitb1_mg": ("THIA", "mg"),
    "vitb2_mg": ("RIBF", "mg"), "vitb3_mg": ("NIA", "mg"), "vitb5_mg": ("PANTAC", "mg"), "vitb6_mg": ("VITB6C", "mg"),
    "vitb7_ug": ("BIOT", "ug"), "vitc_mg": ("VITC", "mg"), "carotenoids_ug": ("CARTB", "ug"),
}  # fmt: skip
"""Column of the source: our tag and its unit."""

PER = {"mg": Decimal(1000), "ug": Decimal(1_000_000), "g": Decimal(1)}
MONOSACCHARIDE = {"starch": Decimal("1.10"), "sugars": Decimal("1.05"), "unknown": Decimal("1.075")}
"""CoFID gives carbohydrate as monosaccharide equivalents: 110 g from 100 g of starch, 105 g from 100 g of sucrose."""

KJ_PER_KCAL = Decimal("4.184")
MARKS = {"", "N", "Tr"}


def plain(number: Decimal) -> str:
    """At most four decimals, no exponent, no idle zeros."""
    text = f"{round(number, 4).normalize():f}"
    return "0" if text == "-0" else text


def converted(cell: str, source_unit: str, unit: str) -> str:
    """A cell in another unit; marks stay as they are."""
    if cell in MARKS:
        return cell
    number = Decimal(cell)
    return plain(number / PER[source_unit] * PER[unit]) if source_unit in PER else plain(number)


def amount(cell: str) -> Decimal | None:
    """The number in a cell, 0 for a trace, None where unknown."""
    return None if cell in {"", "N"} else Decimal(0) if cell == "Tr" else Decimal(cell)


def carbohydrate(row: Mapping[str, str]) -> tuple[str, str]:
    """Available carbohydrate and total sugars by weight [g], each a number or a mark."""
    total, sugars, fibre = amount(row["carb_g"]), amount(row["freesugar_g"]), amount(row["fibre_g"])
    if row["table"] == "USDA FDC":
        if total is None or fibre is None:
            return "N" if total else "", converted(row["freesugar_g"], "g", "g")
        return plain(max(total - fibre, Decimal(0))), converted(row["freesugar_g"], "g", "g")
    if total is None:
        return row["carb_g"], row["freesugar_g"]
    if sugars is None:
        return plain(total / MONOSACCHARIDE["unknown"]), row["freesugar_g"]
    starch = max(total - sugars, Decimal(0))
    available = starch / MONOSACCHARIDE["starch"] + sugars / MONOSACCHARIDE["sugars"]
    sugar_text = "Tr" if row["freesugar_g"] == "Tr" else plain(sugars / MONOSACCHARIDE["sugars"])
    return ("Tr" if row["carb_g"] == "Tr" else plain(available)), sugar_text


def vitamin_a(row: Mapping[str, str]) -> str:
    """Retinol + carotene/12 as RAE [µg], or a mark."""
    retinol, carotene = amount(row["vita_ug"]), amount(row["carotenoids_ug"])
    if retinol is None or carotene is None:
        return "N" if retinol or carotene or "N" in {row["vita_ug"], row["carotenoids_ug"]} else ""
    activity = retinol + carotene / 12
    return "Tr" if not activity and "Tr" in {row["vita_ug"], row["carotenoids_ug"]} else plain(activity)


def vitamin_d(row: Mapping[str, str]) -> str:
    """D2 + D3 [µg]; missing unless both, or D3 alone, are given."""
    d2, d3 = amount(row["vitd2_ug"]), amount(row["vitd3_ug"])
    return "" if d3 is None else plain(d3 + (d2 or Decimal(0)))


def convert(row: Mapping[str, str]) -> dict[str, str]:
    """One row in our columns."""
    out = {
        f"{tag}_{unit}": converted(row[source], source.rsplit("_", 1)[1], unit) for source, (tag, unit) in TAGS.items()
    }
    kj, kcal = amount(row["energy_kj"]), amount(row["energy_kcal"])
    notes = []
    if kj is not None and kcal and not Decimal("3.9") < kj / kcal < Decimal("4.5"):
        out["ENERC_kJ"] = plain(kcal * KJ_PER_KCAL)
        notes.append(f"energy printed as {row['energy_kj']} kJ; replaced by kcal × 4.184")
    if row["food_code"] == "H506":
        notes.append("the figures are those of flaxseed, which this survey food stands for")
    out["CHOAVLDF_g"], out["FSUGAR_g"] = carbohydrate(row)
    out["VITA_RAE_ug"], out["VITD_ug"] = vitamin_a(row), vitamin_d(row)
    name = row["food_name"]
    return {
        "code": row["food_code"],
        "name": NAMES.get(row["food_code"], name.capitalize() if name.isupper() else name),
        "scientific": "",
        "group": GROUPS[row["food_code"][0]],
        "names": "",
        "source_code": row["food_code_org"],
        "source_table": row["table"],
        "note": "; ".join(notes),
        **out,
    }


GROUPS = {
    "A": "Cereals and Millets", "B": "Grain Legumes", "C": "Green Leafy Vegetables", "D": "Other Vegetables",
    "E": "Fruits", "F": "Roots and Tubers", "G": "Condiments and Spices", "H": "Nuts and Oil Seeds", "I": "Sugars",
    "K": "Miscellaneous Foods", "L": "Milk and Milk Products", "N": "Poultry", "O": "Animal Meat",
    "T": "Edible Oils and Fats", "U": "Breads and Biscuits", "V": "Drinks", "W": "Jams and Sweets",
    "X": "Sauces and Prepared Foods",
}  # fmt: skip
"""What the first letter of a code says; A to T as the Indian tables use it."""

NAMES = {
    "A509": "Black rice", "A510": "Cracked wheat", "A512": "Nigella seeds", "A513": "Almond flour",
    "B507": "Black beans",
    "B511": "Chickpeas, roasted", "D507": "Olives, black, pitted", "E514": "Mango, dried", "G535": "Mango powder, dry",
    "G536": "Ajwain seeds", "G539": "Vinegar, balsamic", "G540": "Black salt, Himalayan",
    "G541": "Monosodium glutamate",
    "G543": "Vinegar, rice", "G548": "Ginger juice", "H505": "Mixed nuts", "H507": "Almond milk",
    "I511": "Tutti frutti", "X518": "Creamed corn",
}  # fmt: skip
"""Plain names for rows that carry a brand's wording."""


def main(path: Path) -> None:
    """Write beyond_ifct.csv and its card."""
    with path.open(encoding="utf-8", newline="") as file:
        rows = [convert(row) for row in csv.DictReader(file)]
    columns = {
        "code": "our code of the food [-]",
        "name": "name [-]",
        "scientific": "scientific name [-]",
        "group": "food group [-]",
        "names": "local names [-]",
        "source_code": "code of the food in its source [-]",
        "source_table": "which source [-]",
        "note": "what was changed in this row [-]",
    }
    tags = dict.fromkeys([*TAGS.values(), ("CHOAVLDF", "g"), ("FSUGAR", "g"), ("VITA_RAE", "ug"), ("VITD", "ug")])
    columns |= {f"{tag}_{unit}": f"{tag} [{unit}/100 g edible portion]" for tag, unit in tags}
    rows.sort(key=lambda row: row["code"])
    write_table("beyond_ifct", columns, rows)


if __name__ == "__main__":
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    main(Path(sys.argv[1]))
