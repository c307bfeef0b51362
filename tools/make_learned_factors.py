"""Learn yields and retentions from foods measured raw and cooked.

    python tools/make_learned_factors.py raw_cooked_pairs_dev.csv raw_cooked_pairs_jp_dev.csv

From the first file alone (United States, SR28: public domain) come the tables learned_retention and
learned_yields of the package; from both come the parameters of the benchmark, which the package
does not carry. The method stands in benchmarks/shrinkage.py and docs/composition.md.
"""

from __future__ import annotations

import json
import math
import statistics
import sys
from collections.abc import Iterator, Sequence
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from benchmarks.cooked_pairs import PARAMETERS, errors, folds, held_out, parameters
from benchmarks.pairs import Value, read
from benchmarks.published import published_log_factor
from benchmarks.shrinkage import fit, solids_log_yield, widths

from chauka.composition.matrix import everyday_tags
from table_writing import read_card, write_table

_ALSO = {"CARTB": "VITA_RAE"}
"""Tags of ours that behave as a measured one where they were not measured: vitamin A of plants is carotene."""
_WITH_DRY_MATTER = {"WATER", "ENERC_KCAL", "ENERC", "CHOAVLDF", "PROCNT", "FAT", "FASAT", "FAMS", "FAPU", "FIBTG"}
"""What is itself dry matter: nothing to learn beyond the yield."""
_WIDEST = 0.7
"""Beyond a factor of two either way a spread says no more than "unknown"."""
_LEAST_FAMILIES_OF_CELL, _LEAST_FAMILIES_OF_TAG = 2, 5


def cells(values: Sequence[Value]) -> Iterator[Value]:
    """One value for each group and way that enough families stand behind."""
    found: dict[tuple[str, str], dict[str, Value]] = {}
    for v in values:
        found.setdefault((v.group, v.way), {})[v.cluster] = v
    for families in (found[key] for key in sorted(found)):
        if len(families) >= _LEAST_FAMILIES_OF_CELL:
            yield next(iter(families.values()))


def retention_rows(values: Sequence[Value]) -> Iterator[dict[str, str]]:
    """A row for each cell and each nutrient that enough families anywhere were measured for."""
    model = fit(values)
    span = widths([(v, e) for v, e, _ in errors(held_out(values, weighed=True))])
    tags = {
        t for t in {v.tag for v in values} if len({v.cluster for v in values if v.tag == t}) >= _LEAST_FAMILIES_OF_TAG
    }
    for cell in cells(values):
        for tag in sorted((tags & {*everyday_tags(), *_ALSO}) - _WITH_DRY_MATTER):
            here = Value("US", "", "", "", "", cell.group, cell.way, tag, 1.0, 1.0, None)
            behind = {v.cluster for v in values if (v.tag, v.group, v.way) == (tag, cell.group, cell.way)}
            row = {
                "group": str(cell.group),
                "way": str(cell.way),
                "factor": f"{math.exp(model.log_retention(here)):.3f}",
                "published": f"{math.exp(published_log_factor(here)):.2f}",
                "sd_log": f"{min(_WIDEST, span.sd(tag, cell.group, 'US')):.3f}",
                "families": str(len(behind)),
            }
            ours = [t for t in (tag, *({_ALSO.get(tag, "")} - tags)) if t in everyday_tags()]
            yield from ({**row, "tag": t} for t in dict.fromkeys(ours))


def yield_rows(values: Sequence[Value]) -> Iterator[dict[str, str]]:
    """A row for each cell whose water was measured."""
    model, part = fit(values), folds(values)
    once = list({v.pair: v for v in values if v.water}.values())
    models = {i: fit([v for v in values if part[v.cluster] != i]) for i in sorted(set(part.values()))}
    off = {v.pair: (solids_log_yield(v) or 0.0) - models[part[v.cluster]].log_yield(v) for v in once}
    for cell in cells(values):
        here = [v for v in once if (v.group, v.way) == (cell.group, cell.way)]
        alike = [v for v in once if v.group.state == cell.group.state]
        spread = 1.4826 * statistics.median(abs(off[v.pair]) for v in here if len(here) > 2) if len(here) > 2 else 0.0
        wide = 1.4826 * statistics.median(abs(off[v.pair]) for v in alike)
        any_food = Value("US", "", "", "", "", cell.group, cell.way, "WATER", 1.0, 1.0, None)
        yield {
            "group": str(cell.group),
            "way": str(cell.way),
            "yield_factor": f"{math.exp(model.log_yield(any_food)):.3f}",
            "sd_log": f"{max(spread, wide):.3f}",
            "families": str(len({v.cluster for v in here})),
        }


def main(us: Path, japan: Path) -> None:
    """Write the two tables and the parameters."""
    values = read(us)
    write_table("learned_retention", read_card("learned_retention")["columns"], list(retention_rows(values)))
    write_table("learned_yields", read_card("learned_yields")["columns"], list(yield_rows(values)))
    text = json.dumps(_rounded(parameters(values + read(japan))), indent=0, sort_keys=True, ensure_ascii=False)
    PARAMETERS.write_text(text + "\n", encoding="utf-8", newline="\n")


def _rounded(tree: object) -> object:
    if isinstance(tree, float):
        return round(tree, 4)
    if isinstance(tree, dict):
        return {str(k): _rounded(v) for k, v in tree.items()}
    return [_rounded(v) for v in tree] if isinstance(tree, list | tuple) else tree


if __name__ == "__main__":
    main(*(Path(name) for name in sys.argv[1:3]))
