"""Rules of variety as limits on cookings and eatings; they know indices only."""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace

from chauka.planning.problem import Cooking, Eating, Limit, Problem, Slot, Source


def once_in_days(
    slots: Sequence[Slot],
    cookings: Sequence[Cooking],
    *,
    days: int,
    exempt: frozenset[int],
    same: Mapping[int, int] | None = None,
) -> Iterator[Limit]:
    """No recipe is cooked twice within `days` days; `exempt` recipes may come daily.

    `same` maps recipes that are one dish to one number. Only windows that no other window contains are
    given, so that each rule stands once.
    """
    by_recipe = defaultdict[int, list[int]](list)
    for c, cooking in enumerate(cookings):
        if cooking.ready is None and cooking.recipe not in exempt:
            by_recipe[(same or {}).get(cooking.recipe, cooking.recipe)].append(c)
    last = max((s.day for s in slots), default=0)
    for recipe, members in sorted(by_recipe.items()):
        seen = list[frozenset[int]]()
        for first in range(max(1, last - days + 2)):
            window = frozenset(c for c in members if first <= slots[cookings[c].slot].day < first + days)
            if len(window) > 1 and not any(window <= other for other in seen):
                seen.append(window)
                yield Limit(f"recipe {recipe} once in {days} days", 1, cookings=tuple(sorted(window)))


def base_once_a_day(
    slots: Sequence[Slot],
    cookings: Sequence[Cooking],
    eatings: Sequence[Eating],
    base: Mapping[int, str],
    weight: int,
) -> Iterator[Limit]:
    """The same base food is eaten once a day; each time more costs `weight`."""
    by_day = defaultdict[tuple[str, int], list[int]](list)
    for e, eating in enumerate(eatings):
        recipe = cookings[eating.cooking].recipe
        if recipe in base:
            by_day[base[recipe], slots[eating.slot].day].append(e)
    for (food, day), members in sorted(by_day.items()):
        if len({eatings[e].slot for e in members}) > 1 or len(members) > 1:
            yield Limit(f"{food} twice on day {day}", 1, eatings=tuple(members), weight=weight)


def not_running(
    slots: Sequence[Slot], cookings: Sequence[Cooking], recipes: frozenset[int], *, days: int, weight: int, name: str
) -> Iterator[Limit]:
    """These recipes together do not come on `days` days running; each time more costs `weight`."""
    last = max((s.day for s in slots), default=0)
    members = [c for c, k in enumerate(cookings) if k.recipe in recipes and k.ready is None]
    for first in range(last - days + 2):
        window = tuple(c for c in members if first <= slots[cookings[c].slot].day < first + days)
        if len(window) >= days:
            yield Limit(f"{name} {days} days running", days - 1, cookings=window, weight=weight)


def with_most_packs(problem: Problem) -> Problem:
    """The problem with `most` of each source cut to what could sensibly be drawn from it."""
    most_mg = defaultdict[tuple[int, int], float](float)
    for e in problem.eatings:
        for need in problem.cookings[e.cooking].needs:
            key = (need.item, e.slot)
            most_mg[key] = max(most_mg[key], need.mg * problem.portions(e) / 100)
    by_item = defaultdict[int, float](float)
    for (item, _), mg in most_mg.items():
        by_item[item] += mg

    def cut(source: Source) -> Source:
        return source if source.stock else replace(source, most=_packs(by_item, source))

    return replace(problem, sources=tuple(cut(s) for s in problem.sources))


def _packs(by_item: Mapping[int, float], source: Source) -> int:
    return math.ceil(sum(by_item.get(i, 0.0) for i in source.items) / source.pack_mg)
