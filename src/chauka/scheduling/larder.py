"""What a bench list asks about foods: how long a form keeps, and what is a leafy green."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Protocol

from chauka import keeping, tables
from chauka.keeping import Box, Need
from chauka.kitchen import Dish, Form, House, Lot, Place


@dataclass(frozen=True, slots=True)
class Days:
    """How many days something keeps, and the rule that says so; None where nobody knows."""

    days: float | None
    why: str

    def allow(self, wait: timedelta) -> bool:
        """Whether it keeps so long; what is not known is not allowed to wait beyond a day."""
        return wait / timedelta(days=1) <= (1.0 if self.days is None else self.days)


class Larder(Protocol):
    """The questions; tests answer them with plain numbers."""

    def food(self, code: str, form: Form) -> Days:
        """How long a food keeps in that form, boxed in the refrigerator."""

    def dish(self, dish: Dish) -> Days:
        """How long a finished dish keeps, boxed in the refrigerator."""

    def leafy(self, code: str) -> bool:
        """Whether it is a leafy green, picked over before it is put away."""

    def boxes(self, lot: Lot, needs: Sequence[Need], said: str) -> tuple[Box, ...]:
        """How to split a picked bunch into a box for each sitting."""


@dataclass(frozen=True, slots=True)
class HouseLarder:
    """The answers of the keeping engine and the tables, for one house."""

    house: House

    def food(self, code: str, form: Form) -> Days:
        """How long a food keeps in that form, boxed in the refrigerator."""
        life = keeping.food_life(code, form, Place.FRIDGE, self.house)
        return Days(life.plan_days if life.known else None, life.reason)

    def dish(self, dish: Dish) -> Days:
        """How long a finished dish keeps, boxed in the refrigerator."""
        life = keeping.dish_life(dish, Place.FRIDGE, self.house)
        return Days(life.plan_days if life.known else None, life.reason)

    def leafy(self, code: str) -> bool:
        """Whether it is a leafy green, picked over before it is put away."""
        return "leafy_green" in tables.traits(code)

    def boxes(self, lot: Lot, needs: Sequence[Need], said: str) -> tuple[Box, ...]:
        """How to split a picked bunch into a box for each sitting."""
        return keeping.split_bunch(lot, needs, self.house, edible_g=lot.grams, said=said)
