"""USDA's own calculation of boiled frozen okra, repeated along our single-food path.

Source: USDA National Nutrient Database for Standard Reference, Release 28 (2016), NUT_DATA: NDB 11280 (okra, frozen,
unprepared) and NDB 11281 (cooked, boiled, drained, without salt), whose derivation codes BFSY and BFSN say "based on
another form of the food, concentration adjustment by solids", with and without retention factors. Factors: USDA Table
of Nutrient Retention Factors, Release 6 (2007), code 3789.
"""

from decimal import Decimal

import numpy as np
import pytest

from chauka.composition import cooked_amount, yield_by_solids
from chauka.composition.retention import published_factors

WATER_RAW, WATER_COOKED, CODE = 90.82, 91.12, 3789

# tag: raw, published cooked as printed, whether USDA applied a retention factor
OKRA = {
    "PROCNT": (1.69, "1.63", False),
    "FAT": (0.25, "0.24", False),
    "FIBTG": (2.2, "2.1", False),
    "CA": (81, "74", True),
    "FE": (0.57, "0.52", True),
    "MG": (43, "40", True),
    "P": (42, "37", True),
    "K": (211, "184", True),
    "NA": (3, "3", True),
    "ZN": (0.53, "0.49", True),
    "CU": (0.083, "0.076", True),
    "MN": (0.873, "0.844", False),
    "SE": (0.6, "0.6", False),
    "VITC": (12.4, "9.6", True),
    "RIBF": (0.105, "0.096", True),
    "NIA": (0.708, "0.616", True),
    "PANTAC": (0.216, "0.209", False),
    "VITB6A": (0.042, "0.037", True),
    "FOL": (148, "100", True),
    "FOLFD": (148, "100", True),
    "CARTB": (210, "183", True),
    "LUT_ZEA": (482, "420", True),
    "CHOLN": (11.4, "11.1", True),
    "THIA": (0.089, "0.073", True),
}

DIFFERING = {
    "THIA": "USDA's value implies a factor of 0.85; Release 6 prints 0.90 for code 3789",
    "CHOLN": "11.4 × solids gives 11.03 even with factor 1.00; USDA prints 11.1 (0.6 % more; why is not known)",
}


def cooked(tag: str) -> float:
    """Per 100 g cooked: raw × retention ÷ yield, by the same functions that work out a dish."""
    raw, _, with_factor = OKRA[tag]
    factor = published_factors(CODE).get(tag, 1.0) if with_factor else 1.0
    hundred_g = np.array([100.0])
    total = cooked_amount(hundred_g, np.array([raw / 100]), np.array([factor])).sum()
    return float(total) / yield_by_solids(WATER_RAW, WATER_COOKED)


def agrees(tag: str) -> bool:
    """Whether ours, rounded to the digits that USDA prints, is what USDA prints."""
    printed = Decimal(OKRA[tag][1])
    half_a_digit = Decimal(5).scaleb(printed.as_tuple().exponent - 1)
    return abs(Decimal(repr(round(cooked(tag), 9))) - printed) <= half_a_digit


def test_yield() -> None:
    """Solids conserved: 100 g raw become 103.4 g cooked."""
    assert yield_by_solids(WATER_RAW, WATER_COOKED) == pytest.approx(1.0338, abs=5e-5)


@pytest.mark.parametrize("tag", [t for t in OKRA if t not in DIFFERING])
def test_22_of_24_nutrients_to_the_printed_digits(tag: str) -> None:
    """Ours rounds to USDA's figure."""
    assert agrees(tag), f"{tag}: {cooked(tag)} against {OKRA[tag][1]}"


@pytest.mark.parametrize("tag", DIFFERING)
def test_the_two_that_differ_are_known(tag: str) -> None:
    """These two do not agree; should they ever, the table has changed."""
    assert not agrees(tag)


def test_all_24_are_covered() -> None:
    """22 agree and 2 differ."""
    assert len(OKRA) == 24
    assert sum(agrees(tag) for tag in OKRA) == 22
