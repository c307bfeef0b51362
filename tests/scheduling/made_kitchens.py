"""Kitchens that hypothesis makes up: dishes of any shape, and houses short of one thing or another."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from hypothesis import strategies as st
from tests.scheduling.dinners import dish, house, line

from chauka.kitchen import (
    HOT_OIL,
    After,
    Attention,
    Cook,
    Dish,
    Heat,
    House,
    Served,
    Step,
    Technique,
    Vessel,
    VesselStock,
)
from chauka.units import Span

COLD = (Technique.CUT, Technique.REST, Technique.MIX, Technique.KNEAD, Technique.WASH)
HOT: Mapping[Technique, tuple[Vessel | None, ...]] = {
    Technique.SIMMER: (Vessel.POT, Vessel.WOK, Vessel.PRESSURE_COOKER),
    Technique.SAUTE: (Vessel.WOK,),
    Technique.TEMPER: (Vessel.LADLE, Vessel.WOK),
    Technique.GRIDDLE: (Vessel.GRIDDLE,),
    Technique.PRESSURE_COOK: (Vessel.PRESSURE_COOKER,),
    Technique.BAKE: (Vessel.OVEN,),
}
SIZED = (Vessel.POT, Vessel.WOK, Vessel.PRESSURE_COOKER)


@st.composite
def steps(draw: st.DrawFn) -> tuple[Step, ...]:
    """One to five steps, each after some earlier one or none."""
    made: list[Step] = []
    for number in range(draw(st.integers(1, 5))):
        after: tuple[After, ...] = ()
        if draw(st.booleans()) and made:
            least = draw(st.integers(0, 5))
            most = draw(st.sampled_from([None, least + 2, least + 20]))
            after = (After(draw(st.sampled_from(made)).id, least, most),)
        technique = draw(st.sampled_from((*COLD, *sorted(HOT))))
        heat = draw(st.sampled_from([Heat.LOW, Heat.HIGH])) if technique in HOT else Heat.NONE
        vessel = draw(st.sampled_from(HOT.get(technique, (None, Vessel.BOWL))))
        low = draw(st.integers(1, 15))
        span, attention = Span(low, low + draw(st.integers(0, 6))), draw(st.sampled_from(Attention))
        lines = ("onion",) if technique in (Technique.CUT, Technique.SIMMER) else ()
        made.append(Step(f"s{number}", f"step {number}", technique, span, attention, vessel, heat, after, lines))
    return tuple(made)


@st.composite
def dinners(draw: st.DrawFn) -> list[tuple[Dish, float]]:
    """One to four dishes for two to eight."""
    out = []
    for number in range(draw(st.integers(1, 4))):
        onion = line("onion", draw(st.sampled_from([50, 900, 2500])))
        hold = draw(st.integers(0, 20))
        made = dish(f"d{number}", *draw(steps()), lines=(onion,), served=draw(st.sampled_from(Served)), hold=hold)
        out.append((made, draw(st.sampled_from([2.0, 4.0, 8.0]))))
    return out


@st.composite
def houses(draw: st.DrawFn) -> House:
    """One to three burners of which some are small, vessels of two sizes, one or two cooks, not all of them for all."""
    burners, cooks = draw(st.integers(1, 3)), draw(st.integers(1, 2))
    kit = house(burners=burners, cooks=cooks, oven=draw(st.integers(0, 1)))
    others = tuple(v for v in kit.vessels if v.kind not in SIZED)
    sizes = [VesselStock(kind, 1, litres) for kind in SIZED for litres in draw(st.sampled_from(_SIZES))]
    child = Cook("child", HOT_OIL, draw(st.sampled_from([1.0, 1.5])))
    return replace(
        kit,
        vessels=(*others, *sizes),
        small_burners=draw(st.integers(0, burners - 1)),
        bench_places=draw(st.sampled_from([None, 1])),
        crew=(Cook("grown-up"), child) if draw(st.booleans()) else (),
    )


_SIZES = ((None,), (5.0,), (2.0, 5.0), (2.0, 2.0, 6.0))
