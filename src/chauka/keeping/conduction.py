"""How heat leaves a body through its middle: the series solutions behind Heisler's charts, and Newton's law.

θ is the temperature above the surroundings ÷ that at the start; Bi = h·L/k, Fo = α·t/L², L the half
thickness of a slab or the radius of a cylinder or sphere.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from enum import Enum
from functools import lru_cache

from chauka.errors import InputError

_TERMS = 60


class Shape(Enum):
    """A body that is long in every other direction."""

    SLAB = "slab"
    CYLINDER = "cylinder"
    SPHERE = "sphere"


def theta(shape: Shape, bi: float, fo: float, at: float = 0.0) -> float:
    """θ at a place between the middle (`at` 0) and the surface (1), from the series of 60 terms.

    References
    ----------
    Carslaw & Jaeger, Conduction of Heat in Solids (from memory).
    """
    if bi <= 0 or fo < 0 or not 0 <= at <= 1:
        raise InputError({"body": (f"Bi {bi:g}, Fo {fo:g}, place {at:g}: Bi above 0, Fo from 0, place 0 to 1",)})
    if fo == 0:
        return 1.0
    total = 0.0
    for n in range(_TERMS):
        root = _root(shape, bi, n)
        term = _coefficient(shape, root) * math.exp(-(root**2) * fo)
        total += term * _profile(shape, root * at)
        if abs(term) < 1e-15:
            break
    return total


def theta_short_cylinder(bi_half_height: float, fo_half_height: float, bi_radius: float, fo_radius: float) -> float:
    """θ in the middle of a pot: the slab of its height times the long cylinder of its radius."""
    return theta(Shape.SLAB, bi_half_height, fo_half_height) * theta(Shape.CYLINDER, bi_radius, fo_radius)


def newton_hours(*, kg: float, j_per_kg_k: float, h_w_m2k: float, area_m2: float, theta_end: float) -> float:
    """Hours until a body that is one temperature all through has cooled to θ (Newton's law of cooling)."""
    if not 0 < theta_end < 1:
        raise InputError({"theta": (f"{theta_end:g} must lie between 0 and 1: it cools towards its surroundings",)})
    return -math.log(theta_end) * kg * j_per_kg_k / (h_w_m2k * area_m2) / 3600


def fourier_at(shape: Shape, bi: float, theta_end: float) -> float:
    """The Fourier number at which the middle reaches θ."""
    if not 0 < theta_end < 1:
        raise InputError({"theta": (f"{theta_end:g} must lie between 0 and 1: it cools towards its surroundings",)})
    low, high = 0.0, 1.0
    while theta(shape, bi, high) > theta_end:
        low, high = high, 2 * high
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if theta(shape, bi, middle) > theta_end else (low, middle)
    return (low + high) / 2


@lru_cache(maxsize=4096)
def _root(shape: Shape, bi: float, n: int) -> float:
    """Eigenvalue n: one in every stretch on which the condition at the surface changes sign once."""
    match shape:
        case Shape.SLAB:
            return _bisect(lambda x: x * math.sin(x) - bi * math.cos(x), n * math.pi, (n + 0.5) * math.pi)
        case Shape.CYLINDER:
            return _bisect(lambda x: x * _bessel(1, x) - bi * _bessel(0, x), _zero_of_j1(n), _zero_of_j1(n + 1))
        case Shape.SPHERE:
            return _bisect(
                lambda x: (1 - bi) * math.sin(x) - x * math.cos(x), max(n * math.pi, 1e-6), (n + 1) * math.pi
            )


def _coefficient(shape: Shape, x: float) -> float:
    match shape:
        case Shape.SLAB:
            return 4 * math.sin(x) / (2 * x + math.sin(2 * x))
        case Shape.CYLINDER:
            return 2 / x * _bessel(1, x) / (_bessel(0, x) ** 2 + _bessel(1, x) ** 2)
        case Shape.SPHERE:
            return 4 * (math.sin(x) - x * math.cos(x)) / (2 * x - math.sin(2 * x))


def _profile(shape: Shape, x: float) -> float:
    match shape:
        case Shape.SLAB:
            return math.cos(x)
        case Shape.CYLINDER:
            return _bessel(0, x)
        case Shape.SPHERE:
            return math.sin(x) / x if x else 1.0


def _bisect(function: Callable[[float], float], low: float, high: float) -> float:
    below = function(low) < 0
    for _ in range(60):
        middle = (low + high) / 2
        if (function(middle) < 0) == below:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _bessel(order: int, x: float) -> float:
    """J of order 0 or 1 by Bessel's integral: on a whole period the trapezoid rule is exact to rounding."""
    steps = 32 + 2 * int(abs(x))
    return sum(math.cos(order * a - x * math.sin(a)) for a in (math.tau * i / steps for i in range(steps))) / steps


@lru_cache(maxsize=_TERMS + 2)
def _zero_of_j1(n: int) -> float:
    """Zero n of J1: 0, then one near every (n + ¼)·π."""
    near = (n + 0.25) * math.pi
    return _bisect(lambda x: _bessel(1, x), near - 0.5, near + 0.5) if n else 0.0
