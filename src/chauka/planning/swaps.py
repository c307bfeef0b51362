"""Dishes with a line's food replaced by one of its substitutes: when the food is missing, or to use something up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from chauka.kitchen import Line, Substitute, Swap, with_swaps
from chauka.planning.amounts import FREE_FOODS
from chauka.planning.supply import Supply
from chauka.planning.work import Helping


def with_what_there_is(helping: Helping, supplied: Supply) -> Helping:
    """The dish with the first substitute that can be had at all for each food that cannot."""
    served = {i for s in supplied.sources for i in s.items}
    swaps = []
    for line in helping.dish.lines:
        if line.food in FREE_FOODS or line.optional or _had(line.food, line, supplied, served):
            continue
        fit = next((s for s in line.substitutes if _had(s.food, line, supplied, served)), None)
        if fit:
            swaps.append(Swap(line.id, fit.food, fit.ratio))
    return _swapped(helping, *swaps) if swaps else helping


def one_swap_each(helping: Helping, supplied: Supply) -> Iterator[tuple[Line, Substitute, Helping]]:
    """The dish once for each line and each substitute of it that can be had."""
    served = {i for s in supplied.sources for i in s.items}
    for line in helping.dish.lines:
        if not line.optional:
            for substitute in line.substitutes:
                if substitute.food != line.food and _had(substitute.food, line, supplied, served):
                    yield line, substitute, _swapped(helping, Swap(line.id, substitute.food, substitute.ratio))


def perishable_lot(item: int, slot: int, supplied: Supply) -> bool:
    """Whether something of an item lies in the house that is good at a slot and will not outlive the plan."""
    return any(
        item in s.items and s.stock and s.first <= slot <= s.last and s.carry == 0 and s.worth > 0
        for s in supplied.sources
    )


def _had(food: str, line: Line, supplied: Supply, served: set[int]) -> bool:
    return food in FREE_FOODS or supplied.item_of.get((food, line.form)) in served


def _swapped(helping: Helping, *swaps: Swap) -> Helping:
    return replace(helping, dish=with_swaps(helping.dish, swaps), swaps=(*helping.swaps, *swaps))
