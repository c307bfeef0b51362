"""How long heat takes to the middle of a piece, and how much longer everything boils on a hill."""

from __future__ import annotations

from dataclasses import dataclass

from chauka.errors import Complaints
from chauka.keeping.boiling import boil_longer, boiling_point_c, cooker_c, pressure_cook_longer
from chauka.keeping.conduction import Shape, fourier_at
from chauka.kitchen import House

BOILING_W_M2K = 1500.0
"""Heat taken up from boiling water [W/(m²·K)] (usual figure, from memory)."""

DIFFUSIVITY_M2_S, W_PER_M_K = 1.4e-7, 0.55
"""Of vegetables, mostly water (usual figures, from memory)."""

COOKED_C = 85.0
"""The middle of a root or tuber is tender soon after this [°C] (usual figure, from memory)."""


@dataclass(frozen=True, slots=True)
class AltitudeAdvice:
    """What height above the sea does here: boiling point and cooker [°C], and how many times as long food takes."""

    boils_c: float
    cooker_c: float
    boil_times: float
    cooker_times: float
    text: str
    source: str


def minutes_to_heat(
    thickness_mm: float,
    shape: Shape = Shape.SPHERE,
    *,
    altitude_m: float = 0.0,
    from_c: float = 20.0,
    to_c: float = COOKED_C,
) -> float:
    """Minutes in boiling water until the middle of a piece has reached `to_c` [min].

    Parameters
    ----------
    thickness_mm
        Diameter of a sphere or cylinder, thickness of a slice [mm].
    """
    boils_c = boiling_point_c(altitude_m)
    bad = Complaints("piece")
    bad.check(0 < thickness_mm <= 300, "thickness_mm", f"{thickness_mm:g} mm is no piece of food")
    bad.check(from_c < to_c < boils_c, "to_c", f"{to_c:g} °C does not lie between {from_c:g} and {boils_c:.1f} °C")
    bad.raise_if_any()
    half_m = thickness_mm / 2000
    end = (boils_c - to_c) / (boils_c - from_c)
    return fourier_at(shape, BOILING_W_M2K * half_m / W_PER_M_K, end) * half_m**2 / DIFFUSIVITY_M2_S / 60


def altitude_advice(house: House, *, gauge_kpa: float = 80.0) -> AltitudeAdvice:
    """At how many degrees water boils in a house, and how much longer to boil and to pressure-cook there."""
    boils, cooker = boiling_point_c(house.altitude_m), cooker_c(gauge_kpa, house.altitude_m)
    longer, cooker_longer = boil_longer(house.altitude_m), pressure_cook_longer(house.altitude_m, gauge_kpa)
    text = (
        f"At {house.altitude_m:g} m water boils at {boils:.1f} °C: what boils 20 minutes at sea level takes "
        f"{20 * longer:.0f}, and 10 minutes in the pressure cooker ({cooker:.0f} °C) become {10 * cooker_longer:.0f}."
    )
    source = "standard atmosphere; IAPWS-IF97; cook value with z 33 °C (from memory)"
    return AltitudeAdvice(boils, cooker, longer, cooker_longer, text, source)
