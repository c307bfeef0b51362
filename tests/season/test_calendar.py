"""How foods stand in the months of a region."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka import tables
from chauka.errors import InputError
from chauka.season import SeasonState, months_of, standing, state

PLAINS = "India-north plains"
SPINACH, BROAD_BEAN, TOMATO = "C033", "D032", "D075"


@pytest.mark.parametrize(
    ("month", "expected"),
    [
        (9, SeasonState.COMING),
        (10, SeasonState.BEST),
        (12, SeasonState.BEST),
        (3, SeasonState.LEAVING),
        (4, SeasonState.OUT),
        (8, SeasonState.OUT),
    ],
)
def test_spinach_round_the_year(month: int, expected: SeasonState) -> None:
    """Listed from October to March: the year wraps round, and the month before is its coming."""
    assert months_of(SPINACH, PLAINS) == {1, 2, 3, 10, 11, 12}
    assert state(SPINACH, month, PLAINS) is expected


def test_unknown_is_not_out() -> None:
    """A food or a region that no list has is unknown."""
    assert state("G528", 3, PLAINS) is SeasonState.UNKNOWN
    assert state(SPINACH, 3, "the moon") is SeasonState.UNKNOWN


def test_a_standing_names_its_source() -> None:
    """The list and how it was come by stand beside the state."""
    assert standing(SPINACH, 3, PLAINS).source.endswith("(from memory)")


def test_a_thirteenth_month_is_refused() -> None:
    """Months run from 1 to 12."""
    with pytest.raises(InputError, match="13 is not a month"):
        state(SPINACH, 13, PLAINS)


@given(st.sampled_from([row for row in tables.rows("season_calendar") if row["food_code"]]), st.integers(1, 12))
def test_there_or_not_there_follows_the_list(row: dict[str, str], month: int) -> None:
    """Best and leaving are exactly the listed months; what is coming is there the next month."""
    food, region = row["food_code"], row["region"]
    found = state(food, month, region)
    assert (found in (SeasonState.BEST, SeasonState.LEAVING)) == (month in months_of(food, region))
    if found is SeasonState.COMING:
        assert month % 12 + 1 in months_of(food, region)
