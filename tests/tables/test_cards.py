"""Every table against its card, and every card against docs/data-sources.md and NOTICE."""

import csv
import math
import sys
from pathlib import Path

import pytest

from chauka import tables
from chauka.errors import DataError

ROOT = Path(__file__).parents[2]
DATA = ROOT / "src" / "chauka" / "tables" / "data"
MARKS = {"", "Tr", "N"}

sys.path.insert(0, str(ROOT / "tools"))

NAMES = sorted(path.stem for path in DATA.glob("*.csv"))


def test_every_table_has_a_card_and_every_card_a_table() -> None:
    """CSV and TOML come in pairs."""
    assert set(tables.cards()) == set(NAMES)
    assert len(NAMES) > 25


@pytest.mark.parametrize("name", NAMES)
def test_rows_and_columns_are_those_of_the_card(name: str) -> None:
    """The number of rows and the columns, in order; no row has a cell too many."""
    card = tables.card(name)
    with (DATA / f"{name}.csv").open(encoding="utf-8", newline="") as file:
        header, *rows = list(csv.reader(file))
    assert header == list(card.columns)
    assert len(rows) == card.rows > 0
    assert all(len(row) == len(header) for row in rows)


@pytest.mark.parametrize("name", NAMES)
def test_sums_are_those_of_the_card(name: str) -> None:
    """Each sum in the card is the sum of that column, gaps and marks left out."""
    rows = tables.rows(name)
    for column, total in tables.card(name).sums.items():
        numbers = [float(row[column]) for row in rows if row[column] not in MARKS]
        assert math.fsum(numbers) == pytest.approx(total, abs=1e-6), column


@pytest.mark.parametrize("name", NAMES)
def test_columns_of_numbers_have_a_sum(name: str) -> None:
    """No column that is all numbers goes without a check, spreads of the Indian tables left out."""
    rows, sums = tables.rows(name), tables.card(name).sums
    for column in tables.card(name).columns:
        cells = [row[column] for row in rows if row[column] not in MARKS]
        plain = bool(cells) and all(c.replace(".", "", 1).replace("-", "", 1).isdigit() for c in cells)
        if plain and not column.endswith("_se") and column != "regions":
            assert column in sums, column


@pytest.mark.parametrize("name", NAMES)
def test_card_says_what_one_must_know(name: str) -> None:
    """Title, source, licence, trust and how it was obtained are there; each column has a unit or [-]."""
    card = tables.card(name)
    for text in (card.title, card.source, card.author, card.table, card.licence, card.how_obtained, card.trust):
        assert text.strip(), name
    assert 1950 <= card.year <= 2030
    assert all("[" in meaning and meaning.endswith("]") for meaning in card.columns.values())
    assert card.made_by == "by hand" or (ROOT / card.made_by).is_file()


def test_docs_and_notice_are_written_from_the_cards() -> None:
    """docs/data-sources.md lists every table, NOTICE every notice, both as tools/write_data_sources.py writes them."""
    import write_data_sources  # noqa: PLC0415  # the tools folder is on the path only here

    page = (ROOT / "docs" / "data-sources.md").read_text(encoding="utf-8")
    assert all(f"`{name}`" in page for name in NAMES)
    assert write_data_sources.page(page) == page, "run tools/write_data_sources.py"
    assert write_data_sources.notice() == (ROOT / "NOTICE").read_text(encoding="utf-8")


def test_unknown_table_names_its_neighbours() -> None:
    """A misspelt table is told with the one that was meant."""
    with pytest.raises(DataError, match="household_weights"):
        tables.rows("houshold_weights")


@pytest.mark.parametrize("name", NAMES)
def test_food_codes_are_foods(name: str) -> None:
    """Where a table names a food by code, the food exists."""
    if "food_code" in tables.card(name).columns:
        unknown = {row["food_code"] for row in tables.rows(name)} - set(tables.foods()) - {""}
        assert not unknown


@pytest.mark.parametrize("name", NAMES)
def test_no_machine_path_and_no_test_only_source(name: str) -> None:
    """No path of a machine in a table or card; nothing from the Japanese test-only files."""
    text = (DATA / f"{name}.csv").read_text(encoding="utf-8") + (DATA / f"{name}.toml").read_text(encoding="utf-8")
    assert not [word for word in ("/work", "/tmp", "../", "MEXT") if word in text]  # noqa: S108  # words, not paths used
