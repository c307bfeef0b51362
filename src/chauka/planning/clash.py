"""When no plan fits: which rules clash, and the least costly way out."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from dataclasses import replace

from chauka.kitchen import Clash
from chauka.planning.build import Built
from chauka.planning.problem import Term
from chauka.planning.sittings import filled_by
from chauka.planning.solve import Result, solve


def clashes(built: Built, result: Result, seconds: float) -> tuple[Clash, ...]:
    """What kept required positions empty; nothing where the plan is whole."""
    missed = [key for key in result.solution.empty if _required(built, key)]
    if not missed:
        return ()
    money = list(_money(built, result, len(missed), seconds))
    return (*money, *(_position(built, slot, place) for slot, place in missed))


def _required(built: Built, key: tuple[int, int]) -> bool:
    return built.problem.slots[key[0]].places[key[1]].term is Term.MISSED


def _money(built: Built, result: Result, missed: int, seconds: float) -> Iterator[Clash]:
    """Whether more money would fill more positions, and how much."""
    problem = built.problem
    if problem.budget is None:
        return
    free = solve(replace(problem, budget=None), seconds=seconds, gap=0.02, start=result.solution.choice)
    better = [key for key in free.solution.empty if _required(built, key)]
    if len(better) < missed:
        spent = sum(problem.sources[s].price * n for s, n in free.solution.choice.packs.items())
        more = max(0, spent - problem.budget)
        coins = problem.budget / 100, more / 100
        yield Clash(
            rules=(f"spend at most {coins[0]:,.0f} in these {built.days} days", f"fill {missed} more positions"),
            way_out=f"No plan fits within {coins[0]:,.0f}: the least costly way out found is {coins[1]:,.0f} more",
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
