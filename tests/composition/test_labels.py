"""Labels round as the rule says."""

import pytest
from tests.composition.samples import SPINACH, UNKNOWN_GREENS, dal, line, salad

from chauka.composition import Rule, dish_nutrients, label
from chauka.composition.labels import (
    fda_carbohydrate,
    fda_cholesterol,
    fda_daily_value,
    fda_energy,
    fda_fat,
    fda_sodium,
    significant,
)


@pytest.mark.parametrize(
    ("rounding", "value", "printed"),
    [
        (fda_energy, 4.9, "0"), (fda_energy, 7.4, "5"), (fda_energy, 47.5, "50"), (fda_energy, 54.9, "50"),
        (fda_energy, 55, "60"), (fda_fat, 0.49, "0"), (fda_fat, 0.5, "0.5"), (fda_fat, 3.3, "3.5"),
        (fda_fat, 4.74, "4.5"), (fda_fat, 5.4, "5"), (fda_fat, 7.5, "8"), (fda_cholesterol, 1.9, "0"),
        (fda_cholesterol, 3, "less than 5"), (fda_cholesterol, 12.6, "15"), (fda_sodium, 4, "0"),
        (fda_sodium, 137, "135"), (fda_sodium, 138, "140"), (fda_sodium, 146, "150"), (fda_carbohydrate, 0.4, "0"),
        (fda_carbohydrate, 0.7, "less than 1"), (fda_carbohydrate, 1.5, "2"), (significant, 123.4, "123"),
        (significant, 12.34, "12.3"), (significant, 1.234, "1.2"), (significant, 0.01, "0"),
    ],
)  # fmt: skip
def test_rounding(rounding: object, value: float, printed: str) -> None:
    """Each step of the published table, at its edges."""
    assert callable(rounding)
    assert rounding(value) == printed


@pytest.mark.parametrize(
    ("percent", "shown"), [(0.5, 0), (1.4, 2), (3.2, 4), (9.1, 10), (12.4, 10), (51, 50), (56, 60)]
)
def test_daily_values(percent: float, shown: int) -> None:
    """Vitamins and minerals go in twos, fives and tens."""
    assert fda_daily_value(percent) == shown


def test_a_dish_has_both_labels() -> None:
    """Energy stands first on both, in kcal and for India in kJ too; sodium's share follows from the portion."""
    found = dish_nutrients(dal())
    us, india = label(found, Rule.FDA), label(found, Rule.FSSAI)
    assert us[0].per_portion == fda_energy(found.per_portion["ENERC_KCAL"].mean)
    assert [row.unit for row in india[:2]] == ["kcal", "kJ"]
    sodium = next(row for row in india if row.name == "Sodium")
    assert sodium.percent == round(found.per_portion["NA"].mean / 20)
    assert sodium.from_memory


def test_the_unknown_is_not_printed_as_nothing() -> None:
    """Unmeasured greens alone: not known, and no share of the day; beside measured ones: "at least"."""
    alone = label(dish_nutrients(salad(line(UNKNOWN_GREENS, 100))), Rule.FDA)
    iron = next(row for row in alone if row.name == "Iron")
    assert (iron.per_portion, iron.percent) == ("not known", None)
    beside = label(dish_nutrients(salad(line(UNKNOWN_GREENS, 100), line(SPINACH, 100))), Rule.FDA)
    assert next(row for row in beside if row.name == "Iron").per_portion.startswith("at least")
