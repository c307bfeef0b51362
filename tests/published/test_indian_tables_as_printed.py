"""Single figures of the Indian tables as the book prints them.

Source: Indian Food Composition Tables 2017 (National Institute of Nutrition, Hyderabad), proximate principles, fat
soluble vitamins, minerals and trace elements, water soluble vitamins, carotenoids.
"""

import pytest

from chauka import tables
from chauka.tables import ValueStatus

PRINTED = [
    ("A010", "ENERC", "1342", 10),  # ragi
    ("A010", "CA", "364", 58),
    ("A010", "VITD", "41.46", 3.12),
    ("A015", "ENERC", "1491", 15),  # rice, raw, milled
    ("A015", "PROCNT", "7.94", 0.58),
    ("A015", "VITE", "0.06", 0.03),
    ("A019", "FIBTG", "11.36", 0.29),  # wheat flour, atta
    ("B012", "VITK1", "10.24", 1.40),  # horse gram
    ("C002", "WATER", "86.85", 1.21),  # amaranth leaves, green
    ("C026", "PROCNT", "3.52", 0.21),  # mustard leaves
    ("C033", "FE", "2.95", 0.68),  # spinach
    ("C033", "VITK1", "325", 2.3),
    ("D007", "ENERC", "46", 6),  # bottle gourd
    ("D032", "CHOAVLDF", "2.11", 0.11),  # broad beans
]


@pytest.mark.parametrize(("code", "tag", "mean", "spread"), PRINTED)
def test_value_is_as_printed(code: str, tag: str, mean: str, spread: float) -> None:
    """Mean to the printed digits, and the spread printed after ±."""
    value = tables.food(code).value(tag)
    assert value.status is ValueStatus.KNOWN
    assert value.mean == pytest.approx(float(mean), abs=1e-9)
    assert value.se == pytest.approx(spread, abs=1e-9)


def test_rice_in_kilocalories() -> None:
    """1491 kJ of rice are 356 kcal."""
    assert tables.food("A015").value("ENERC_KCAL").mean == pytest.approx(356.4, abs=0.05)


def test_blank_in_a_printed_table_is_a_trace() -> None:
    """Rice has no ergocalciferol above the detectable limit: the book prints a blank among figures."""
    assert tables.food("A015").value("ERGCAL").status is ValueStatus.TRACE


def test_one_region_has_no_spread() -> None:
    """Amaranth seed, black, was sampled in one region: no ± is printed."""
    assert tables.food("A001").value("CA").se is None


def test_vitamin_a_of_carrot_is_from_its_carotenes() -> None:
    """5423 µg of beta- and 2654 µg of alpha-carotene are 562.5 µg RAE (beta/12 + alpha/24, IOM 2001)."""
    carrot = tables.food("F002")
    assert carrot.value("CARTB").mean == 5423
    assert carrot.value("VITA_RAE").mean == pytest.approx(5423 / 12 + 2654 / 24, abs=0.01)


def test_milk_has_unknown_retinol_not_none() -> None:
    """The book has no retinol and no cholesterol of milk: missing, and vitamin A present but unknown."""
    milk = tables.food("L002")
    assert milk.value("RETOL").status is ValueStatus.MISSING
    assert milk.value("CHOLE").status is ValueStatus.MISSING
    assert milk.value("VITA_RAE").status is ValueStatus.PRESENT
