"""USDA retention factors, Release 6 (2007): our table against a second, independent re-keying, page by page."""

import csv
from pathlib import Path

import pytest

from chauka import tables

REKEYED = Path(__file__).parents[2] / ".." / "shared" / "reference" / "nutrition" / "retention_factors.csv"
SAME = {"FOL": "FOL", "LUT+ZEA": "LUT_ZEA"}


def test_all_270_codes_have_all_26_factors() -> None:
    """Each code once, four digits, every factor a percentage from 0 to 100."""
    rows = tables.rows("retention_factors")
    assert len({row["code"] for row in rows}) == 270
    for row in rows:
        assert len(row["code"]) == 4
        percentages = [float(cell) for name, cell in row.items() if name.endswith("_pct")]
        assert len(percentages) == 26
        assert all(0 <= p <= 100 for p in percentages), row["code"]


def test_damaged_code_is_mended() -> None:
    """Code 5005 loses alcohol only, like its neighbours; a circulating file has its factors shifted."""
    row = next(r for r in tables.rows("retention_factors") if r["code"] == "5005")
    assert row["ALC_pct"] == "35"
    assert {cell for name, cell in row.items() if name.endswith("_pct") and name != "ALC_pct"} == {"100"}


@pytest.mark.skipif(not REKEYED.exists(), reason="the folder ../shared with the second re-keying is not here")
def test_agrees_with_the_second_rekeying() -> None:
    """Every value that both re-keyings have is the same."""
    ours = {row["code"]: row for row in tables.rows("retention_factors")}
    compared, differing = 0, []
    with REKEYED.open(encoding="utf-8", newline="") as file:
        for row in csv.DictReader(file):
            column = f"{SAME.get(row['tagname'], row['tagname'])}_pct"
            compared += 1
            if float(ours[row["retn_code"]][column]) != float(row["percent_retained"]):
                differing.append((row["retn_code"], row["tagname"]))
    assert compared > 3700
    assert not differing
