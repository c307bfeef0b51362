"""Make the tables of keeping, seasons, intakes, yields, retention and allergen rules from reference files.

    python tools/make_reference_tables.py FOLDER [NAME ...]

FOLDER holds the files named in SPECS. Figures are taken over as they stand; a column food_code
says which of our foods an item is (tools/maps/items.txt), with one row for each such food.
"""

from __future__ import annotations

import csv
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from table_writing import write_table

Row = dict[str, str]
MAPS = Path(__file__).parent / "maps"


@dataclass(frozen=True, slots=True)
class Spec:
    """One table: the file it comes from, what its columns mean, and how a row is changed."""

    file: str
    columns: Mapping[str, str]
    item: str = ""
    change: Callable[[Row], Row | None] = lambda row: row
    extra: Callable[[], Iterable[Row]] = tuple


def read(path: Path) -> Iterator[Row]:
    """The rows of a file, comment lines left out."""
    lines = path.read_text(encoding="utf-8").splitlines(keepends=True)
    yield from csv.DictReader(line for line in lines if not line.startswith("#"))


def map_lines(name: str) -> Iterator[list[str]]:
    """The cells of a map of ours, comment lines left out."""
    for line in (MAPS / name).read_text(encoding="utf-8").splitlines():
        if not line.startswith("#"):
            yield [cell.strip() for cell in line.split("|")]


def items() -> dict[str, list[str]]:
    """Our codes by item."""
    pairs = (cells[0].split("=", 1) for cells in map_lines("items.txt"))
    return {item.strip(): codes.split() for item, codes in pairs}


# ---------------------------------------------------------------- retention, yields

RETENTION = {
    "calcium": "CA", "iron": "FE", "magnesium": "MG", "phosphorus": "P", "potassium": "K", "sodium": "NA",
    "zinc": "ZN", "copper": "CU", "vitc": "VITC", "vitb1": "THIA", "vitb2": "RIBF", "vitb3": "NIA",
    "vitb6": "VITB6A", "folate_food": "FOLFD", "vitb9": "FOLAC", "folate_total": "FOL", "choline": "CHOLN",
    "vitb12": "VITB12", "vita_iu": "VITA_IU", "vita_re": "VITA", "alcohol": "ALC", "carotene_beta": "CARTB",
    "carotene_alpha": "CARTA", "cryptoxanthin": "CRYPXB", "lycopene": "LYCPN", "lutein": "LUT_ZEA",
}  # fmt: skip
"""Column of the source: INFOODS tag of the nutrient."""


def retention(row: Row) -> Row:
    """A retention code with four digits, percentages by tag."""
    values = {f"{tag}_pct": row[f"usda_rf_{name}"] for name, tag in RETENTION.items()}
    return {"code": row["retention_factor"].zfill(4), "description": row["Retention Description"], **values}


_YIELD_SD = {"published": 0.08, "implied (solids tracer)": 0.15, "group": 0.20}
"""Spread of a yield factor as a share of it: ours, no source."""


def yields(row: Row) -> Row | None:
    """A yield factor with its spread; Japanese rows and meat are left out."""
    if row["code"].startswith("MEXT") or row["food"] == "Lamb":
        return None
    kind = "group" if row["source"].startswith("AGRIBALYSE") else row["kind"]
    sd = f"{float(row['yield_factor']) * _YIELD_SD[kind]:.3f}"
    how = row["how"].replace(" from the dev half", "")
    return row | {"kind": kind, "sd": sd, "how": how, "source_code": row["code"]}


def own_yields() -> Iterator[Row]:
    """Yields that an Indian kitchen needs and no table at hand prints."""
    for code, food, method, factor, sd in map_lines("own_yields.txt"):
        yield {
            "food_code": code,
            "food": food,
            "state": "raw -> cooked",
            "method": method,
            "yield_factor": factor,
            "sd": sd,
            "kind": "common practice",
            "source": "common practice, no source",
            "how": "common practice",
        }


# ---------------------------------------------------------------- intakes

TAGS = {
    "energy": "ENERC_KCAL", "protein": "PROCNT", "fibre": "FIBTG", "calcium": "CA", "iron": "FE", "zinc": "ZN",
    "vitamin_c": "VITC", "folate": "FOL", "vitamin_a": "VITA_RAE", "vitamin_b12": "VITB12", "sodium": "NA",
    "free_sugars": "", "added_sugar": "",
}  # fmt: skip

_SEEN = (
    ("diet_minimums", "a public table of minimum intakes; that it is this source is inferred from the values"),
    ("eatlesswell", "a public notes file that quotes the source"),
    ("jpwrobinson", "constants in public source files (secondary)"),
)


def plain_words(text: str) -> str:
    """A place where a figure was seen, without the name of a repository."""
    return next((words for key, words in _SEEN if key in text), text)


