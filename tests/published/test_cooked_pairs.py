"""Foods measured raw and cooked: SR28 (USDA 2015/2016) and MEXT 2020, development halves, beside the checkout.

Limits lie a little above what was measured (docs/composition.md), so that a change for the worse shows.
"""

import math
from pathlib import Path

import pytest
from benchmarks.cooked_pairs import cross_validated, report, with_parameters
from benchmarks.pairs import read, read_all
from benchmarks.shrinkage import Model, fit

from chauka import tables

FOLDER = Path(__file__).parents[2] / ".." / "shared" / "reference" / "nutrition"
US, JAPAN = FOLDER / "raw_cooked_pairs_dev.csv", FOLDER / "raw_cooked_pairs_jp_dev.csv"

pytestmark = pytest.mark.skipif(not US.exists(), reason="the folder with measured pairs is not beside the checkout")


@pytest.mark.parametrize(
    ("weighed", "us_limit", "japan_limit"), [(False, 17.0, 15.6), (True, 15.0, 12.0)], ids=["estimated", "weighed"]
)
def test_better_than_the_published_method_on_foods_not_seen(weighed: bool, us_limit: float, japan_limit: float) -> None:
    """Cross-validated over families: below the limit, below the published method, intervals as wide as they say."""
    scored = cross_validated(read_all([US, JAPAN]), weighed=weighed)
    for origin, limit in (("US", us_limit), ("JP", japan_limit)):
        found = report([s for s in scored if s.value.origin == origin], weighed=weighed)
        assert found["median_ape_percent"] < limit
        assert found["median_ape_percent"] < found["published_median_ape_percent"] < found["naive_median_ape_percent"]
        assert 0.85 <= found["coverage_90"] <= 0.95


def test_the_stored_parameters_are_those_of_the_files() -> None:
    """They give what a model gives that is learned anew."""
    values = read_all([US, JAPAN])
    model: Model = fit(values)
    for scored in with_parameters(read(US), weighed=False)[::50]:
        assert scored.computed == pytest.approx(model.predict(scored.value, weighed=False), rel=0.01, abs=1e-6)


def test_the_shipped_factors_come_from_the_united_states_file_alone() -> None:
    """Every factor of the shipped table is what a model gives that has seen nothing else.

    Vitamin A aside: hardly measured itself, it takes the factor of carotene. The shipped ones are for fresh food.
    """
    model, values = fit(read(US)), read(US)
    shipped = {(r["group"], r["way"], r["tag"]): float(r["factor"]) for r in tables.rows("learned_retention")}
    for v in values:
        if (v.group, v.way, v.tag) in shipped and v.tag != "VITA_RAE" and not v.frozen:
            assert shipped[v.group, v.way, v.tag] == pytest.approx(math.exp(model.log_retention(v)), abs=0.0006)
