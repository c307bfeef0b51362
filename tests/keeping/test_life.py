"""Lives, limits and the day that follows."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from chauka.keeping.life import Life, cap, days_said, last_day, smallest, use_by


def test_the_smallest_binds_and_cuts_every_range() -> None:
    """No end of the range reaches past a limit, and the limit's reason is given."""
    model = Life(5, 4, 8, 14, "model", "model", "m", cautions=("chill",))
    limit = cap(3, "limit", rule="limit", source="l")
    bound = smallest((model, limit))
    assert (bound.plan_days, bound.low_days, bound.mid_days, bound.high_days) == (3, 3, 3, 3)
    assert (bound.reason, bound.cautions) == ("limit", ("chill",))


def test_one_unknown_leaves_the_answer_unknown() -> None:
    """A limit does not turn a guess into knowledge."""
    guess = Life(2, 2, 2, 2, "guess", "g", "none", known=False)
    assert not smallest((guess, cap(3, "limit", rule="l", source="s"))).known


@pytest.mark.parametrize(("hour", "day"), [(11, 15), (12, 16), (23, 16)])
def test_a_day_counts_when_its_noon_is_not_past_the_use_by(hour: int, day: int) -> None:
    """A use-by in the morning belongs to the day before."""
    life = cap(0, "", rule="", source="")
    assert last_day(use_by(life, datetime(2027, 3, 16, hour))) == date(2027, 3, day)  # noqa: DTZ001  (wall time)


@pytest.mark.parametrize(
    ("days", "said"),
    [
        (1 / 24, "60 minutes"),
        (4 / 24, "4 hours"),
        (1, "24 hours"),
        (2.5, "2½ days"),
        (14, "14 days"),
        (40, "6 weeks"),
        (180, "6 months"),
        (730, "2 years"),
    ],
)
def test_lengths_are_said_as_a_cook_says_them(days: float, said: str) -> None:
    """Each length in the unit one thinks in."""
    assert days_said(days) == said
