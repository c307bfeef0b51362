"""Getting a pot cold in time: how long it takes as it stands, and what to do about it.

What can be stirred (dal, soup, milk) is one temperature all through and cools by Newton's law; what is
thick (rice, porridge, halwa) cools through its middle by conduction.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from chauka.errors import Complaints
from chauka.keeping import conduction, growth
from chauka.keeping.caps import source_of
from chauka.keeping.conduction import Shape
from chauka.keeping.life import days_said
from chauka.kitchen import House

HOT_C, WARM_C, COLD_C, FIRST_STAGE_HOURS, BOTH_STAGES_HOURS = 57.0, 21.0, 5.0, 2.0, 6.0
"""Cooked food has 2 hours from 57 to 21 °C and 6 in all to 5 °C (FDA Food Code 3-501.14(A))."""

CEREUS_NONE = 0.05
"""Growth of B. cereus below this counts as none [log10]: its spores were still waking."""

AIR_W_M2K, WATER_W_M2K = 10.0, 300.0
"""Heat given up to still air and to a basin of water that is stirred [W/(m²·K)] (usual figures, from memory)."""

WATER_C = 15.0
"""Cold water from the tap or the jar [°C] (assumed); never warmer than the room."""

_KG_PER_L, _J_PER_KG_K, _W_PER_M_K = 1.0, 3900.0, 0.5
"""Of a dish that is mostly water (usual figures, from memory)."""

_TRAY_DEPTH_M, _POT_SHAPE = 0.03, 0.5
"""Food stands 3 cm deep in a shallow tray, and half as deep in a pot as the pot is wide."""


@dataclass(frozen=True, slots=True)
class Way:
    """One way of cooling and the hours it takes from 57 to 21 °C; infinite where it never gets there."""

    said: str
    hours: float

    @property
    def in_time(self) -> bool:
        """Whether it keeps to the 2 hours."""
        return self.hours <= FIRST_STAGE_HOURS


@dataclass(frozen=True, slots=True)
class CoolingAdvice:
    """What to do with a pot: the least trouble that is in time, all the ways tried, and the rule's source."""

    text: str
    ways: tuple[Way, ...]
    source: str


@dataclass(frozen=True, slots=True)
class _Body:
    """A disc of food: litres in all, in so many equal vessels of one depth [m]."""

    litres: float
    depth_m: float
    count: int = 1

    @property
    def radius_m(self) -> float:
        return math.sqrt(self.litres / self.count / 1000 / self.depth_m / math.pi)

    @property
    def area_m2(self) -> float:
        return self.count * 2 * math.pi * self.radius_m * (self.radius_m + self.depth_m)


def hours_to_cool(
    litres: float, *, to_air_c: float, h_w_m2k: float = AIR_W_M2K, thick: bool = False, trays: int = 0
) -> float:
    """Hours from 57 to 21 °C in surroundings of a temperature [h]; infinite where they are not below 21 °C.

    `trays` 0 means in its pot, else so many shallow trays. `thick` food is not stirred.
    """
    bad = Complaints("pot")
    bad.check(0 < litres <= 100, "litres", f"{litres:g} l is no household pot")
    bad.check(trays >= 0, "trays", f"{trays} is below zero")
    bad.raise_if_any()
    if to_air_c >= WARM_C:
        return math.inf
    end = (WARM_C - to_air_c) / (HOT_C - to_air_c)
    body = _Body(litres, _TRAY_DEPTH_M, trays) if trays else _Body(litres, _pot_depth_m(litres))
    if not thick:
        return conduction.newton_hours(
            kg=litres * _KG_PER_L, j_per_kg_k=_J_PER_KG_K, h_w_m2k=h_w_m2k, area_m2=body.area_m2, theta_end=end
        )
    return _hours_through(body, h_w_m2k, end)


def _pot_depth_m(litres: float) -> float:
    width = (4 * litres / 1000 / math.pi / _POT_SHAPE) ** (1 / 3)
    return float(_POT_SHAPE * width)


def _hours_through(body: _Body, h_w_m2k: float, end: float) -> float:
    """Hours until the middle of a disc has reached θ, by the product of slab and cylinder."""
    half, radius = body.depth_m / 2, body.radius_m
    diffusivity = _W_PER_M_K / (_KG_PER_L * 1000 * _J_PER_KG_K)

    def theta(seconds: float) -> float:
        return conduction.theta_short_cylinder(
            h_w_m2k * half / _W_PER_M_K,
            diffusivity * seconds / half**2,
            h_w_m2k * radius / _W_PER_M_K,
            diffusivity * seconds / radius**2,
        )

    slab_alone = conduction.fourier_at(Shape.SLAB, h_w_m2k * half / _W_PER_M_K, end) * half**2 / diffusivity
    low, high = 0.0, slab_alone
    for _ in range(40):
        middle = (low + high) / 2
        low, high = (middle, high) if theta(middle) > end else (low, middle)
    return high / 3600


