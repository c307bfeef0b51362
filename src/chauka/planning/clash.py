"""When no plan fits: which rules clash, and the least costly way out."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from chauka.kitchen import Clash
from chauka.planning.build import Built
from chauka.planning.problem import Term
from chauka.planning.sittings import filled_by
from chauka.planning.solve import Result, solve


def clashes(built: Built, result: Result, seconds: float) -> tuple[Clash, ...]:
    """What kept required positions empty; nothing where the plan is whole."""
    missed = _missed(built, result)
    if not missed:
        return ()
    out = list[Clash]()
    if built.problem.budget is not None:
        problem = replace(built.problem, budget=None)
        free = solve(problem, seconds=seconds, gap=0.02, start=result.solution.choice)
        still = _missed(built, free)
        if len(still) < len(missed):
            out.append(_money(built, free, filled=len(missed) - len(still)))
            missed = still
    return (*out, *(_position(built, slot, place) for slot, place in missed))


def _missed(built: Built, result: Result) -> list[tuple[int, int]]:
    slots = built.problem.slots
    return [(s, p) for s, p in result.solution.empty if slots[s].places[p].term is Term.MISSED]


def _money(built: Built, free: Result, *, filled: int) -> Clash:
    """More money would fill more positions: how much."""
    problem, currency = built.problem, built.book.house.currency
    budget = problem.budget or 0
    spent = sum(problem.sources[s].price * n for s, n in free.solution.choice.packs.items())
    more = max(0, spent - budget)
    limit = f"{currency} {budget / 100:,.0f}"
    return Clash(
        rules=(f"spend at most {limit} in these {built.days} days", f"fill {filled} more positions of the sittings"),
        way_out=f"No plan fits within {limit}: the least costly way out found is {currency} {more / 100:,.0f} more",
        cost=more,
    )


def _position(built: Built, slot: int, place: int) -> Clash:
    """Why one position stays empty: the rules that exclude every dish for it, and the dish nearest to fitting."""
    sitting, where = built.sittings[slot], built.problem.slots[slot].places
    candidates = [d for d in built.book.dishes if place in filled_by(d, where)]
    why = {d.id: [x.rule for x in built.menu.exclusions if x.dish == d.id and x.slot == slot] for d in candidates}
    label = f"{sitting.day:%A} {sitting.meal}, {where[place].name}"
    if not candidates:
        return Clash((f"{label}: no dish in the book is for it",), f"write down a dish for {where[place].name}")
    free = [d for d in candidates if not why[d.id]]
    if free:
        names = ", ".join(d.name for d in free[:3])
        minutes = sitting.hands_on_min
        return Clash(
            (f"{label}: {minutes} hands-on minutes", "variety, vessels and food at hand"),
            f"each of {names} would fit alone, but not with what else is planned: allow more minutes at {sitting.key}"
            " or repeat a dish",
        )
    count = Counter(rule for rules in why.values() for rule in set(rules))
    nearest = min(candidates, key=lambda d: (len(why[d.id]), d.id))
    rules = tuple(f"{label}: {rule} ({n} of {len(candidates)} dishes)" for rule, n in count.most_common(4))
    return Clash(rules, f"{nearest.name} is nearest: it fails only because {' and '.join(why[nearest.id])}")
