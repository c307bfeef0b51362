"""Keeping against the agencies' rules: the Food Code's tables, caps of the household, and two rules of custom.

Sources: FDA Food Code 2022, Tables A and B; USDA FSIS, Hong Kong, UK and New Zealand advice on leftovers as
named in table food_rules. The two rules on picked greens and sour sides are common practice, no source.
"""

from __future__ import annotations

import csv
from dataclasses import replace
from pathlib import Path

import pytest
from tests.keeping.houses import EXPECTING, HOUSE, dish, line

from chauka import tables
from chauka.keeping import dish_life, food_life
from chauka.keeping.foods import kept_foods
from chauka.keeping.tcs import open_food, packed_after_heat
from chauka.kitchen import Course, Form, Place, Served

SHARED = Path(__file__).parents[2] / ".." / "shared" / "reference" / "keeping"

CASES = (
    ("A", 4.6, 0.99, "non-TCS"),
    ("A", 5.6, 0.95, "non-TCS"),
    ("A", 5.6, 0.951, "PA"),
    ("A", 5.61, 0.93, "PA"),
    ("A", 6.8, 0.96, "PA"),
    ("B", 4.19, 0.99, "non-TCS"),
    ("B", 4.2, 0.92, "non-TCS"),
    ("B", 4.6, 0.91, "non-TCS"),
    ("B", 4.61, 0.91, "PA"),
    ("B", 5.01, 0.9, "PA"),
    ("B", 5.01, 0.879, "non-TCS"),
    ("B", 6.5, 0.75, "non-TCS"),
    ("B", 4.4, 0.98, "PA"),
    ("B", 5.8, 0.85, "non-TCS"),
)
"""Cases worked out from the printed tables, edges included."""


def control(table: str, ph: float, aw: float) -> str:
    return (packed_after_heat if table == "A" else open_food)(ph, aw).value


@pytest.mark.parametrize(("table", "ph", "aw", "result"), CASES)
def test_food_code_tables(table: str, ph: float, aw: float, result: str) -> None:
    """FDA Food Code 2022, Tables A and B: every case."""
    assert control(table, ph, aw) == result


def test_food_code_cases_of_the_shared_file() -> None:
    """The same for whatever cases stand in the file."""
    path = SHARED / "tcs_checks.csv"
    if not path.is_file():
        pytest.skip("tcs_checks.csv is not beside this checkout")
    with path.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            assert control(row["table"], float(row["pH"]), float(row["aw"])) == row["result"], row


@pytest.mark.parametrize(
    ("name", "table", "aws", "phs"),
    [
        ("tcs_table_a", "A", (0.92, 0.95, 0.96), (4.6, 5.6, 5.7)),
        ("tcs_table_b", "B", (0.879, 0.90, 0.92, 0.93), (4.1, 4.6, 5.0, 5.1)),
    ],
)
def test_code_and_table_say_the_same(name: str, table: str, aws: tuple[float, ...], phs: tuple[float, ...]) -> None:
    """The cells of the shipped tables are what the function answers."""
    for row, aw in zip(tables.rows(name), aws, strict=True):
        cells = [row[column] for column in row if column.startswith("pH")]
        assert cells == [control(table, ph, aw) for ph in phs]


def test_unknown_acidity_needs_control() -> None:
    """What nobody measured counts as perishable."""
    assert open_food(None, 0.93).needs_cold
    assert open_food(4.4, None).needs_cold
    assert not open_food(None, 0.8).needs_cold


@pytest.mark.parametrize("fridge_c", [2.0, 5.0, 7.0])
@pytest.mark.parametrize("form", [Form.PICKED, Form.WASHED, Form.CUT, Form.CHOPPED, Form.BLANCHED, Form.BOILED])
def test_picked_greens_keep_two_days_at_most(form: Form, fridge_c: float) -> None:
    """Every leafy green, however fresh, in any refrigerator (common practice, no source)."""
    house = replace(HOUSE, fridge_c=fridge_c)
    for food, kept in kept_foods().items():
        if "leafy" in kept.traits:
            assert food_life(food, form, Place.FRIDGE, house, age_days=0).plan_days <= 2


def test_picked_spinach_keeps_about_two_days() -> None:
    """Fresh from the garden it reaches the two days, and the rule that bound it is named."""
    life = food_life("C033", Form.PICKED, Place.FRIDGE, HOUSE, age_days=0)
    assert (life.plan_days, life.rule, life.source) == (
        2,
        "household rule: picked greens",
        "common practice, no source",
    )


@pytest.mark.parametrize("sour", [code for code, kept in kept_foods().items() if "acid" in kept.traits])
def test_a_boiled_sour_side_keeps_a_week_at_most(sour: str) -> None:
    """Any sour fruit, whatever its author says: a week in the refrigerator (common practice, no source)."""
    side = dish(
        line(sour, 200, Form.CUT), line("I001"), course=Course.SIDE, served=Served.COOL, kept=(Place.FRIDGE, 30, 60)
    )
    assert dish_life(side, Place.FRIDGE, HOUSE).plan_days == 7
    assert dish_life(side, Place.FRIDGE, EXPECTING).high_days <= 7


@pytest.mark.parametrize(
    ("food", "house", "days", "authority"),
    [
        ("B010", HOUSE, 3, "Hong Kong Centre for Food Safety; USDA FSIS Leftovers and Food Safety"),
        ("A015", HOUSE, 1, "UK guidance as given by the Education Authority (N. Ireland)"),
        ("B010", EXPECTING, 2, "UK Food Standards Agency (from memory)"),
    ],
)
def test_the_caps_of_cooked_food(food: str, house: object, days: float, authority: str) -> None:
    """Leftovers 3 days, rice 1, people at risk 2; the answer names the agency."""
    life = dish_life(dish(line(food), line("K505")), Place.FRIDGE, house)  # type: ignore[arg-type]
    assert (life.plan_days, life.source) == (days, authority)
