"""How long it takes to work out very many dishes at once, against a plain loop over lines.

    python -m benchmarks.nutrient_batch [--dishes 100000] --json

Dishes of 12 lines and 40 nutrients, made up at random from 2,000 prepared foods. The loop adds line by line,
nutrient by nutrient, in plain Python over a part of the dishes, and its time is scaled to all.
"""

from __future__ import annotations

import argparse
import json
import time

import numpy as np

from chauka.composition.batch import Recipes, totals

_LINES, _NUTRIENTS, _FOODS, _LOOPED = 12, 40, 2_000, 1_000


def made_up(dishes: int, seed: int = 20251128) -> tuple[Recipes, np.ndarray]:
    """Random dishes, and what a gram of each food gives."""
    rng = np.random.default_rng(seed)
    lines = dishes * _LINES
    recipes = Recipes(np.arange(0, lines + 1, _LINES), rng.integers(0, _FOODS, lines), rng.gamma(1.0, 60.0, lines))
    return recipes, rng.random((_FOODS, _NUTRIENTS))


def looped(recipes: Recipes, per_gram: list[list[float]], dishes: int) -> list[list[float]]:
    """The same by a plain loop."""
    foods, grams, starts = recipes.foods.tolist(), recipes.grams.tolist(), recipes.starts.tolist()
    found = []
    for i in range(dishes):
        total = [0.0] * _NUTRIENTS
        for line in range(starts[i], starts[i + 1]):
            given = per_gram[foods[line]]
            for n in range(_NUTRIENTS):
                total[n] += grams[line] * given[n]
        found.append(total)
    return found


def main() -> None:
    """Time both."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--dishes", type=int, default=100_000)
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    asked = parser.parse_args()
    recipes, per_gram = made_up(asked.dishes)
    start = time.perf_counter()
    found = totals(recipes, per_gram)
    seconds = time.perf_counter() - start
    part, plain = min(_LOOPED, asked.dishes), per_gram.tolist()
    start = time.perf_counter()
    checked = looped(recipes, plain, part)
    loop_seconds = (time.perf_counter() - start) * asked.dishes / part
    if not np.allclose(found[:part], checked):
        raise SystemExit("the two ways differ")
    result = {
        "dishes": asked.dishes,
        "seconds": round(seconds, 3),
        "loop_seconds": round(loop_seconds, 1),
        "speedup_over_loop": round(loop_seconds / seconds, 1),
    }
    print(json.dumps(result) if asked.json else result)


if __name__ == "__main__":
    main()
