"""How fast the organisms that matter grow: published models, only those rows that were verified.

Every rate is μ, the specific growth rate [1/h, natural logarithm]; 0 where the organism does not grow.
pH and water activity (aw) unknown means: take 6.5 and 0.99, where they grow well.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

LN10 = math.log(10)
USUAL_PH, USUAL_AW = 6.5, 0.99
LISTERIA_MARGIN = 1.5
"""The Listeria model errs to the slow side near 0 °C and above 20 °C: times are divided by this."""

BARANYI_H0 = 4.1
_CEREUS_TOP_LOG = 8.03


def listeria_mejlholm(temp_c: float, ph: float = USUAL_PH, aw: float = USUAL_AW) -> float:
    """Listeria monocytogenes in chilled food of pH above 5.

    References
    ----------
    Mejlholm & Dalgaard (2009), J Food Prot 72:2132; acids, smoke and nitrite taken as absent.
    """
    if temp_c <= -2.83 or aw <= 0.923 or ph <= 4.97:
        return 0.0
    warmth = ((temp_c + 2.83) / 27.83) ** 2
    return float(0.419 * warmth * (aw - 0.923) / 0.077 * (1 - 10 ** (4.97 - ph)))


def listeria_augustin(temp_c: float, ph: float, aw: float = USUAL_AW, *, optimum: float = 0.742) -> float:
    """Listeria monocytogenes below pH 5; `optimum` is 0.742 for dairy, 1.168 for meat.

    References
    ----------
    Augustin et al. (2005), J Appl Microbiol 99:1019.
    """
    if aw <= 0.913:
        return 0.0
    warmth = _cardinal(temp_c, -1.72, 37, 45.5, order=2)
    return optimum * warmth * _cardinal(ph, 4.71, 7.1, 9.61, order=1) * (aw - 0.913) / 0.084


def cereus_cooling(temp_c: float) -> float:
    """Bacillus cereus in cooked rice, 10 to 49 °C (Juneja, Golden, Mishra et al. 2019)."""
    if not 8.67 < temp_c < 49.68:
        return 0.0
    return 0.0046 * (temp_c - 8.67) ** 2 * (1 - math.exp(0.0656 * (temp_c - 49.68)))


def cereus_cold(temp_c: float, ph: float = USUAL_PH, aw: float = USUAL_AW) -> float:
    """Bacillus cereus of the kind that grows in the cold, the worst case below 8 °C (Zwietering et al. 1996)."""
    if not 0 < temp_c <= 37 or not 4.9 < ph < 8.1 or aw <= 0.95:
        return 0.0
    return 2 * (temp_c / 37) ** 2 * ((ph - 4.9) * (8.1 - ph) / 1.6**2) * ((aw - 0.95) / 0.05)


def perfringens(temp_c: float) -> float:
    """Clostridium perfringens, 10 to 51 °C, from uncured beef: careful for pulses (Juneja et al. 2011)."""
    if not 10.15 < temp_c < 53.0:
        return 0.0
    return (0.050 * (temp_c - 10.15)) ** 2 * (1 - math.exp(0.238 * (temp_c - 53.0)))


def aureus(temp_c: float) -> float:
    """Staphylococcus aureus in milk, 10 to 34 °C (Fujikawa & Morozumi 2006, Food Microbiol 23:260)."""
    return (0.0442 * (temp_c - 5.407)) ** 2 if temp_c > 5.407 else 0.0


def doubling_hours(rate: float) -> float:
    """Hours in which a population doubles; infinite where it does not grow."""
    return math.log(2) / rate if rate > 0 else math.inf


def hours_to(log10_increase: float, rate: float) -> float:
    """Hours until it has grown by so many powers of ten, no lag credited; infinite where it does not grow."""
    return log10_increase * LN10 / rate if rate > 0 else math.inf


def reheated_limit(temp_c: float, ph: float | None = None, aw: float | None = None) -> tuple[float, str, str]:
    """Days until B. cereus grows tenfold in cooked food at 0 to 15 °C, its name, and the model's source.

    Its toxin survives reheating. No lag is credited.
    """
    ph, aw = USUAL_PH if ph is None else ph, USUAL_AW if aw is None else aw
    rate = max(cereus_cold(temp_c, ph, aw), cereus_cooling(temp_c) if temp_c > 8 else 0.0)
    return hours_to(1, rate) / 24, "Bacillus cereus", "growth model of Zwietering et al. (1996), worst case"


def cold_eaten_limit(temp_c: float, ph: float | None = None, aw: float | None = None) -> tuple[float, str, str]:
    """The same for food that is not heated again, where Listeria counts too; its time is divided by 1.5."""
    ph, aw = USUAL_PH if ph is None else ph, USUAL_AW if aw is None else aw
    if ph > 5:
        rate, source = listeria_mejlholm(temp_c, ph, aw), "growth model of Mejlholm & Dalgaard (2009) JFP 72:2132"
    else:
        rate, source = listeria_augustin(temp_c, ph, aw), "growth model of Augustin et al. (2005) JAM 99:1019"
    listeria = (hours_to(1, rate * LISTERIA_MARGIN) / 24, "Listeria", source)
    return min(listeria, reheated_limit(temp_c, ph, aw))


def cereus_while_cooling(hours: Sequence[float], temps_c: Sequence[float], start_log10: float = 2.0) -> list[float]:
    """log10 of B. cereus in cooked rice along a cooling curve, with the lag of spores that survived boiling.

    Baranyi's model with h0 4.1 and at most 8.03 log, temperature straight between the points. Against
    15 to 21 hours of real cooling it came out 0.4 to 1.0 log low in every case: add 1 log.

    References
    ----------
    Juneja, Golden, Mishra et al. (2019); checked against the USDA ARS predictive model page 2021166.
    """
    log_q = -math.log(math.exp(BARANYI_H0) - 1)
    ln_n, top = start_log10 * LN10, _CEREUS_TOP_LOG * LN10
    out = [start_log10]
    for begin, end, warm, cold in zip(hours, hours[1:], temps_c, temps_c[1:], strict=False):
        steps = max(1, math.ceil((end - begin) * 100))
        dt = (end - begin) / steps
        for i in range(steps):
            mu = cereus_cooling(warm + (cold - warm) * (i + 0.5) / steps)
            ready = 1 / (1 + math.exp(-(log_q + mu * dt / 2)))
            ln_n += mu * dt * ready * (1 - math.exp(min(0.0, ln_n - top)))
            log_q += mu * dt
        out.append(ln_n / LN10)
    return out


def perfringens_while_cooling(hours: Sequence[float], temps_c: Sequence[float]) -> float:
    """How much C. perfringens grows along a cooling curve [log10], no lag credited, temperature straight between."""
    grown = 0.0
    for begin, end, warm, cold in zip(hours, hours[1:], temps_c, temps_c[1:], strict=False):
        steps = max(1, math.ceil((end - begin) * 60))
        grown += (
            sum(perfringens(warm + (cold - warm) * (i + 0.5) / steps) for i in range(steps)) * (end - begin) / steps
        )
    return grown / LN10


def left_warm_limit(temp_c: float) -> tuple[float, str, str]:
    """Days until food that is left out has grown what it must not, the organism, and the model's source.

    Tenfold for the spores that survive cooking (B. cereus, C. perfringens), thousandfold for the S. aureus
    that hands bring, whose toxin needs that many. No lag is credited.
    """
    cereus = max(cereus_cold(temp_c), cereus_cooling(temp_c))
    return min(
        (
            hours_to(1, cereus) / 24,
            "Bacillus cereus",
            "growth models of Zwietering et al. (1996), Juneja et al. (2019)",
        ),
        (hours_to(1, perfringens(temp_c)) / 24, "Clostridium perfringens", "growth model of Juneja et al. (2011)"),
        (hours_to(3, aureus(temp_c)) / 24, "Staphylococcus aureus", "growth model of Fujikawa & Morozumi (2006)"),
    )


def _cardinal(x: float, low: float, best: float, high: float, *, order: int) -> float:
    """Rosso's cardinal model: 0 at `low` and `high`, 1 at `best`."""
    if not low < x < high:
        return 0.0
    top = (x - high) * (x - low) ** order
    bottom = (best - low) ** (order - 1) * (
        (best - low) * (x - best) - (best - high) * ((order - 1) * best + low - order * x)
    )
    return top / bottom
