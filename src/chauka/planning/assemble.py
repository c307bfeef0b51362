"""From a solution's indices back to the table plan: batches, servings, purchases, draws and what is left."""

from __future__ import annotations

from collections import defaultdict
from datetime import timedelta
from types import MappingProxyType

from chauka.kitchen import Batch, Draw, LeftOver, Proof, Purchase, Serving, Shortfall, TablePlan
from chauka.planning.build import Built
from chauka.planning.solve import Result

CRUMB_MG = 500
"""Less than this is not worth a line."""


def assemble(built: Built, result: Result) -> TablePlan:
    """The table plan of a result."""
    batches = _batches(built, result)
    servings = _servings(built, result, batches)
    purchase_ids = _purchase_ids(built, result)
    draws, left_mg = _draws(built, result, batches, purchase_ids)
    solution = result.solution
    return TablePlan(
        start=built.start,
        days=built.days,
        sittings=built.sittings,
        batches=tuple(batches[c] for c in sorted(batches)),
        servings=servings,
        purchases=_purchases(built, result, purchase_ids, draws),
        draws=draws,
        left_over=(*_left_over(built, purchase_ids, left_mg), *_left_batches(built, result)),
        shortfalls=tuple(
            Shortfall(built.problem.eaters[t.eater], built.problem.nutrients[t.nutrient], share)
            for t, share in zip(built.problem.targets, solution.shares, strict=True)
        ),
        proof=Proof(
            value=solution.value,
            bound=result.bound,
            seconds=result.seconds,
            status=result.status,
            terms=MappingProxyType({term.value: amount for term, amount in solution.terms.items()}),
        ),
    )


def _eaten(built: Built, result: Result) -> dict[int, int]:
    """Portions [% of one] eaten of each cooking."""
    problem, portions = built.problem, defaultdict[int, int](int)
    for e in result.solution.choice.eatings:
        portions[problem.eatings[e].cooking] += problem.portions(problem.eatings[e])
    return portions


def _batches(built: Built, result: Result) -> dict[int, Batch]:
    problem, eaten = built.problem, _eaten(built, result)
    cooked = [c for c in eaten if problem.cookings[c].ready is None]
    out = dict[int, Batch]()
    for k, c in enumerate(sorted(cooked, key=lambda c: (problem.cookings[c].slot, c)), start=1):
        cooking = problem.cookings[c]
        helping, sitting = built.menu.helpings[cooking.recipe], built.sittings[cooking.slot]
        portions = helping.count * eaten[c] / 100
        out[c] = Batch(f"b{k}", helping.dish.id, sitting.day, sitting.meal, portions, helping.swaps)
    return out


def _servings(built: Built, result: Result, batches: dict[int, Batch]) -> tuple[Serving, ...]:
    problem, out = built.problem, list[tuple[tuple[int, tuple[int, ...]], Serving]]()
    for e in result.solution.choice.eatings:
        eating = problem.eatings[e]
        helping = built.menu.helpings[problem.cookings[eating.cooking].recipe]
        dish, sitting = helping.dish, built.sittings[eating.slot]
        batch, lot = batches.get(eating.cooking), built.menu.lots.get(eating.cooking)
        serving = Serving(
            sitting.day,
            sitting.meal,
            dish.course,
            dish.id,
            helping.count * problem.portions(eating) / 100,
            batch.id if batch else None,
            lot.id if lot else None,
            built.mild(dish, eating.slot) if batch else (),
        )
        out.append(((eating.slot, eating.places), serving))
    return tuple(serving for _, serving in sorted(out, key=lambda x: x[0]))


def _purchase_ids(built: Built, result: Result) -> dict[int, str]:
    bought = sorted(result.solution.choice.packs, key=lambda s: (built.problem.sources[s].first, s))
    return {s: f"p{k}" for k, s in enumerate(bought, start=1)}


