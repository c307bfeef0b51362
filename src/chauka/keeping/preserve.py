"""Whether a sweet, salt or sour side is safe on a shelf: water activity from its lines and its weighed yield."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from chauka import tables
from chauka.keeping.foods import keeping_of
from chauka.keeping.tcs import SOURCE as FOOD_CODE
from chauka.keeping.tcs import open_food
from chauka.keeping.water_activity import aw_mixture
from chauka.kitchen import Dish, Line
from chauka.units import Estimate, Span

SHELF_AW, SHELF_PH = 0.85, 4.2
"""At or below this aw, or below this measured pH, no pathogen grows (Food Code Table B; 21 CFR 113, 114)."""

_SUGARS = {"SUCS": "sucrose", "GLUS": "glucose", "FRUS": "fructose", "MALS": "maltose", "LACS": "lactose"}
_SALT_PER_SODIUM = 58.443 / 22.990
_MOST_PER_WATER = {"sucrose": 2.0, "salt": 0.35}
"""What dissolves at most in a gram of water [g/g] (usual figures at 20 °C, from memory)."""

_MODEL_ERROR = 0.01
"""What the models leave open [aw]: acid and pectin lower it, crystals and lumps raise it (assumed)."""


class Stand(StrEnum):
    """Where a preserve belongs."""

    SHELF = "shelf"
    FRIDGE = "refrigerator"
    UNKNOWN = "not known: refrigerator"


@dataclass(frozen=True, slots=True)
class PreserveAdvice:
    """Where it belongs and why; `aw` None where the lines or the yield do not tell it."""

    stand: Stand
    aw: Span | None
    text: str
    source: str


def preserve_advice(dish: Dish, *, measured_ph: float | None = None, yield_g: Estimate | None = None) -> PreserveAdvice:
    """Where a side belongs by water activity and measured pH.

    Parameters
    ----------
    measured_ph
        From a meter or strip; a pH is never computed from a recipe.
    yield_g
        The weighed yield [g] where the dish itself does not carry one: what is missing from the
        weight of the lines has boiled away as water.

    Notes
    -----
    It speaks of safety on a shelf and never lengthens the week that `dish_life` allows in the kitchen's plan.
    """
    aw = water_activity_of(dish, yield_g or dish.yield_g)
    if measured_ph is not None and measured_ph < SHELF_PH:
        return PreserveAdvice(Stand.SHELF, aw, f"Its pH of {measured_ph:g} stops bacteria. {_mould(aw)}", FOOD_CODE)
    if aw is None:
        return PreserveAdvice(
            Stand.UNKNOWN,
            None,
            "Weigh what it yields: without that nobody can say how much water is left. Keep it in the refrigerator.",
            FOOD_CODE,
        )
    said = f"Water activity {aw.low:.2f} to {aw.high:.2f}"
    if aw.high <= SHELF_AW and not open_food(measured_ph, aw.high).needs_cold:
        return PreserveAdvice(Stand.SHELF, aw, f"{said}: too dry for bacteria. {_mould(aw)}", FOOD_CODE)
    return PreserveAdvice(
        Stand.FRIDGE,
        aw,
        f"{said}: wetter than {SHELF_AW}, so it belongs in the refrigerator, unless a measured pH is below {SHELF_PH}."
        f"{_what_would_do(dish, yield_g or dish.yield_g)}",
        FOOD_CODE,
    )


def _what_would_do(dish: Dish, yield_g: Estimate | None) -> str:
    """How much water would have to boil away, or sugar or salt go in, to be dry enough for the shelf."""
    brew = _brew(dish, yield_g.mean - yield_g.sd) if yield_g else None
    wet = _brew(dish, yield_g.mean + yield_g.sd) if yield_g else None
    if brew is None or wet is None:
        return ""
    solutes, water = wet
    dry_to = _bisect(lambda kept: aw_mixture(solutes, kept) + _MODEL_ERROR > SHELF_AW, 1e-3, water)
    ways = []
    if sum(solutes.values()) > 0 and dry_to > 0.05 * water:
        ways.append(f"{water - dry_to:.0f} g more water boiled away")
    for name, said in (("sucrose", "sugar"), ("salt", "salt")):
        most = _MOST_PER_WATER[name] * water
        more = _bisect(partial(_dry_enough, solutes, water, name), 0.0, most)
        if more < most:
            ways.append(f"{more:.0f} g more {said}")
    return f" To be dry enough it would take {' or '.join(ways)}." if ways else ""


def _dry_enough(solutes: Mapping[str, float], water: float, name: str, more_g: float) -> bool:
    """Whether so much more of one solute brings the careful end down to the shelf's water activity."""
    return aw_mixture({**solutes, name: solutes.get(name, 0.0) + more_g}, water) + _MODEL_ERROR <= SHELF_AW


