"""How the benchmarks of the planner print their figures."""

from __future__ import annotations

import json
from collections.abc import Mapping


def tell(figures: Mapping[str, float], *, as_json: bool, width: int = 24) -> None:
    """One JSON object, or a line for each figure with its name in words."""
    if as_json:
        print(json.dumps(figures))
        return
    for name, value in figures.items():
        print(f"{name.replace('_', ' '):{width}} {value:10.3f}")