def _draws(
    built: Built, result: Result, batches: dict[int, Batch], purchase_ids: dict[int, str]
) -> tuple[tuple[Draw, ...], list[float]]:
    """First expired, first out: each need in order of time, from the living source that goes off first.

    For one item this order fits whenever any order does; where a lot serves several forms, the
    solver's own flow would be needed, and the first form in time is served first.
    """
    problem, left = built.problem, list[float]()
    for s, source in enumerate(problem.sources):
        packs = 1 if source.stock else result.solution.choice.packs.get(s, 0)
        left.append(float(source.pack_mg * packs))
    eaten = _eaten(built, result)
    needs = [(need.slot, c, need.item, need.mg * eaten[c] / 100) for c in batches for need in problem.cookings[c].needs]
    order = sorted(
        range(len(left)),
        key=lambda s: (problem.sources[s].last, problem.sources[s].carry / problem.sources[s].pack_mg, s),
    )
    out = list[Draw]()
    for slot, c, item, wanted in sorted(needs):
        mg = wanted
        for s in order:
            source = problem.sources[s]
            if mg > 0 and item in source.items and source.first <= slot <= source.last and left[s] > 0:
                take = min(mg, left[s])
                left[s] -= take
                mg -= take
                name = source.name if source.stock else purchase_ids[s]
                out.append(Draw(name, batches[c].id, built.supply.food_of(item), take / 1000))
    return tuple(out), left


def _purchases(
    built: Built, result: Result, purchase_ids: dict[int, str], draws: tuple[Draw, ...]
) -> tuple[Purchase, ...]:
    feeds = defaultdict[str, list[str]](list)
    for draw in draws:
        if draw.batch not in feeds[draw.source]:
            feeds[draw.source].append(draw.batch)
    out = []
    for s, name in purchase_ids.items():
        origin, source, packs = built.supply.origins[s], built.problem.sources[s], result.solution.choice.packs[s]
        if origin.offer is not None and origin.day is not None:
            out.append(
                Purchase(
                    id=name,
                    day=origin.day,
                    food=origin.offer.food,
                    pack=origin.offer.pack,
                    packs=packs,
                    grams=origin.offer.grams * packs,
                    edible_g=source.pack_mg * packs / 1000,
                    cost=source.price * packs,
                    stall=origin.offer.stall,
                    feeds=tuple(feeds[name]),
                )
            )
    return tuple(sorted(out, key=lambda p: (p.day, p.stall, p.food)))


def _left_over(built: Built, purchase_ids: dict[int, str], left_mg: list[float]) -> list[LeftOver]:
    ends, out = built.start + timedelta(days=built.days), list[LeftOver]()
    for s, source in enumerate(built.problem.sources):
        if left_mg[s] < CRUMB_MG or (not source.stock and s not in purchase_ids):
            continue
        binned = not built.problem.outlives(source)
        name = source.name if source.stock else purchase_ids[s]
        per_mg = (source.worth if binned else source.carry) / source.pack_mg
        on = built.supply.origins[s].use_by.date() if binned else ends
        food = built.supply.food_of(source.items[0])
        out.append(LeftOver(name, food, left_mg[s] / 1000, round(per_mg * left_mg[s]), binned, on))
    return out


def _left_batches(built: Built, result: Result) -> list[LeftOver]:
    """Finished batches that were there at the start and are not eaten up."""
    problem, out, ends = built.problem, list[LeftOver](), built.start + timedelta(days=built.days)
    for c, lot in built.menu.lots.items():
        ready = problem.cookings[c].ready or 1
        eaten = sum(
            problem.portions(problem.eatings[e])
            for e in result.solution.choice.eatings
            if problem.eatings[e].cooking == c
        )
        share = (ready - eaten) / ready
        if share * lot.grams > 1:
            cost = round(share * (lot.cost or 0))
            out.append(LeftOver(lot.id, lot.dish or "", share * lot.grams, cost, binned=True, on=ends))
    return out
