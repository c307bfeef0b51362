"""The rules of the plan, one small function each; the formula stands in the docstring.

x: cook, z: eat, n: packs, f: grams from a source in a window, l: grams left, e: empty positions.
"""

from __future__ import annotations

import math
from collections import defaultdict

from chauka.planning.highs import Lp
from chauka.planning.problem import Eating, Problem
from chauka.planning.variables import Variables

MG_PER_G = 1000
INF = math.inf
Row = defaultdict[int, float]


def add_constraints(lp: Lp, problem: Problem, v: Variables) -> None:
    """Add every rule."""
    positions_filled_once(lp, problem, v)
    eaten_only_if_cooked(lp, problem, v)
    servings_per_cooking(lp, problem, v)
    finished_batches(lp, problem, v)
    minutes(lp, problem, v)
    loads(lp, problem, v)
    window_balance(lp, problem, v)
    source_balance(lp, problem, v)
    whole_packs(lp, problem, v)
    budget(lp, problem, v)
    servings(lp, problem, v)
    nutrient_totals(lp, problem, v)
    targets(lp, problem, v)
    limits(lp, problem, v)
    variety(lp, problem, v)
    wishes(lp, problem, v)


def positions_filled_once(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ z of what fills the position + e = 1."""
    rows = defaultdict[tuple[int, int], Row](lambda: Row(float))
    for k, e in enumerate(problem.eatings):
        for place in e.places:
            rows[e.slot, place][v.eat[k]] += 1
    for key, column in v.empty.items():
        lp.row("position", 1, {**rows[key], column: 1}, 1)


def eaten_only_if_cooked(lp: Lp, problem: Problem, v: Variables) -> None:
    """z ≤ x for each eating of a recipe that is made ahead."""
    for k, e in enumerate(problem.eatings):
        if v.eat[k] != v.cook[e.cooking] and problem.recipes[problem.cookings[e.cooking].recipe].ahead:
            lp.row("eat what is cooked", -INF, {v.eat[k]: 1, v.cook[e.cooking]: -1}, 0)


def servings_per_cooking(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ z ≤ (servings one cooking may feed) · x; a fresh eating is one of them; ahead: x ≤ Σ z."""
    rows = defaultdict[int, Row](lambda: Row(float))
    for k, e in enumerate(problem.eatings):
        if v.eat[k] != v.cook[e.cooking]:
            rows[e.cooking][v.eat[k]] += 1
    for c, row in rows.items():
        recipe = problem.recipes[problem.cookings[c].recipe]
        if problem.cookings[c].ready is not None:
            continue
        most = recipe.most_servings - (0 if recipe.ahead else 1)
        lp.row("servings of a cooking", -INF, {**row, v.cook[c]: -most}, 0)
        if recipe.ahead:
            lp.row("nothing is cooked for nobody", 0, {**row, v.cook[c]: -1}, INF)


def finished_batches(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ portions eaten + left = portions ready [%]."""
    for c, column in v.ready_left.items():
        row: Row = Row(float, {column: 1})
        for k, e in enumerate(problem.eatings):
            if e.cooking == c:
                row[v.eat[k]] += problem.portions(e)
        ready = problem.cookings[c].ready or 0
        lp.row("finished batch", ready, row, ready)


def minutes(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ minutes · x + Σ minutes · z ≤ minutes of the slot."""
    rows = defaultdict[int, Row](lambda: Row(float))
    for c, cooking in enumerate(problem.cookings):
        if cooking.minutes:
            rows[cooking.slot][v.cook[c]] += cooking.minutes
    for k, e in enumerate(problem.eatings):
        if e.minutes:
            rows[e.slot][v.eat[k]] += e.minutes
        if e.cook_minutes:
            rows[problem.cookings[e.cooking].slot][v.eat[k]] += e.cook_minutes
    for slot, row in sorted(rows.items()):
        if slot >= 0:
            lp.row("minutes", -INF, row, problem.slots[slot].minutes)


def loads(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ load · x ≤ capacity, for each burner and vessel of a slot."""
    for load in problem.loads:
        row: Row = Row(float)
        for c, amount in load.uses:
            row[v.cook[c]] += amount
        lp.row("vessels", -INF, row, load.at_most)


def window_balance(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ f from the living sources = Σ grams needed by what is eaten, for each window of an item."""
    rows = [Row(float) for _ in v.windows]
    for k, e in enumerate(problem.eatings):
        for need in problem.cookings[e.cooking].needs:
            rows[v.window_of[need.item, need.slot]][v.eat[k]] -= grams(problem, e, need.mg)
    for w, row in enumerate(rows):
        for s in v.windows[w].sources:
            row[v.flow[s, w]] += 1
        lp.row("item", 0, row, 0)


def source_balance(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ f out + l = grams of the pack · n (of the lot, for stock)."""
    rows: list[Row] = [Row(float, {left: 1}) for left in v.left]
    for (s, _), column in v.flow.items():
        rows[s][column] += 1
    for s, source in enumerate(problem.sources):
        pack, packs = source.pack_mg / MG_PER_G, v.packs[s]
        if packs is None:
            lp.row("lot", pack, rows[s], pack)
        else:
            lp.row("packs", 0, {**rows[s], packs: -pack}, 0)


def whole_packs(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ n of the living packs ≥ k₁·Σ x + (k₂ − k₁)·Σ z, over cookings of which one at most happens.

    k₁ = ⌈(grams eaten fresh − living stock) ÷ pack⌉, k₂ the same with one later eating. Implied by the
    balances for whole x and z, but not for fractions: it says that half a dish still takes a whole
    bunch. This is where most of the gap is closed.
    """
    at_most_one = _at_most_one(problem)
    later = _later_eatings(problem, v)
    groups = defaultdict[tuple[int, int], list[tuple[int, dict[int, float]]]](list)
    for c, cooking in enumerate(problem.cookings):
        for need in cooking.needs:
            window = v.window_of[need.item, need.slot]
            terms = _packs_forced(problem, v, c, later[c], window=window, mg=need.mg)
            if terms:
                groups[cooking.recipe, window].append((c, terms))
    for (_, window), members in groups.items():
        cooked = {c for c, _ in members}
        together = any(cooked <= group for group in at_most_one[members[0][0]])
        for some in [members] if together else [[m] for m in members]:
            row: Row = Row(float)
            for _, terms in some:
                row.update({column: -packs for column, packs in terms.items()})
            for s in v.windows[window].sources:
                column = v.packs[s]
                if column is not None:
                    row[column] += 1
            lp.row("whole packs", 0, row, INF)


def _at_most_one(problem: Problem) -> dict[int, list[frozenset[int]]]:
    """For each cooking the groups it stands in of which at most one happens."""
    groups = defaultdict[int, list[frozenset[int]]](list)
    for limit in problem.limits:
        if limit.at_most == 1 and limit.weight is None:
            together = frozenset(limit.cookings)
            for c in limit.cookings:
                groups[c].append(together)
    return groups


def _later_eatings(problem: Problem, v: Variables) -> dict[int, list[int]]:
    """The leftovers that each cooking may leave."""
    later = defaultdict[int, list[int]](list)
    for k, e in enumerate(problem.eatings):
        if v.eat[k] != v.cook[e.cooking] and not problem.recipes[problem.cookings[e.cooking].recipe].ahead:
            later[e.cooking].append(k)
    return later


def _packs_forced(
    problem: Problem, v: Variables, c: int, later: list[int], *, window: int, mg: int
) -> dict[int, float]:
    """Packs that a cooking forces, and that each later eating forces beyond; by column."""
    cooking = problem.cookings[c]
    if problem.recipes[cooking.recipe].ahead or cooking.slot < 0:
        portions = min((s.portions for s in problem.slots), default=0)
    else:
        portions = problem.slots[cooking.slot].portions
    living = [problem.sources[s] for s in v.windows[window].sources]
    stock = sum(s.pack_mg for s in living if s.stock)
    largest = max((s.pack_mg for s in living if not s.stock), default=0)
    if not largest:
        return {}

    def packs(of_portions: int) -> int:
        short = mg * of_portions / 100 - stock
        return max(0, math.ceil(short / largest - 1e-9))

    fresh = packs(portions)
    more = {v.eat[k]: packs(portions + problem.portions(problem.eatings[k])) - fresh for k in later}
    one_later = problem.recipes[cooking.recipe].most_servings <= 2
    out = {v.cook[c]: float(fresh), **({k: float(n) for k, n in more.items()} if one_later else {})}
    return {column: n for column, n in out.items() if n > 0}


def budget(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ price · n ≤ budget."""
    if problem.budget is not None:
        row = {n: s.price for s, n in zip(problem.sources, v.packs, strict=True) if n is not None}
        lp.row("budget", -INF, row, problem.budget)


def servings(lp: Lp, problem: Problem, v: Variables) -> None:
    """served = Σ z of the recipe, over the slots with the same eaters; keeps the nutrient rows short."""
    rows = {key: Row(float, {column: -1}) for key, column in v.served.items()}
    for k, e in enumerate(problem.eatings):
        rows[problem.cookings[e.cooking].recipe, problem.slots[e.slot].eaters][v.eat[k]] += 1
    for row in rows.values():
        lp.row("servings", 0, row, 0)


def nutrient_totals(lp: Lp, problem: Problem, v: Variables) -> None:
    """total = Σ nutrient per portion · served, over the slots with the same eaters [nutrient's unit]."""
    for (nutrient, eaters), total in v.total.items():
        row: Row = Row(float, {total: -1})
        for (recipe, who), served in v.served.items():
            if who == eaters and problem.recipes[recipe].nutrients[nutrient]:
                row[served] += problem.recipes[recipe].nutrients[nutrient] / 1000
        lp.row("nutrient total", 0, row, 0)


def targets(lp: Lp, problem: Problem, v: Variables) -> None:
    """floor: 100 · intake ÷ amount + short ≥ 100; ceiling: 100 · intake ÷ amount − excess ≤ 100 [%]."""
    for t, target in enumerate(problem.targets):
        row: Row = Row(float)
        for (nutrient, eaters), column in v.total.items():
            if nutrient == target.nutrient and target.eater in eaters:
                row[column] += 1000 * target.portion / target.amount
        if target.floor:
            lp.row("floor", 100, {**row, v.off_target[t]: 1}, INF)
        else:
            lp.row("ceiling", -INF, {**row, v.off_target[t]: -1}, 100)


def limits(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ x + Σ z − over ≤ at most; `over` is missing where the limit is hard."""
    for k, limit in enumerate(problem.limits):
        row: Row = Row(float)
        for c in limit.cookings:
            row[v.cook[c]] += 1
        for e in limit.eatings:
            row[v.eat[e]] += 1
        if k in v.over:
            row[v.over[k]] -= 1
        lp.row(limit.name, -INF, row, limit.at_most)


def variety(lp: Lp, problem: Problem, v: Variables) -> None:
    """touched ≤ Σ x of the group; Σ touched + lacking ≥ at least."""
    for a, among in enumerate(problem.among):
        count: Row = Row(float, {v.lacking[a]: 1})
        for g, group in enumerate(among.groups):
            row: Row = Row(float, {v.touched[a, g]: -1})
            for c in group:
                row[v.cook[c]] += 1
            lp.row(among.name, 0, row, INF)
            count[v.touched[a, g]] = 1
        lp.row(among.name, among.at_least, count, INF)


def wishes(lp: Lp, problem: Problem, v: Variables) -> None:
    """Σ z of the recipes in the slot + unmet ≥ 1; `unmet` is missing where it is locked."""
    for w, wish in enumerate(problem.wishes):
        row: Row = Row(float)
        for k, e in enumerate(problem.eatings):
            if e.slot == wish.slot and problem.cookings[e.cooking].recipe in wish.recipes:
                row[v.eat[k]] += 1
        if w in v.unmet:
            row[v.unmet[w]] += 1
        lp.row("locked" if wish.weight is None else "wish", 1, row, INF)


def grams(problem: Problem, eating: Eating, mg: int) -> float:
    """Grams that one eating takes of a need of so many milligrams per portion."""
    return mg * problem.portions(eating) / 100 / MG_PER_G
