"""Every nutrient of a dish can say where it comes from."""

import pytest
from tests.composition.samples import UNKNOWN_GREENS, dal, line, salad

from chauka.composition import Weighed, dish_nutrients, doubt, why
from chauka.errors import DataError


@pytest.mark.parametrize("tag", ["FE", "VITC", "NA", "ENERC_KCAL", "FSUGAR_ADDED"])
def test_the_lines_add_up(tag: str) -> None:
    """Contributions sum to the dish's total, the largest first, and each is grams × value × factor."""
    rows, total = why(dal(), tag), dish_nutrients(dal()).total[tag]
    assert sum(r.given.mean for r in rows) == pytest.approx(total.mean)
    assert [r.given.mean for r in rows] == sorted((r.given.mean for r in rows), reverse=True)
    for row in rows:
        if row.value.mean is not None:
            assert row.given.mean == pytest.approx(row.grams.mean * row.value.mean / 100 * row.factor)


def test_doubt_is_shared_out() -> None:
    """Shares of the variance sum to one; each line's doubt is that of grams, table and retention together."""
    rows = why(dal(), "VITC")
    assert sum(r.doubt_share for r in rows) == pytest.approx(1)
    for row in rows:
        parts = row.doubt_grams**2 + row.doubt_table**2 + row.doubt_retention**2
        assert row.given.sd == pytest.approx(parts**0.5)


def test_it_names_the_rows_used() -> None:
    """Spinach simmered in dal: the Indian table, and USDA's greens with the water used."""
    spinach = next(r for r in why(dal(), "FOL") if r.food == "C033")
    assert spinach.table == "ifct2017"
    assert spinach.codes == (3006,)
    assert spinach.retention == "VEG,GREENS,BOILED,WATER USED"
    assert spinach.factor == pytest.approx(0.75)


def test_the_unknown_is_shown_as_unknown() -> None:
    """A line without a figure has no value and "at least" nothing."""
    row = next(r for r in why(salad(line(UNKNOWN_GREENS, 100)), "FE"))
    assert row.value.mean is None
    assert row.given.at_least


def test_a_nutrient_nobody_works_out_is_an_error() -> None:
    """The error lists those that are."""
    with pytest.raises(DataError, match="VITC"):
        why(dal(), "CAFFN")


def test_the_causes_of_doubt_add_up() -> None:
    """Shares sum to one; a weighing that is less sure than the rest brings most of the doubt of energy."""
    plain, weighed = dish_nutrients(dal()), dish_nutrients(dal(), weighed_before=[Weighed(4, 900), Weighed(4, 1500)])
    for found in (plain, weighed):
        parts = doubt(dal(), found, "ENERC_KCAL")
        shares = (parts.grams, parts.table, parts.retention, parts.unknown, parts.cooked_weight)
        assert sum(shares) == pytest.approx(1)
        assert min(shares) >= 0
    assert doubt(dal(), weighed, "ENERC_KCAL").cooked_weight > 0.9
    assert doubt(dal(), plain, "VITC").retention > doubt(dal(), plain, "ENERC_KCAL").retention


def test_what_is_surely_none_has_no_doubt() -> None:
    """Cholesterol of spinach."""
    raw = salad(line("C033", 100))
    parts = doubt(raw, dish_nutrients(raw), "CHOLE")
    assert (parts.grams, parts.table, parts.cooked_weight) == (0, 0, 0)
