"""What the engines say of a dish, kept while the dish stays as it is."""

from __future__ import annotations

from collections.abc import Callable
from typing import Generic, TypeVar

from chauka.kitchen import Dish

T = TypeVar("T")
MOST_KEPT = 600
"""Dishes; a large book of one house."""


class OfDish(Generic[T]):
    """An answer about a dish alone, worked out once for each dish that was read.

    A dish never changes: one that was written anew is read as another object. So a dish is known by being the same
    object, which is kept with the answer.
    """

    def __init__(self, work_out: Callable[[Dish], T]) -> None:
        self._work_out = work_out
        self._kept: dict[int, tuple[Dish, T]] = {}

    def __call__(self, dish: Dish) -> T:
        """The answer for this dish."""
        found = self._kept.get(id(dish))
        if found is None or found[0] is not dish:
            found = (dish, self._work_out(dish))
            while len(self._kept) >= MOST_KEPT:
                self._kept.pop(next(iter(self._kept)), None)
            self._kept[id(dish)] = found
        return found[1]
