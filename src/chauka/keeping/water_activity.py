"""Water activity (aw) of syrups, brines and sides that hold both: Norrish, Pitzer, and Ross's product."""

from __future__ import annotations

import math
from collections.abc import Mapping
from functools import cache, reduce
from types import MappingProxyType

from chauka import tables
from chauka.errors import InputError

WATER_G_PER_MOL = 18.0153
NACL_G_PER_MOL = 58.443
_BETA0, _BETA1, _C_PHI, _A_PHI, _B, _ALPHA = 0.0765, 0.2664, 0.00127, 0.3915, 1.2, 2.0
"""Pitzer & Mayorga (1973), sodium chloride at 25 °C (from memory)."""

SATURATED_NACL_MOLAL = 6.15
"""Where salt no longer dissolves at 25 °C [mol/kg water] (from memory)."""

_SATURATED = {
    "MgCl2": (151.065, -1.6271),
    "K2CO3": (-3.024, -0.83),
    "NaBr": (447.805, -2.0575),
    "NaCl": (23.1092, -0.3607),
    "KCl": (157.059, -0.6967),
    "K2SO4": (52.7544, -0.2046),
}


@cache
def _norrish() -> Mapping[str, tuple[float, float]]:
    """Norrish's K and the molar mass [g/mol] of each solute of table `water_activity_constants`."""
    return MappingProxyType(
        {
            row["solute"]: (float(row["value"]), float(row["molar_mass_g_mol"]))
            for row in tables.rows("water_activity_constants")
            if row["parameter"] == "K"
        }
    )


def aw_norrish(solute: str, grams: float, water_g: float) -> float:
    """Water activity of one sugar in water: aw = Xw · exp(−K · Xs²), X in mole fractions.

    Parameters
    ----------
    solute
        sucrose, glucose, fructose, maltose, lactose, glycerol or sorbitol.
    grams, water_g
        Of the solute and of all the water [g].

    References
    ----------
    Chirife, Ferro Fontan & Benmergui (1980), J Food Technol 15:59 (constants from memory).
    """
    if solute not in _norrish():
        raise InputError({"solute": (f"{solute!r} has no constant; there is {', '.join(sorted(_norrish()))}",)})
    _check(grams, water_g)
    k, molar = _norrish()[solute]
    water, sugar = water_g / WATER_G_PER_MOL, grams / molar
    x_sugar = sugar / (water + sugar)
    return (1 - x_sugar) * math.exp(-k * x_sugar**2)


def aw_salt(grams: float, water_g: float) -> float:
    """Water activity of sodium chloride in water at 25 °C by Pitzer's equation; saturated brine at most.

    ln aw = −2 · m · φ · 0.0180153, m in mol per kg water. Pitzer & Mayorga (1973) (from memory).
    """
    _check(grams, water_g)
    molal = min(SATURATED_NACL_MOLAL, grams / NACL_G_PER_MOL / water_g * 1000)
    root = math.sqrt(molal)
    phi = 1 - _A_PHI * root / (1 + _B * root) + molal * (_BETA0 + _BETA1 * math.exp(-_ALPHA * root)) + molal**2 * _C_PHI
    return math.exp(-2 * molal * phi * WATER_G_PER_MOL / 1000)


def aw_mixture(solutes: Mapping[str, float], water_g: float) -> float:
    """Water activity of several solutes [g], each taken in all the water, multiplied.

    `salt` stands for sodium chloride. Ross (1975), Food Technol 29(3):26 (from memory). What is not
    named, acid, pectin, fibre, binds water as well: the true value is a little lower.
    """
    parts = (aw_salt(g, water_g) if name == "salt" else aw_norrish(name, g, water_g) for name, g in solutes.items())
    return reduce(lambda product, aw: product * aw, parts, 1.0)


def aw_money_born(sugar_mol: float, water_g: float) -> float:
    """Money and Born's rule for syrups: 1 ÷ (1 + 0.27 n), n mol sugar per 100 g water (1951, from memory)."""
    _check(sugar_mol, water_g)
    return 1 / (1 + 0.27 * sugar_mol / water_g * 100)


def aw_saturated(salt: str, temp_c: float = 25.0) -> float:
    """Water activity over a saturated salt solution, ln aw = a/T + b (Labuza's fit, as read in a public copy)."""
    if salt not in _SATURATED:
        raise InputError({"salt": (f"{salt!r} has no fit; there is {', '.join(_SATURATED)}",)})
    a, b = _SATURATED[salt]
    return math.exp(a / (temp_c + 273.15) + b)


def _check(solute: float, water_g: float) -> None:
    if solute < 0:
        raise InputError({"solute": (f"{solute:g} is below zero",)})
    if water_g <= 0:
        raise InputError({"water_g": (f"{water_g:g} g of water is none; weigh the yield, water is what is left",)})
