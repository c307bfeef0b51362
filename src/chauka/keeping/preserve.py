"""Whether a sweet, salt or sour side is safe on a shelf: water activity from its lines and its weighed yield."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

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
        f"{said}: wetter than {SHELF_AW}, so it belongs in the refrigerator, unless a measured pH is below {SHELF_PH}.",
        FOOD_CODE,
    )


def water_activity_of(dish: Dish, yield_g: Estimate | None) -> Span | None:
    """Water activity of a dish after boiling down to its yield; None where its water or yield is unknown."""
    eaten = [line for line in dish.lines if line.eaten_share > 0 and line.grams.mean > 0]
    waters = [_water_g(line) for line in eaten]
    if yield_g is None or any(water is None for water in waters):
        return None
    raw = sum(line.grams.mean * line.eaten_share for line in eaten)
    water_in = sum(water for water in waters if water is not None)
    solutes = _solutes(eaten)
    ends = []
    for grams in (yield_g.mean - yield_g.sd, yield_g.mean + yield_g.sd):
        water = water_in - (raw - grams)
        if water <= 0:
            return None
        ends.append(aw_mixture(solutes, water))
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
