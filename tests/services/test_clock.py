"""The shells' clock: now, or another day's morning."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from chauka.errors import InputError
from chauka.services import clock


def test_a_day_without_an_hour_is_looked_at_in_the_morning() -> None:
    morning = datetime.fromisoformat("2027-03-14T07:00")
    assert clock.now("2027-03-14") == clock.now(date(2027, 3, 14)) == morning
    assert clock.now("2027-03-14T18:30").hour == 18


def test_no_day_is_this_moment_without_a_time_zone() -> None:
    assert clock.now(None).tzinfo is None


def test_a_day_written_wrongly_is_refused() -> None:
    with pytest.raises(InputError, match=r"'14\.3\.2027' is no day; write it as in 2027-03-14"):
        clock.now("14.3.2027")