def cooling_advice(litres: float, house: House, *, thick: bool = False) -> CoolingAdvice:
    """How to get a pot of so many litres from 57 to 21 °C in the 2 hours it has, with the least trouble.

    The clock starts at 57 °C. From 21 °C it goes into the refrigerator and has 4 hours more to 5 °C.
    """
    trays = max(2, math.ceil(litres / 1.5))
    water_c = min(WATER_C, house.room_c)
    asked = (
        ("leave it in its pot", house.room_c, AIR_W_M2K, 0),
        (f"divide it into {trays} shallow trays", house.room_c, AIR_W_M2K, trays),
        (
            f"divide it into {trays} shallow trays, then straight into the refrigerator",
            house.fridge_c,
            AIR_W_M2K,
            trays,
        ),
        ("stand the pot in a basin of cold water and stir", water_c, WATER_W_M2K, 0),
        (f"stand {trays} shallow trays in cold water", water_c, WATER_W_M2K, trays),
    )
    ways = tuple(
        Way(said, hours_to_cool(litres, to_air_c=air, h_w_m2k=h, thick=thick, trays=count))
        for said, air, h, count in asked
        if not (thick and said.endswith("stir"))
    )
    return CoolingAdvice(_said(litres, house, ways), ways, source_of("cool_hot_food_1", "cool_hot_food_2"))


@dataclass(frozen=True, slots=True)
class CoolingVerdict:
    """Whether food that cooled along a path may be kept, and why.

    Hours from 57 °C to 21 and to 5 °C [h], None where it never got there; growth on the way [log10].
    """

    keep: bool
    to_21_h: float | None
    to_5_h: float | None
    perfringens_log10: float
    cereus_log10: float
    text: str
    source: str


def judge_cooling(path: Sequence[tuple[float, float]], *, rice: bool = False) -> CoolingVerdict:
    """Judge a pot by how it cooled: (hour, °C) pairs from 57 °C or hotter on, in order.

    It is kept only if it went from 57 to 21 °C in 2 hours and to 5 °C in 6, C. perfringens grew less than
    tenfold, and, with `rice`, B. cereus too (one log is added: the model came out low against real pots).
    """
    bad = Complaints("cooling")
    bad.check(len(path) >= 2, "path", "give at least two temperatures with their hours")
    bad.check(all(a[0] < b[0] for a, b in pairwise(path)), "path", "the hours must rise")
    bad.check(all(-40 <= t <= 120 for _, t in path), "path", "a temperature is out of reason; give °C")
    bad.raise_if_any()
    hours, temps = [hour for hour, _ in path], [temp for _, temp in path]
    start = _reached(path, HOT_C)
    begun = hours[0] if start is None else start
    to_21, to_5 = (None if at is None else at - begun for at in (_reached(path, WARM_C), _reached(path, COLD_C)))
    perfringens = growth.perfringens_while_cooling(hours, temps)
    grown = growth.cereus_while_cooling(hours, temps)
    cereus = grown[-1] - grown[0]
    worst = cereus + 1 if rice and cereus > CEREUS_NONE else 0.0
    fault = _fault(to_21, to_5, perfringens, worst, hours[-1] - begun)
    return CoolingVerdict(
        not fault, to_21, to_5, perfringens, cereus,
        f"{fault}: eat it now, hot, and do not store it" if fault else "It cooled in time and may be stored",
        f"{source_of('cool_hot_food_1', 'cool_hot_food_2')}; growth models of Juneja et al. (2011, 2019)",
    )  # fmt: skip


def _reached(path: Sequence[tuple[float, float]], temp_c: float) -> float | None:
    """The hour at which a path first is at or below a temperature; None where it never is."""
    if path[0][1] <= temp_c:
        return path[0][0]
    for (h0, t0), (h1, t1) in pairwise(path):
        if t1 <= temp_c < t0:
            return h0 + (h1 - h0) * (t0 - temp_c) / (t0 - t1)
    return None


def _fault(to_21: float | None, to_5: float | None, perfringens: float, cereus: float, lasted: float) -> str:
    """What is wrong with a cooling, empty where nothing is; a path that ends early is judged by what it shows."""
    if (to_21 if to_21 is not None else lasted) > FIRST_STAGE_HOURS:
        return f"It took more than {FIRST_STAGE_HOURS:g} hours from 57 to 21 °C"
    if (to_5 if to_5 is not None else lasted) > BOTH_STAGES_HOURS:
        return f"It took more than {BOTH_STAGES_HOURS:g} hours from 57 to 5 °C"
    if perfringens >= 1:
        return "Clostridium perfringens may have grown tenfold"
    return "Bacillus cereus may have grown tenfold" if cereus >= 1 else ""


def _said(litres: float, house: House, ways: tuple[Way, ...]) -> str:
    as_is = ways[0]
    if as_is.in_time:
        return f"{litres:g} l cool in their pot in {days_said(as_is.hours / 24)}; then into the refrigerator."
    need = "never cool enough" if math.isinf(as_is.hours) else f"need {days_said(as_is.hours / 24)}"
    begin = f"{litres:g} l in their pot {need} at {house.room_c:g} °C, and 2 hours are allowed"
    best = next((way for way in ways if way.in_time), None)
    if best is None:
        return f"{begin}: cook a smaller pot, or eat it now and do not store it."
    return f"{begin}: {best.said} ({days_said(best.hours / 24)})."
