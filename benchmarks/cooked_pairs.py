"""How far computed nutrients of cooked foods are from measured ones.

    python -m benchmarks.cooked_pairs CSV [--weighed] [--cross-validate DEV ...] --json

Parameters are those of benchmarks/cooked_pairs.json, learned from the two development files by
tools/make_learned_factors.py. A file whose families they were learned from must be scored with
`--cross-validate`, which learns ten times from the other families (of that file and of those named);
without it such a file is scored in sample, and the result says so.
"""

from __future__ import annotations

import argparse
import json
import math
import random
import statistics
from collections.abc import Sequence
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from benchmarks.pairs import Value, read, read_all
from benchmarks.published import published
from benchmarks.shrinkage import Model, Widths, fit, solids_log_yield, widths

PARAMETERS = Path(__file__).with_suffix(".json")
_FOLDS, _SEED = 10, 20251127


@dataclass(frozen=True, slots=True)
class Scored:
    """One value with what was computed for it; `half` is half the 90 % interval on the logarithm."""

    value: Value
    computed: float
    half: float

    @property
    def inside(self) -> bool:
        """Whether the 90 % interval holds the measured value."""
        return self.computed > 0 and abs(math.log(self.value.cooked / self.computed)) <= self.half


def counted(values: Sequence[Value]) -> list[Value]:
    """The values that count: all but water, and measured above nothing when cooked."""
    return [v for v in values if v.tag != "WATER" and v.cooked > 0]


def folds(values: Sequence[Value], count: int = _FOLDS) -> dict[str, int]:
    """Each family to one of `count` parts, at random with a fixed seed."""
    families = sorted({v.cluster for v in values})
    random.Random(_SEED).shuffle(families)
    return {family: i % count for i, family in enumerate(families)}


def held_out(values: Sequence[Value], *, weighed: bool) -> list[tuple[Value, float, int]]:
    """Each value as computed from other families, with its part."""
    part, found = folds(values), []
    for i in range(_FOLDS):
        model = fit([v for v in values if part[v.cluster] != i])
        found += [(v, model.predict(v, weighed=weighed), i) for v in counted(values) if part[v.cluster] == i]
    return found


def errors(predicted: Sequence[tuple[Value, float, int]]) -> list[tuple[Value, float, int]]:
    """Errors on the logarithm, where something was computed."""
    return [(v, math.log(v.cooked / p), i) for v, p, i in predicted if p > 0]


def cross_validated(values: Sequence[Value], *, weighed: bool) -> list[Scored]:
    """Every value from other families, and the interval from errors on still others."""
    predicted = held_out(values, weighed=weighed)
    off = errors(predicted)
    spans = [widths([(v, e) for v, e, j in off if j != i]) for i in range(_FOLDS)]
    return [Scored(v, p, spans[i].half(v.tag, v.group, v.origin)) for v, p, i in predicted]


def with_parameters(values: Sequence[Value], *, weighed: bool) -> list[Scored]:
    """Every value with the stored parameters."""
    stored = json.loads(PARAMETERS.read_text(encoding="utf-8"))
    learned = stored["model"]
    levels = {name: tuple(learned[name]) for name in ("yields", "retentions")}
    model = Model(**(learned | levels))
    span = Widths(**stored["widths_weighed" if weighed else "widths_estimated"])
    return [Scored(v, model.predict(v, weighed=weighed), span.half(v.tag, v.group, v.origin)) for v in counted(values)]


def parameters(values: Sequence[Value]) -> dict[str, Any]:
    """What is stored: the model learned from all values, and widths from cross-validated errors."""
    spans = {
        name: asdict(widths([(v, e) for v, e, _ in errors(held_out(values, weighed=weighed))]))
        for name, weighed in (("widths_estimated", False), ("widths_weighed", True))
    }
    return {"families": sorted({v.cluster for v in values}), "model": asdict(fit(values)), **spans}


def off_percent(computed: float, measured: float) -> float:
    """Absolute error in per cent of the measured value."""
    return 100 * abs(computed - measured) / measured


def report(scored: Sequence[Scored], *, weighed: bool) -> dict[str, Any]:
    """Medians over all values, and by nutrient."""
    by_tag: dict[str, list[Scored]] = {}
    for s in scored:
        by_tag.setdefault(s.value.tag, []).append(s)
    by_book = [
        off_percent(
            published(s.value, weighed_log_yield=solids_log_yield(s.value) if weighed else None), s.value.cooked
        )
        for s in scored
    ]
    return {
        "rows": len(scored),
        "pairs": len({s.value.pair for s in scored}),
        "median_ape_percent": _median([off_percent(s.computed, s.value.cooked) for s in scored]),
        "naive_median_ape_percent": _median([off_percent(s.value.raw, s.value.cooked) for s in scored]),
        "published_median_ape_percent": _median(by_book),
        "coverage_90": round(sum(s.inside for s in scored) / len(scored), 3),
        "by_nutrient": {tag: _of_tag(of_it) for tag, of_it in sorted(by_tag.items())},
    }


def _of_tag(scored: Sequence[Scored]) -> dict[str, float]:
    return {
        "rows": len(scored),
        "median_ape_percent": _median([off_percent(s.computed, s.value.cooked) for s in scored]),
        "coverage_90": round(sum(s.inside for s in scored) / len(scored), 3),
    }


def _median(values: Sequence[float]) -> float:
    return round(statistics.median(values), 2)


def main() -> None:
    """Score one file."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("csv", type=Path)
    parser.add_argument("--weighed", action="store_true", help="the cooked weight is known, from the dry matter")
    parser.add_argument("--cross-validate", nargs="*", type=Path, metavar="DEV", help="learn from other families only")
    parser.add_argument("--json", action="store_true", help="print one JSON object")
    asked = parser.parse_args()
    values = read(asked.csv)
    if not counted(values):
        parser.error(f"{asked.csv} holds no vegetarian food measured raw and cooked")
    if asked.cross_validate is None:
        scored, seen = with_parameters(values, weighed=asked.weighed), _seen(values)
        how = f"stored parameters; {seen} of its families were learned from" if seen else "stored parameters, unseen"
    else:
        pool = values + read_all(path for path in asked.cross_validate if path.resolve() != asked.csv.resolve())
        own = {v.pair for v in values}
        scored = [s for s in cross_validated(pool, weighed=asked.weighed) if s.value.pair in own]
        how = "cross-validated over families"
    result = {**report(scored, weighed=asked.weighed), "how": how}
    if asked.json:
        print(json.dumps(result))
    else:
        for name, value in result.items():
            print(f"{name}: {value}")


def _seen(values: Sequence[Value]) -> int:
    learned = set(json.loads(PARAMETERS.read_text(encoding="utf-8"))["families"])
    return len(learned & {v.cluster for v in values})


if __name__ == "__main__":
    main()
