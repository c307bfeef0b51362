"""Dishes of the Indian Nutrient Databank, computed from their lines, against the databank's own composition.

    python -m benchmarks.indian_dishes FOLDER [--spoons-as-water] --json

The databank sums raw ingredients: no cooked weight, and nothing is lost of energy, protein and fat.
That convention is used here, and nowhere in the program. A spoon or cup weighs what the databank's
own table of units says, else what the program says, else as much as water (a teaspoon 5 g).
`--spoons-as-water` takes all of them as water.
"""

from __future__ import annotations

import argparse
import csv
import json
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from benchmarks.household_units import unit_weights
from chauka import tables
from chauka.errors import ChaukaError
from chauka.kitchen import Measures
from chauka.quantities import grams

TAGS = {"ENERC_KCAL": "energy_kcal", "PROCNT": "protein_g", "FAT": "fat_g"}
_AS_WATER_G = {"g": 1.0, "ml": 1.0, "tsp": 5.0, "tbsp": 15.0, "C": 240.0, "pinch": 1.25, "sprig": 1.0, "nos": 1.0}
"""Grams of one unit by the databank's convention; pinch is its ¼ tsp, sprig and piece are our reading of it."""
_SAID = {"C": "cup", "nos": "piece"}
_CLOSE = 0.10
_LEAST = {"ENERC_KCAL": 1.0, "PROCNT": 0.1, "FAT": 0.1}
"""Below these amounts in 100 g the difference itself counts, not its share: 1 kcal, 0.1 g."""


@dataclass(frozen=True, slots=True)
class Difference:
    """One dish: ours and theirs per 100 g by nutrient, and why they may differ."""

    code: str
    name: str
    ours: Mapping[str, float]
    theirs: Mapping[str, float]
    reasons: tuple[str, ...]

    def off(self, tag: str) -> float:
        """Difference as a share of theirs."""
        return abs(self.ours[tag] - self.theirs[tag]) / max(self.theirs[tag], _LEAST[tag])

    @property
    def worst(self) -> float:
        """The largest of the three."""
        return max(self.off(tag) for tag in TAGS)

    @property
    def close(self) -> bool:
        """Whether all three lie within a tenth."""
        return all(self.agrees(tag) for tag in TAGS)

    def agrees(self, tag: str) -> bool:
        """Whether one lies within a tenth."""
        return self.off(tag) <= _CLOSE


def compare(folder: Path, *, as_water: bool) -> list[Difference]:
    """Every dish of the folder that has lines and a composition."""
    units = None if as_water else unit_weights(folder / "household_units.csv")
    lines: dict[str, list[Mapping[str, str]]] = {}
    for row in _rows(folder / "ingredient_lines.csv"):
        lines.setdefault(row["recipe_code"], []).append(row)
    book = {row["food_code"]: row for row in _rows(folder / "composition_per_100g.csv")}
    return [_difference(book[code], lines[code], units) for code in sorted(book.keys() & lines.keys())]


def _rows(path: Path) -> list[Mapping[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


Units = Mapping[tuple[str, str], float]


def _difference(theirs: Mapping[str, str], lines: Iterable[Mapping[str, str]], units: Units | None) -> Difference:
    total, mass, reasons = dict.fromkeys(TAGS, 0.0), 0.0, list[str]()
    for line in lines:
        weight = _weight(line, units, reasons)
        mass += weight
        _add(total, line, weight, reasons)
    per_100g = {tag: 100 * amount / mass if mass else 0.0 for tag, amount in total.items()}
    book = {tag: float(theirs[column] or 0) for tag, column in TAGS.items()}
    return Difference(theirs["food_code"], theirs["food_name"], per_100g, book, tuple(reasons))


def _weight(line: Mapping[str, str], units: Units | None, reasons: list[str]) -> float:
    amount, unit, code = float(line["amount"] or 0), line["unit"], line["food_code"]
    if units is not None and code and unit not in ("g", ""):
        said = _SAID.get(unit, unit)
        if (code, said) in units:
            return amount * units[code, said]
        try:
            return grams(f"{amount:g} {said}", code, "", Measures()).mean
        except ChaukaError:
            reasons.append(f"no weight of ours for {amount:g} {unit} of {line['food_name']}")
    if unit not in _AS_WATER_G:
        reasons.append(f"no unit: {amount:g} {line['ingredient_name_org']}")
    return amount * _AS_WATER_G.get(unit, 0.0)


def _add(total: dict[str, float], line: Mapping[str, str], weight: float, reasons: list[str]) -> None:
    code = line["food_code"]
    food = tables.foods().get(code)
    if food is None:
        reasons.append(
            f"{weight:.0f} g of {line['food_name']}: {'no food given' if not code else f'no food {code} here'}"
        )
        return
    for tag in TAGS:
        value = food.value(tag).mean
        if value is None:
            reasons.append(f"{tables.NUTRIENTS[tag].name} of {food.name} is unknown")
        total[tag] += (value or 0.0) * weight / 100


def report(found: Sequence[Difference]) -> dict[str, Any]:
    """Shares of dishes within a tenth, and the twenty worst."""
    worst = sorted(found, key=lambda d: -d.worst)[:20]
    return {
        "dishes": len(found),
        "share_within_10_percent": round(sum(d.close for d in found) / len(found), 3),
        "by_nutrient": {
            tag: round(sum(d.agrees(tag) for d in found) / len(found), 3) for tag in TAGS
        },
        "worst": [
            {
                "dish": f"{d.code} {d.name}",
                "ours": {t: round(v, 2) for t, v in d.ours.items()},
                "theirs": {t: round(v, 2) for t, v in d.theirs.items()},
                "reason": "; ".join(d.reasons) or "their figure does not follow from their lines and foods",
            }
            for d in worst
        ],
    }  # fmt: skip


def main() -> None:
    """Compare one folder."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("folder", type=Path)
    parser.add_argument("--spoons-as-water", action="store_true", help="a teaspoon of anything weighs 5 g")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    asked = parser.parse_args()
    result = report(compare(asked.folder, as_water=asked.spoons_as_water))
    if asked.json:
        print(json.dumps(result))
        return
    print(f"{result['dishes']} dishes, {result['share_within_10_percent']:.1%} within 10 % of all three")
    for dish in result["worst"]:
        print(f"{dish['dish']}: ours {dish['ours']}, theirs {dish['theirs']}: {dish['reason']}")


if __name__ == "__main__":
    main()