def intake(row: Row) -> Row:
    """A reference intake with the tag of its nutrient."""
    return row | {"tag": TAGS[row["nutrient"]], "where_seen": plain_words(row["where_seen"])}


def bmr(row: Row) -> Row:
    """A BMR equation; `how` without the name of a repository."""
    known = "eatlesswell" in row["how"] or row["how"] == "read here (same)"
    return row | {"how": "read here (a public notes file that quotes the source)" if known else row["how"]}


# ---------------------------------------------------------------- seasons

HILL = "Hill town, north India (demo)"


def hill_season() -> Iterator[Row]:
    """The months of the demo's hill town."""
    for code, item, months in map_lines("hill_season.txt"):
        yield {
            "region": HILL,
            "item": item,
            "food_code": code,
            "months": months,
            "source": "invented for the demo, common practice, no source",
            "how": "invented for the demo",
            "note": "about 1,500 m; a cook of such a town would recognise it",
        }


def season(row: Row) -> Row:
    """A season row; the Californian chart without the name of a repository."""
    if row["region"] == "US-California":
        row["source"] = "a California farmers-market seasonality chart; its publisher is not named in the copy seen"
    elif row["source"].startswith("Times of India"):
        row["source"] = "Times of India seasonal list, as reproduced in a public table (2017)"
    return row


# ---------------------------------------------------------------- the tables

_CODE = {"food_code": "which of our foods it is, empty where none [-]"}
_FROM = {"source": "where the figure comes from [-]", "provenance": "read here, from memory, policy, derived [-]"}