def _bisect(true_above: Callable[[float], bool], low: float, high: float) -> float:
    """The least value at which a test that only turns once is true; `high` where it never is."""
    if not true_above(high):
        return high
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if true_above(middle) else (middle, high)
    return high


def _brew(dish: Dish, grams: float) -> tuple[dict[str, float], float] | None:
    """What is dissolved and the water that is left when a dish weighs so much [g]; None where it is not known."""
    eaten = [line for line in dish.lines if line.eaten_share > 0 and line.grams.mean > 0]
    waters = [_water_g(line) for line in eaten]
    if any(water is None for water in waters):
        return None
    raw = sum(line.grams.mean * line.eaten_share for line in eaten)
    left = sum(water for water in waters if water is not None) - (raw - grams)
    return (_solutes(eaten), left) if left > 0 else None


def water_activity_of(dish: Dish, yield_g: Estimate | None) -> Span | None:
    """Water activity of a dish after boiling down to its yield; None where its water or yield is unknown."""
    if yield_g is None:
        return None
    brews = [_brew(dish, grams) for grams in (yield_g.mean - yield_g.sd, yield_g.mean + yield_g.sd)]
    ends = [aw_mixture(*brew) for brew in brews if brew is not None]
    if len(ends) < 2:
        return None
    return Span(max(0.0, min(ends) - _MODEL_ERROR), min(1.0, max(ends) + _MODEL_ERROR))


def _solutes(lines: list[Line]) -> dict[str, float]:
    """Grams of each sugar and of salt; sugar of a kind nobody named counts as sucrose, which binds least water."""
    out: dict[str, float] = {}
    for line in lines:
        share, food = line.grams.mean * line.eaten_share / 100, tables.food(line.food)
        kinds = {name: food.value(tag).mean for tag, name in _SUGARS.items()}
        if all(grams is None for grams in kinds.values()):
            kinds = {"sucrose": food.value("FSUGAR").mean}
        sodium_mg = food.value("NA").mean
        kinds["salt"] = sodium_mg * _SALT_PER_SODIUM / 1000 if sodium_mg is not None else None
        for name, grams in kinds.items():
            if grams:
                out[name] = out.get(name, 0.0) + share * grams
    return out


def _water_g(line: Line) -> float | None:
    """The water that a line brings [g]; None where nobody has measured it."""
    kept = keeping_of(line.food)
    grams = line.grams.mean * line.eaten_share
    if kept is not None and kept.kind == "water":
        return grams
    if kept is not None and kept.kind in ("mineral", "oil", "ghee"):
        return 0.0
    percent = tables.food(line.food).value("WATER").mean
    if percent is None:
        # A pinch of spice does not decide it: as wet as air-dry seeds are.
        percent = 10.0 if kept is not None and kept.kind == "spice" else None
    return None if percent is None else grams * percent / 100


def _mould(aw: Span | None) -> str:
    if aw is not None and aw.high < 0.60:
        return "Nothing grows in it; keep it dry."
    return "Yeast and mould can still grow: clean dry spoon, and a mouldy jar goes whole."
