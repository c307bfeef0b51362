"""How well food words are matched, and how near the grams come, on a folder of gold lines.

    python -m benchmarks.food_matching FOLDER [--json] [--misses N]

FOLDER holds `ingredient_lines.csv` (ingredient_name_org, amount_org, unit_org, food_code …) and
`household_units.csv` (food, measure, weight). What counts:

- A plain fat ("Oil", "Fat", "Fat for frying") counts as right when ours is the fat that the house
  fries in: the gold names one arbitrary member of the pair.
- Lines whose gold code no table here carries, and lines whose gold is plainly wrong
  (`food_matching_wrong_gold.csv`, each with its reason) are left out and counted; `all_lines` gives
  the same figures with nothing left out.
- "Confident" is `FoodMatch.sure`: taken without asking.
- Grams: lines in cups, spoons or pieces for which the units table gives the weight of that measure of
  that food; its cup is 240 ml. The median of |ours − theirs| ÷ theirs.
"""

from __future__ import annotations

import csv
import json
import sys
import time
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from statistics import median

import click

from benchmarks.household_units import line_grams, unit_weights
from chauka import tables
from chauka.kitchen import Measures
from chauka.reading import match_food, read_line
from chauka.reading.foods import FoodMatch, is_any_fat

HOUSE_FAT = "T508"
MEASURES = Measures(cup_ml=240.0, tablespoon_ml=15.0, teaspoon_ml=5.0)


def main(folder: Path, *, misses: int = 0) -> dict[str, object]:
    """All figures for one folder."""
    lines = [row for row in _rows(folder / "ingredient_lines.csv") if row["food_code"]]
    wrong = {
        (row["name"].strip().lower(), row["gold"])
        for row in _rows(Path(__file__).parent / "food_matching_wrong_gold.csv")
    }
    match_food("water")
    read_line("1 cup water")
    start = time.perf_counter()
    found = [_read_and_match(row) for row in lines]
    seconds = time.perf_counter() - start
    kept = [
        (row, match)
        for row, match in zip(lines, found, strict=True)
        if row["food_code"] in tables.foods()
        and (row["ingredient_name_org"].strip().lower(), row["food_code"]) not in wrong
    ]
    _print_misses(kept, misses)
    errors = list(_gram_errors(lines, unit_weights(folder / "household_units.csv")))
    return {
        "lines": len(kept),
        **_figures(kept),
        "median_gram_error_percent": round(100 * median(errors), 2) if errors else None,
        "gram_lines": len(errors),
        "lines_per_second": round(len(lines) / seconds),
        "left_out": len(lines) - len(kept),
        "all_lines": {"lines": len(lines), **_figures(list(zip(lines, found, strict=True)))},
    }


def _rows(path: Path) -> list[dict[str, str]]:
    with path.open(encoding="utf-8-sig", newline="") as file:
        return list(csv.DictReader(file))


def _read_and_match(row: Mapping[str, str]) -> FoodMatch:
    """The line as one would write it, read; then its food words as the source gives them, matched."""
    read_line(f"{row['amount_org']} {row['unit_org']} {row['ingredient_name_org']}")
    return match_food(row["ingredient_name_org"].strip(), frying_fat=HOUSE_FAT)


def _right(row: Mapping[str, str], code: str) -> bool:
    if code == row["food_code"]:
        return True
    fat = row["food_code"] in tables.foods() and tables.food(row["food_code"]).group == "Edible Oils and Fats"
    return code == HOUSE_FAT and fat and is_any_fat(row["ingredient_name_org"])


def _figures(kept: list[tuple[dict[str, str], FoodMatch]]) -> dict[str, float]:
    top1 = sum(bool(m.best) and _right(row, m.best.code) for row, m in kept if m.best)
    top3 = sum(any(_right(row, c.code) for c in m.candidates[:3]) for row, m in kept)
    confident = sum(m.sure and not (m.best and _right(row, m.best.code)) for row, m in kept)
    total = max(len(kept), 1)
    return {
        "top1": round(top1 / total, 4),
        "top3": round(top3 / total, 4),
        "confident_wrong": round(confident / total, 4),
    }


def _gram_errors(lines: list[dict[str, str]], weights: Mapping[tuple[str, str], float]) -> Iterator[float]:
    for row in lines:
        gold = line_grams(row, weights)
        ours = _our_grams(row) if gold else None
        if gold and ours is not None:
            yield abs(ours - gold) / gold


def _our_grams(row: Mapping[str, str]) -> float | None:
    from chauka.reading.weigh import weigh_line  # noqa: PLC0415 - only this measurement weighs

    line = read_line(f"{row['amount_org']} {row['unit_org']} {row['ingredient_name_org']}")
    weight = weigh_line(line, row["food_code"], MEASURES)
    return weight.grams.mean if weight.grams else None


def _print_misses(kept: list[tuple[dict[str, str], FoodMatch]], most: int) -> None:
    missed = Counter(
        (row["ingredient_name_org"].strip(), row["food_code"], m.best.code if m.best else "", m.sure)
        for row, m in kept
        if not (m.best and _right(row, m.best.code))
    )
    for (name, gold, ours, sure), count in missed.most_common(most):
        print(f"{count:4d} {name!r}: gold {gold}, ours {ours}{' (sure)' if sure else ''}", file=sys.stderr)


@click.command()
@click.argument("folder", type=click.Path(exists=True, file_okay=False, path_type=Path))
@click.option("--json", "as_json", is_flag=True, help="One JSON object.")
@click.option("--misses", default=0, help="Print the commonest misses on stderr.")
def command(folder: Path, *, as_json: bool, misses: int) -> None:
    """Match the gold lines of FOLDER."""
    figures = main(folder, misses=misses)
    print(json.dumps(figures) if as_json else "\n".join(f"{key}: {value}" for key, value in figures.items()))


if __name__ == "__main__":
    command()
