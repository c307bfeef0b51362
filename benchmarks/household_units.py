"""Weights of household measures as a units table gives them, and what a gold line weighs by them.

Quirks of that table, taken as they are: rows without a food go on from the row above; "1 no" and
"1 medium" are one piece; a tomato of 50 g and a lemon of 30 g are its own. Rows whose weight is itself
a measure ("1 pinch = 0.25 tsp") give no grams and are not used.
"""

from __future__ import annotations

import csv
import re
from collections.abc import Mapping
from pathlib import Path

from chauka.reading import match_food, read_line

_UNITS = {"cup": "cup", "tbsp": "tbsp", "tsp": "tsp", "no": "piece", "nos": "piece", "medium": "piece",
    "small": "small",
          "inch": "inch", "clove": "clove", "stick": "stick", "slice": "slice"}  # fmt: skip
_MEASURE = re.compile(r"([\d.]+)\s*([a-z]+)\s*(?:\(.*\))?\s*$")
_GRAMS = re.compile(r"([\d.]+)\s*g\s*$")
_READ_UNITS = {"cup": "cup", "tablespoon": "tbsp", "teaspoon": "tsp", None: "piece", "inch": "inch", "clove": "clove",
               "stick": "stick", "slice": "slice"}  # fmt: skip


def unit_weights(path: Path) -> Mapping[tuple[str, str], float]:
    """Grams of one measure by food code and measure."""
    found: dict[tuple[str, str], float] = {}
    food = ""
    with path.open(encoding="utf-8-sig", newline="") as file:
        for row in list(csv.reader(file))[1:]:
            name, measure, weight = (cell.strip().lower() for cell in row[:3])
            food = name or food
            said, grams = _MEASURE.match(measure.rstrip(".")), _GRAMS.match(weight)
            match = match_food(re.sub(r",? raw\b", "", food))
            if said and grams and match.best and said[2].rstrip("s") in {u.rstrip("s") for u in _UNITS}:
                unit = next(u for word, u in _UNITS.items() if word.rstrip("s") == said[2].rstrip("s"))
                found.setdefault((match.best.code, unit), float(grams[1]) / float(said[1]))
    return found


def line_grams(row: Mapping[str, str], weights: Mapping[tuple[str, str], float]) -> float | None:
    """What the gold line weighs by the table; None where the table does not give it."""
    line = read_line(f"{row['amount_org']} {row['unit_org']} {row['ingredient_name_org']}")
    if line.low is None or line.high is None or line.unit not in _READ_UNITS:
        return None
    unit = "small" if line.unit is None and line.size == "small" else _READ_UNITS[line.unit]
    if line.size in ("large", "big"):
        return None
    one = weights.get((row["food_code"], unit))
    return one * (line.low + line.high) / 2 if one else None
