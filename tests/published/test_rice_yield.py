"""Rice gains water as published.

Source: Standard Tables of Food Composition in Japan 2020 (8th revised edition), items 01083 and 01088: raw white rice
holds 85.1 g of solids in 100 g, cooked white rice 40.0 g; the remarks say that 100 g cooked hold 47 g raw.
"""

import pytest

from chauka.composition import yield_by_solids


def test_yield_by_solids_gives_the_published_weight_of_raw_rice() -> None:
    """100 g of cooked rice come from 47 g raw, to the gram printed."""
    assert round(100 / yield_by_solids(100 - 85.1, 100 - 40.0)) == 47


def test_protein_falls_short_of_it() -> None:
    """6.1 g of protein in 100 g raw give 2.87 g; 2.5 g are printed, since rice is washed: washing is not modelled."""
    predicted = 6.1 / yield_by_solids(100 - 85.1, 100 - 40.0)
    assert predicted == pytest.approx(2.87, abs=0.01)
    assert predicted > 2.5
