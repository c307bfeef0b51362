"""At how many degrees water boils on a hill, in an open pot and under pressure, and how much longer that takes."""

from __future__ import annotations

import math

from chauka.errors import InputError

SEA_LEVEL_KPA = 101.325
COOK_Z_C = 33.0
"""Warmer by this much, food cooks ten times as fast [°C]: the conventional z of the cook value, from memory."""

_N = (
    0.11670521452767e4, -0.72421316703206e6, -0.17073846940092e2, 0.12020824702470e5, -0.32325550322333e7,
    0.14915108613530e2, -0.48232657361591e4, 0.40511340542057e6, -0.23855557567849, 0.65017534844798e3,
)  # fmt: skip
"""IAPWS-IF97, region 4 (coefficients from memory; checked against values of the iapws library)."""


def air_pressure_kpa(altitude_m: float) -> float:
    """Air pressure of the standard atmosphere [kPa], from sea level to 11 000 m."""
    if not -500 <= altitude_m <= 11_000:
        raise InputError({"altitude_m": (f"{altitude_m:g} m is nowhere to cook; give metres above the sea",)})
    return float(SEA_LEVEL_KPA * (1 - 2.25577e-5 * altitude_m) ** 5.25588)


def boils_at_kpa(pressure_kpa: float) -> float:
    """Boiling point of water at an absolute pressure [°C], by the backward equation of IAPWS-IF97."""
    beta = math.sqrt(math.sqrt(pressure_kpa / 1000))
    e = beta**2 + _N[2] * beta + _N[5]
    f = _N[0] * beta**2 + _N[3] * beta + _N[6]
    g = _N[1] * beta**2 + _N[4] * beta + _N[7]
    d = 2 * g / (-f - math.sqrt(f**2 - 4 * e * g))
    return (_N[9] + d - math.sqrt((_N[9] + d) ** 2 - 4 * (_N[8] + _N[9] * d))) / 2 - 273.15


def boiling_point_c(altitude_m: float) -> float:
    """Boiling point of water in an open pot at an altitude [°C]."""
    return boils_at_kpa(air_pressure_kpa(altitude_m))


def cooker_c(gauge_kpa: float, altitude_m: float = 0.0) -> float:
    """Temperature in a pressure cooker whose valve lifts at a gauge pressure, steam without air [°C]."""
    if gauge_kpa < 0:
        raise InputError({"gauge_kpa": (f"{gauge_kpa:g} kPa is below zero",)})
    return boils_at_kpa(air_pressure_kpa(altitude_m) + gauge_kpa)


def equivalent_minutes(minutes: float, temp_c: float, reference_c: float, z_c: float = COOK_Z_C) -> float:
    """Minutes at the reference temperature that do as much as `minutes` at `temp_c`: 10^((T − Tref) ÷ z)."""
    return float(minutes * 10 ** ((temp_c - reference_c) / z_c))


def boil_longer(altitude_m: float) -> float:
    """How many times as long food must boil in an open pot as at sea level."""
    return equivalent_minutes(1, boiling_point_c(0), boiling_point_c(altitude_m))


def pressure_cook_longer(altitude_m: float, gauge_kpa: float = 80.0) -> float:
    """The same for a pressure cooker of a gauge pressure; 80 kPa is usual (common practice, no source)."""
    return equivalent_minutes(1, cooker_c(gauge_kpa, 0), cooker_c(gauge_kpa, altitude_m))
