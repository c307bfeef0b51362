"""What lies behind when a plan is made anew: sittings that are over, dishes begun, dishes had lately."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from datetime import date, datetime
from types import MappingProxyType

from chauka.kitchen import Meal, Sitting, TablePlan, sittings
from chauka.kitchen.house import House
from chauka.planning.sittings import moment


@dataclass(frozen=True, slots=True)
class Past:
    """Sittings before `since` are over; `previous` is the plan followed so far; `cooked` is when a dish last was."""

    since: datetime | None = None
    previous: TablePlan | None = None
    cooked: Mapping[str, date] = field(default_factory=lambda: MappingProxyType({}))

    def over(self, sitting: Sitting) -> bool:
        """Whether a sitting has been."""
        return self.since is not None and moment(sitting) < self.since

    @property
    def begun(self) -> frozenset[tuple[date, Meal, str]]:
        """Cookings of the plan so far: what has to be soaked or set for them stands as that plan said."""
        return frozenset((b.day, b.meal, b.dish) for b in self.previous.batches) if self.previous else frozenset()


NOTHING_WAS = Past()


def with_what_was(plan: TablePlan, house: House, past: Past) -> TablePlan:
    """The new plan with the sittings of its days that are over, as the previous plan had them."""
    over = tuple(s for s in sittings(house, plan.start, plan.days) if past.over(s))
    if past.previous is None or not over:
        return plan
    keys = {(s.day, s.meal) for s in over}
    servings = [s for s in past.previous.servings if (s.day, s.meal) in keys]
    eaten = {s.batch for s in servings}
    batches = [b for b in past.previous.batches if b.id in eaten]
    return replace(
        plan,
        sittings=(*over, *plan.sittings),
        batches=(*(replace(b, id=_over(b.id)) for b in batches), *plan.batches),
        servings=(*(replace(s, batch=s.batch and _over(s.batch)) for s in servings), *plan.servings),
    )


def _over(batch: str) -> str:
    return batch if batch.endswith("-over") else f"{batch}-over"
