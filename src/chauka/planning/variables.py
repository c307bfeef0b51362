"""The unknowns of the plan, each as a column of the linear programme."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from chauka.planning.highs import Lp
from chauka.planning.problem import Problem


@dataclass(frozen=True, slots=True)
class Window:
    """The slots in which one item can come from exactly the same sources: one balance for them all."""

    item: int
    sources: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Variables:
    """Column indices; grams flow in grams, shares in per cent.

    `cook` and `eat` are 0 or 1 (a fresh eating is its cooking's column), `packs` whole numbers (None
    for stock), `flow[source, window]` grams taken from a source in a window, `left` grams that stay
    in a source, `ready_left` portions of a finished batch not eaten, `empty` 1 where a position stays
    empty, `served[recipe, eaters]` in how many slots with those eaters a recipe is eaten,
    `total[nutrient, eaters]` what an adult portion gets there.
    """

    cook: tuple[int, ...]
    eat: tuple[int, ...]
    packs: tuple[int | None, ...]
    windows: tuple[Window, ...]
    window_of: dict[tuple[int, int], int]
    flow: dict[tuple[int, int], int]
    left: tuple[int, ...]
    ready_left: dict[int, int]
    empty: dict[tuple[int, int], int]
    served: dict[tuple[int, tuple[int, ...]], int]
    total: dict[tuple[int, tuple[int, ...]], int]
    off_target: tuple[int, ...]
    over: dict[int, int]
    touched: dict[tuple[int, int], int]
    lacking: tuple[int, ...]
    unmet: dict[int, int]


def add_variables(lp: Lp, problem: Problem) -> Variables:
    """Add every column of the model."""
    cook = tuple(lp.column(1.0 if c.ready else 0.0, 1.0, whole=True) for c in problem.cookings)
    windows, window_of = find_windows(problem)
    return Variables(
        cook=cook,
        eat=tuple(cook[e.cooking] if problem.is_fresh(e) else lp.column(0, 1, whole=True) for e in problem.eatings),
        packs=tuple(None if s.stock else lp.column(0, s.most, whole=True) for s in problem.sources),
        windows=windows,
        window_of=window_of,
        flow={(s, w): lp.column() for w, window in enumerate(windows) for s in window.sources},
        left=tuple(lp.column() for _ in problem.sources),
        ready_left={c: lp.column() for c, cooking in enumerate(problem.cookings) if cooking.ready},
        empty={(s, p): lp.column(0, 1) for s, slot in enumerate(problem.slots) for p in range(len(slot.places))},
        served={
            key: lp.column()
            for key in sorted(
                {(problem.cookings[e.cooking].recipe, problem.slots[e.slot].eaters) for e in problem.eatings}
            )
        },
        total={
            (n, eaters): lp.column()
            for n in sorted({t.nutrient for t in problem.targets})
            for eaters in sorted({s.eaters for s in problem.slots})
        },
        off_target=tuple(lp.column() for _ in problem.targets),
        over={k: lp.column() for k, limit in enumerate(problem.limits) if limit.weight is not None},
        touched={(a, g): lp.column(0, 1) for a, among in enumerate(problem.among) for g in range(len(among.groups))},
        lacking=tuple(lp.column() for _ in problem.among),
        unmet={w: lp.column(0, 1) for w, wish in enumerate(problem.wishes) if wish.weight is not None},
    )


def find_windows(problem: Problem) -> tuple[tuple[Window, ...], dict[tuple[int, int], int]]:
    """Merge the slots in which an item has the same living sources; the merging loses nothing.

    Returns the windows and, for each (item, slot) that is drawn from, the window it falls in.
    """
    drawn = sorted({(need.item, need.slot) for c in problem.cookings for need in c.needs})
    sources_of = defaultdict[int, list[int]](list)
    for s, source in enumerate(problem.sources):
        for item in source.items:
            sources_of[item].append(s)
    windows, index, window_of = list[Window](), dict[Window, int](), dict[tuple[int, int], int]()
    for item, slot in drawn:
        living = tuple(s for s in sources_of[item] if problem.sources[s].first <= slot <= problem.sources[s].last)
        window = Window(item, living)
        if window not in index:
            index[window] = len(windows)
            windows.append(window)
        window_of[item, slot] = index[window]
    return tuple(windows), window_of