SPECS: dict[str, Spec] = {
    "retention_factors": Spec(
        "indian_recipes/retention_factors_usda_r6.csv",
        {"code": "USDA retention code, four digits [-]", "description": "food group and cooking, as published [-]"}
        | {f"{tag}_pct": f"share of {tag} retained [% of the raw amount]" for tag in RETENTION.values()},
        change=retention,
    ),
    "yield_factors": Spec(
        "nutrition/yield_factors.csv",
        {
            **_CODE,
            "food": "food as the source names it [-]",
            "source_code": "code in the source [-]",
            "state": "from which state to which [-]",
            "method": "cooking [-]",
            "yield_factor": "cooked weight ÷ raw weight [g/g]",
            "sd": "its spread, ours [g/g]",
            "note": "note of the source [-]",
            "kind": "published, group, implied (solids tracer) or common practice [-]",
            "source": "where the figure comes from [-]",
            "how": "read here, computed here or common practice [-]",
        },
        item="food",
        change=yields,
        extra=own_yields,
    ),
    "produce_storage": Spec(
        "keeping/produce_storage.csv",
        {
            "item": "item as the source names it [-]",
            **_CODE,
            "group": "kind of produce [-]",
            "temp_min_C": "lowest advised storage temperature [°C]",
            "temp_max_C": "highest advised storage temperature [°C]",
            "rh_pct": "advised relative humidity [%]",
            "life_min_d": "shortest storage life there [day]",
            "life_max_d": "longest storage life there [day]",
            "ethylene_production": "VL, L, M, H, VH [-]",
            "ethylene_sensitivity": "L, M, H [-]",
            "chilling_sensitive": "Y or N [-]",
            **_FROM,
        },
        item="item",
    ),
    "form_effects": Spec(
        "keeping/form_effects.csv",
        {
            "item_or_class": "what it holds for [-]",
            "form": "form [-]",
            "compared_with": "form that it is compared with [-]",
            "quantity": "what was measured [-]",
            "ratio_or_value": "ratio or value, as text [-]",
            "unit": "unit of the ratio or value [-]",
            **_FROM,
            "use": "what we take from it [-]",
        },
    ),
    "flours": Spec(
        "keeping/flours.csv",
        {
            "flour": "flour or grain [-]",
            **_CODE,
            "condition": "how it is kept [-]",
            "life": "how long it keeps, as text [-]",
            **_FROM,
            "note": "note [-]",
        },
        item="flour",
    ),
    "food_rules": Spec(
        "keeping/food_rules.csv",
        {
            "id": "name of the rule [-]",
            "rule": "the rule [-]",
            "authority": "who says so [-]",
            "provenance": "read here or from memory [-]",
        },
    ),
    "growth_limits": Spec(
        "keeping/growth_limits.csv",
        {
            "organism": "organism [-]",
            "aw_min": "lowest water activity for growth [-]",
            "pH_min": "lowest pH [-]",
            "pH_max": "highest pH [-]",
            "T_min_C": "lowest temperature [°C]",
            "T_max_C": "highest temperature [°C]",
            **_FROM,
        },
    ),
    "micro_models": Spec(
        "keeping/micro_models.csv",
        {
            "organism": "organism [-]",
            "food": "food that the model was made for [-]",
            "form": "kind of model [-]",
            "equation": "growth rate as printed; T in °C [-]",
            "unit_of_mu": "unit of the rate [-]",
            "domain": "where the model holds [-]",
            "publication": "publication [-]",
            "provenance": "read here or not verified [-]",
            "use": "what we use it for [-]",
        },
    ),
    "water_activity_constants": Spec(
        "keeping/water_activity_constants.csv",
        {
            "solute": "solute [-]",
            "model": "equation [-]",
            "parameter": "parameter [-]",
            "value": "value of the parameter [-]",
            "molar_mass_g_mol": "molar mass [g/mol]",
            **_FROM,
        },
    ),
    "tcs_table_a": Spec(
        "keeping/tcs_table_a.csv",
        {
            "aw": "water activity [-]",
            "pH_4.6_or_less": "class at pH 4.6 or less [-]",
            "pH_over_4.6_to_5.6": "class at pH over 4.6 to 5.6 [-]",
            "pH_over_5.6": "class at pH over 5.6 [-]",
        },
    ),
    "tcs_table_b": Spec(
        "keeping/tcs_table_b.csv",
        {
            "aw": "water activity [-]",
            "pH_under_4.2": "class at pH under 4.2 [-]",
            "pH_4.2-4.6": "class at pH 4.2 to 4.6 [-]",
            "pH_over_4.6-5.0": "class at pH over 4.6 to 5.0 [-]",
            "pH_over_5.0": "class at pH over 5.0 [-]",
        },
    ),
    "hazards": Spec(
        "keeping/hazards.csv",
        {"food": "food or practice [-]", "caution": "what to do and not to do [-]", **_FROM},
    ),
    "reference_intakes": Spec(
        "planning/reference_intakes.csv",
        {
            "source": "who recommends it [-]",
            "where_seen": "where the figure was seen [-]",
            "group": "group of people [-]",
            "age": "age [-]",
            "sex": "sex [-]",
            "state": "pregnant, lactating, sedentary … [-]",
            "nutrient": "nutrient as the source names it [-]",
            "tag": "its INFOODS tag, empty where it has none here [-]",
            "kind": "RDA, RNI, AI, EER, ceiling, floor … [-]",
            "value": "amount a day, in `unit` [-]",
            "unit": "unit of the amount [-]",
            "how": "read here (in a secondary copy) or from memory [-]",
            "note": "note [-]",
        },
        change=intake,
    ),
    "bmr": Spec(
        "planning/bmr_schofield.csv",
        {
            "source": "who gives the equation [-]",
            "sex": "sex [-]",
            "age": "age [year]",
            "a_kcal_per_kg": "slope, or a whole equation as text [kcal/(kg day)]",
            "b_kcal": "constant, or activity factors as text [kcal/day]",
            "how": "read here (in a secondary copy) or from memory [-]",
        },
        change=bmr,
    ),
    "season_calendar": Spec(
        "planning/season_calendar.csv",
        {
            "region": "region [-]",
            "item": "item as the source names it [-]",
            **_CODE,
            "months": "months in the market, 1 to 12, separated by blanks [-]",
            "source": "where the months come from [-]",
            "how": "read here, from memory or invented for the demo [-]",
            "note": "note [-]",
        },
        item="item",
        change=season,
        extra=hill_season,
    ),
    "allergen_regimes": Spec(
        "publishing/allergens.csv",
        {
            "regime": "whose law [-]",
            "allergen": "allergen that must be named [-]",
            "detail": "what it covers [-]",
            "how": "read here or from memory [-]",
            "source": "law or standard [-]",
        },
    ),
    "schema_org_recipe": Spec(
        "publishing/schema_org_recipe.csv",
        {
            "type": "schema.org type [-]",
            "property": "property [-]",
            "expected": "what it expects [-]",
            "note": "note [-]",
            "search_engine_rich_result": "REQUIRED or recommended for a rich result [-]",
        },
    ),
}


def make(folder: Path, name: str) -> None:
    """Write one table and its card."""
    spec, codes = SPECS[name], items()
    rows: list[Row] = []
    for source_row in read(folder / spec.file):
        row = spec.change(source_row)
        if row is None:
            continue
        kept = {column: row[column] for column in spec.columns if column in row}
        of_it = codes.get(row[spec.item], []) if spec.item else []
        rows += [kept | {"food_code": code} for code in of_it] if of_it else [kept]
    rows += spec.extra()
    write_table(name, spec.columns, rows)


if __name__ == "__main__":
    if len(sys.argv) < 2:
        sys.exit(__doc__)
    for table in sys.argv[2:] or SPECS:
        make(Path(sys.argv[1]), table)
