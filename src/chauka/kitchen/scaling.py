"""A dish for another number of portions, or for the amount that was bought.

With f = portions wanted ÷ portions written:

- most lines grow with f;
- salt grows with f^0.95, other dry spices, chillies and raising agents with f^0.8: twice the dish takes
  1.93 times the salt and 1.74 times the spices. Common practice, no source;
- what is counted and cannot be halved (an egg, a pod, a leaf) stays whole, larger pieces go by halves;
- water that boils away follows the surface of the pot, not its volume: of W grams of which E evaporate,
  (W − E)·f + E·f^⅔ are needed (similar pots: volume as the cube of the width, surface as its square).

Powers of f multiply, so that scaling up and down again returns, but for what is rounded to whole pieces.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from chauka import quantities, tables
from chauka.errors import DataError, InputError
from chauka.kitchen.counts import counted_text
from chauka.kitchen.dish import Dish, Line, Step
from chauka.kitchen.filling import fill_share, filled_l
from chauka.kitchen.forms import Heat, Technique, Vessel
from chauka.kitchen.house import House, Measures
from chauka.quantities.units import MASSES
from chauka.units import Estimate, Span

SALT, WATER = frozenset({"G528", "G540"}), "K505"
SALT_POWER, SPICE_POWER, SURFACE_POWER = 0.95, 0.8, 2 / 3
_RAISING = frozenset({"K500", "K501", "G534"})

BOILED_AWAY_G_PER_MIN = {Heat.NONE: 0.0, Heat.LOW: 4.0, Heat.MEDIUM: 9.0, Heat.HIGH: 18.0}
"""Water leaving an open pot 22 cm wide [g/min]. Common practice, no source: measure your own pot."""

_BY_HAND = frozenset({
    Technique.PICK, Technique.WASH, Technique.PEEL, Technique.CUT, Technique.GRATE, Technique.KNEAD, Technique.ASSEMBLE,
})  # fmt: skip
_IN_TURNS = frozenset({Technique.GRIDDLE, Technique.DEEP_FRY, Technique.SHALLOW_FRY})
_WET = frozenset({Technique.BOIL, Technique.SIMMER})
_WHOLE_BELOW_G = 80.0
_PIECES = frozenset({quantities.Unit.PIECE, quantities.Unit.CLOVE, quantities.Unit.LEAF, quantities.Unit.SPRIG})


@dataclass(frozen=True, slots=True)
class Scaled:
    """The dish scaled, the factor, and what to mind: vessels too small, times that change."""

    dish: Dish
    factor: float
    warnings: tuple[str, ...]


def scale(dish: Dish, portions: float, *, house: House | None = None) -> Scaled:
    """The dish for so many portions; a house checks its vessels and gives its measures."""
    if not 0 < portions <= 500:
        raise InputError({"portions": (f"{portions:g} must lie above 0 and at most 500",)})
    factor = portions / dish.portions
    measures = house.measures if house else Measures()
    evaporated = evaporated_g(dish)
    lines = tuple(_line(line, factor, evaporated, dish, measures) for line in dish.lines)
    steps = tuple(step_for(step, factor) for step in dish.steps)
    yield_g = dish.yield_g * factor if dish.yield_g else None
    scaled = replace(dish, portions=portions, lines=lines, steps=steps, yield_g=yield_g)
    return Scaled(scaled, factor, (*_too_full(scaled, house), *_times(factor, dish)))


def scale_to(dish: Dish, line_id: str, grams: float, *, house: House | None = None) -> Scaled:
    """The dish for the amount of one line that was bought [g of the edible part]."""
    line = next((one for one in dish.lines if one.id == line_id), None)
    if line is None or not line.grams.mean:
        known = ", ".join(one.id for one in dish.lines if one.grams.mean)
        raise InputError({"line": (f"{line_id!r} has no weight in {dish.name}; choose one of {known}",)})
    return scale(dish, dish.portions * grams / line.grams.mean, house=house)


# --- lines ----------------------------------------------------------------------------------------


def power(food: str) -> float:
    """The exponent by which a food grows with the dish."""
    if food in SALT:
        return SALT_POWER
    if food in _RAISING:
        return SPICE_POWER
    try:
        spice = tables.food(food).group == "Condiments and Spices"
    except DataError:
        return 1.0
    fresh = bool({"onion_garlic", "leafy_green"} & tables.traits(food)) or food in _FRESH
    return SPICE_POWER if spice and not fresh else 1.0


_FRESH = frozenset({"G009", "G011", "G012", "G014", "G016", "G017", "G018", "G501", "G546", "G547"})
"""Ginger, garlic, onion and fresh herbs stand among the spices of the tables but are eaten as vegetables."""


def _line(line: Line, factor: float, evaporated_g: float, dish: Dish, measures: Measures) -> Line:
    if factor == 1:
        return line
    if line.food == WATER and line.eaten_share == 1:
        away = evaporated_g * line.grams.mean / sum(w.grams.mean for w in dish.lines if w.food == WATER)
        grows = (
            ((line.grams.mean - away) * factor + away * factor**SURFACE_POWER) / line.grams.mean
            if line.grams.mean
            else factor
        )
    else:
        grows = factor ** power(line.food)
    counted = _counted(line, grows)
    if counted:
        return counted
    grams = line.grams * grows
    return replace(line, grams=grams, amount=amount_text(line, grams, measures))


def amount_text(line: Line, grams: Estimate, measures: Measures) -> str:
    """The amount in the way it was written: to taste stays so, a weight stays a weight, a cup may become spoons."""
    if not line.amount:
        return ""
    try:
        measured = any(part.unit not in MASSES for part in quantities.read_amount(line.amount))
    except InputError:
        measured = False
    if not measured:
        return quantities.grams_text(grams.mean)
    return quantities.show(grams, line.food, str(line.form), measures).partition(" (")[0]


def _counted(line: Line, grows: float) -> Line | None:
    """A counted line with a whole number (small things) or halves (vegetables) of pieces, at least one."""
    try:
        parts = quantities.read_amount(line.amount)
    except InputError:
        return None
    if len(parts) != 1 or parts[0].unit not in _PIECES or not parts[0].mid:
        return None
    piece_g = line.grams.mean / parts[0].mid
    finest = Fraction(1) if piece_g < _WHOLE_BELOW_G else Fraction(1, 2)
    count = max(finest, Fraction(round(parts[0].mid * grows / float(finest))) * finest)
    amount = replace(parts[0], low=count, high=count)
    return replace(line, amount=str(amount), grams=line.grams * (float(count) / parts[0].mid))


def evaporated_g(dish: Dish) -> float:
    """Water that boils away [g]: what the weighed yield lacks, else by flame and minutes of open boiling."""
    water = sum(line.grams.mean for line in dish.lines if line.food == WATER and line.eaten_share == 1)
    if dish.yield_g is not None:
        raw = sum(line.grams.mean * line.eaten_share for line in dish.lines)
        return min(max(raw - dish.yield_g.mean, 0.0), water)
    open_ = [
        s for s in dish.steps if s.technique in _WET and "cover" not in s.text.lower() and "lid" not in s.text.lower()
    ]
    return min(sum(BOILED_AWAY_G_PER_MIN[s.heat] * s.minutes.mid for s in open_), 0.8 * water)


# --- steps ----------------------------------------------------------------------------------------


def step_for(step: Step, factor: float) -> Step:
    """The step at `factor` times the amount: knife work and frying in turns take longer, a pot about the same."""
    step = replace(step, text=counted_text(step.text, factor))
    if step.ahead or step.technique not in _BY_HAND | _IN_TURNS:
        return step
    grows = factor if step.technique in _IN_TURNS else factor**0.9
    return replace(step, minutes=Span(_minutes(step.minutes.low * grows), _minutes(step.minutes.high * grows)))


def _minutes(minutes: float) -> float:
    return float(math.ceil(minutes)) if minutes > 1 else minutes


def _too_full(dish: Dish, house: House | None) -> Iterator[str]:
    """The fullest step of each kind of vessel, where it is too full even in the largest there is."""
    fullest: dict[Vessel, tuple[float, float]] = {}
    for step in dish.steps:
        largest = house.largest_l(step.vessel) if house and step.vessel else None
        if step.vessel is None or largest is None or (share := fill_share(dish, step, step.vessel)) is None:
            continue
        filled = (filled_l(dish, step), largest * share)
        fullest[step.vessel] = max(fullest.get(step.vessel, (0.0, 1.0)), filled, key=lambda f: f[0] / f[1])
    for vessel, (needed, room) in fullest.items():
        if needed > room:
            share = room / ((house.largest_l(vessel) if house else None) or 1.0)
            yield (
                f"the {vessel} holds {room:.1f} l filled to {share:.0%}, this needs about {needed:.1f} l: "
                f"cook it in {math.ceil(needed / room)} lots or take a larger one"
            )


def _times(factor: float, dish: Dish) -> Iterator[str]:
    if factor >= 1.5:
        if any(s.technique in _WET | {Technique.PRESSURE_COOK, Technique.STEAM} for s in dish.steps):
            yield f"{factor:.2g} times the amount takes longer to come to the boil; the minutes count from there"
        if any(s.technique in (Technique.SAUTE, Technique.ROAST) for s in dish.steps):
            yield "a crowded pan steams instead of browning: use a wider one, or fry in two lots"
    elif factor <= 0.67 and any(s.technique in _WET for s in dish.steps):
        yield "a small amount boils dry sooner: take a smaller pot and look at it earlier"
