"""What a lot went through goes with it when it is moved or opened."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from tests.keeping.houses import HOUSE

from chauka.keeping import lot_use_by, moved
from chauka.kitchen import Form, Lot, Place

NOW = datetime.fromisoformat("2027-03-14T10:00")
SPINACH = "C033"


def _spinach(place: Place) -> Lot:
    return Lot("spinach", 500, Form.WHOLE, place, NOW, food=SPINACH)


def test_days_in_the_cold_cost_less_than_days_in_the_room() -> None:
    """Two days in the fridge take less of a life with them than two days on the counter."""
    later = NOW + timedelta(days=2)
    cold = moved(_spinach(Place.FRIDGE), Place.COUNTER, HOUSE, later)
    warm = moved(_spinach(Place.COUNTER), Place.FRIDGE, HOUSE, later)
    assert cold.age_days < warm.age_days


def test_moved_to_where_it_stood_keeps_its_date() -> None:
    """Moved within one place, or there and back at once, the last moment is the same."""
    lot = _spinach(Place.FRIDGE)
    before = lot_use_by(lot, HOUSE).at
    for days in (0, 1, 3):
        then = NOW + timedelta(days=days)
        back = moved(moved(lot, Place.COUNTER, HOUSE, then), Place.FRIDGE, HOUSE, then)
        assert abs(lot_use_by(back, HOUSE).at - before) < timedelta(minutes=1)


def test_the_freezer_stops_the_clock_and_thawed_food_is_for_a_day() -> None:
    """A month frozen ages nothing, but what comes out is planned for one day, however fresh it went in."""
    lot = Lot("dal", 400, Form.COOKED, Place.FREEZER, NOW, dish="dal", age_days=0.5)
    month = NOW + timedelta(days=30)
    assert moved(lot, Place.FREEZER, HOUSE, month).age_days == pytest.approx(0.5)
    out = moved(lot, Place.FRIDGE, HOUSE, month)
    assert lot_use_by(out, HOUSE).at <= month + timedelta(days=1.01)
