"""A choice of one problem carried over to another that was built from the same book."""

from __future__ import annotations

from chauka.planning.build import Built
from chauka.planning.model import Choice


def carried_over(choice: Choice, built: Built, wide: Built) -> Choice:
    """The same choice in a problem that has all decisions of the first."""
    cooking_of = {cooking_key(wide, c): c for c in range(len(wide.problem.cookings))}
    eating_of = {(cooking_key(wide, e.cooking), e.slot): k for k, e in enumerate(wide.problem.eatings)}
    source_of = {source.name: k for k, source in enumerate(wide.problem.sources)}
    eatings = (built.problem.eatings[e] for e in choice.eatings)
    return Choice(
        frozenset(cooking_of[cooking_key(built, c)] for c in choice.cookings),
        frozenset(eating_of[cooking_key(built, e.cooking), e.slot] for e in eatings),
        {source_of[built.problem.sources[s].name]: n for s, n in choice.packs.items()},
    )


def cooking_key(built: Built, c: int) -> tuple[object, ...]:
    """What a cooking is, whatever its number."""
    cooking = built.problem.cookings[c]
    helping, lot = built.menu.helpings[cooking.recipe], built.menu.lots.get(c)
    return (helping.dish.id, helping.count, helping.swaps, cooking.slot, lot.id if lot else None)
