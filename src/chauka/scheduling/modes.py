"""In how many ways a job can be done: in which vessel, on which burner, by whom; and how long each takes."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from chauka.kitchen import Attention, Cook, Heat, Step, Technique, Vessel
from chauka.scheduling.jobs import (
    BENCH,
    BURNERS,
    LARGE_BURNERS,
    SMALL_BURNERS,
    Kitchen,
    Part,
    cook_name,
)  # fmt: skip
from chauka.scheduling.problem import Mode, Need
from chauka.scheduling.times import BENCH_WORK, LOOKED_AT, WASH_MIN, attention_units, planned_minutes, ticks
from chauka.scheduling.together import shares_a_pot
from chauka.scheduling.vessels import Use, Way

WASHING_UNITS = 3


@dataclass(frozen=True, slots=True)
class Lot:
    """The share of a job that is one of its lots: number `index` of `count`."""

    index: int = 0
    count: int = 1

    def of(self, whole: int) -> int:
        """Its ticks."""
        return whole * (self.index + 1) // self.count - whole * self.index // self.count


def job_modes(parts: tuple[Part, ...], use: Use | None, kitchen: Kitchen, lot: Lot) -> tuple[Mode, ...]:
    """Every way to do a job; none where nobody here can do it."""
    ways: Sequence[Way | None] = use.ways if use else (None,)
    chosen = bool(use and len(use.ways) > 1)
    return tuple(
        Mode(low, high, needs, name, way.pot.name if way and chosen else "", way.cost if way and chosen else 0)
        for way in ways
        for fire in _fires(parts[0].step, way, kitchen)
        for low, high, needs, name in _by_whom(parts, way, kitchen, lot, fire)
    )


def wash_modes(use: Use, kitchen: Kitchen) -> tuple[Mode, ...]:
    """Emptying and rinsing the vessel that was used, by anyone; an oven needs none, a pan in its stead does."""
    cooks = [cook_name(i + 1) for i in range(kitchen.cooks)]
    return tuple(
        Mode(long, long, (Need(cook, WASHING_UNITS),), cook, way.pot.name if len(use.ways) > 1 else "")
        for way in use.ways
        for long in (ticks(WASH_MIN[way.pot.kind]),)
        for cook in cooks
    )


def span(parts: tuple[Part, ...], pace: float = 1.0, way: Way | None = None) -> tuple[int, int]:
    """Shortest and longest time for a job [tick]: the sum for what is cut, the longest for what shares a pot."""
    spans = [_minutes(part, pace, way) for part in parts]
    together = max if shares_a_pot(parts) else sum
    return ticks(together(s[0] for s in spans)), ticks(together(s[1] for s in spans))


def _minutes(part: Part, pace: float, way: Way | None) -> tuple[float, float]:
    step = part.step
    low, high = planned_minutes(step, part.ratio)
    if way and way.stands_in:
        if step.technique in (Technique.PRESSURE_COOK, Technique.BAKE):
            low, high = low * way.longer, high * way.longer
        elif _waits_for_pressure(part):
            low = 0.0
    return (low * pace, high * pace) if step.attention is Attention.HANDS_ON else (low, high)


def _waits_for_pressure(part: Part) -> bool:
    """Whether the step is the resting of a closed cooker: an open pot needs none."""
    before = [part.dish.step(after.step) for after in part.step.after]
    return part.step.technique is Technique.REST and any(b.technique is Technique.PRESSURE_COOK for b in before)


def _fires(step: Step, way: Way | None, kitchen: Kitchen) -> list[tuple[Need, ...]]:
    """The burners that it may stand on: any, or a large one for a wide vessel; none in the oven."""
    if step.heat is Heat.NONE or (way and way.pot.kind is Vessel.OVEN):
        return [()]
    if not kitchen.small_burners:
        return [(Need(BURNERS),)]
    large = (Need(BURNERS), Need(LARGE_BURNERS))
    return [large] if way and way.pot.wide else [large, (Need(BURNERS), Need(SMALL_BURNERS))]


def _by_whom(
    parts: tuple[Part, ...], way: Way | None, kitchen: Kitchen, lot: Lot, fire: tuple[Need, ...]
) -> list[tuple[int, int, tuple[Need, ...], str]]:
    step = parts[0].step
    units = attention_units(step)
    if way and way.stands_in and step.technique in LOOKED_AT:
        units = max(units, 1)
    if not units:
        low, high = span(parts, way=way)
        return [(lot.of(low), lot.of(high), fire, "")]
    bench = (Need(BENCH),) if needs_bench(step, kitchen) else ()
    out = []
    for i, cook in enumerate(crew(kitchen)):
        if step.technique not in cook.cannot:
            low, high = span(parts, cook.pace, way)
            out.append((lot.of(low), lot.of(high), (Need(cook_name(i + 1), units), *fire, *bench), cook_name(i + 1)))
    return out


def crew(kitchen: Kitchen) -> list[Cook]:
    """Who cooks at this sitting; who is not described can do everything."""
    described = list(kitchen.house.crew[: kitchen.cooks])
    return described + [Cook(cook_name(i + 1)) for i in range(len(described), kitchen.cooks)]


def needs_bench(step: Step, kitchen: Kitchen) -> bool:
    """Whether it takes one of the places at the bench, of which there are fewer than cooks."""
    places = kitchen.house.bench_places
    scarce = places is not None and places < kitchen.cooks
    return scarce and step.technique in BENCH_WORK and step.attention is Attention.HANDS_ON
