"""Market days and what the stalls have."""

from __future__ import annotations

from datetime import date

from tests.keeping.houses import HOUSE

from chauka.kitchen import Offer
from chauka.season import market_days, offers_on

SUNDAY, WEDNESDAY = date(2027, 3, 14), date(2027, 3, 17)


def test_a_week_from_sunday_has_two_market_days() -> None:
    """Wednesday and Sunday, both ends of the horizon as they fall."""
    assert market_days(HOUSE, SUNDAY, 7) == (SUNDAY, WEDNESDAY)
    assert market_days(HOUSE, SUNDAY, 8)[-1] == date(2027, 3, 21)
    assert market_days(HOUSE, SUNDAY, 0) == ()


def test_offers_keep_to_their_weekdays() -> None:
    """An offer of Wednesdays is not there on Sunday; one without weekdays always is."""
    always = Offer("C033", "bunch", 250, 1500, "greens")
    midweek = Offer("L003", "block", 200, 9000, "dairy", weekdays=(2,))
    assert offers_on((always, midweek), SUNDAY) == (always,)
    assert offers_on((always, midweek), WEDNESDAY) == (always, midweek)
