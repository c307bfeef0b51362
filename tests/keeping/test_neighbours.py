"""What ripe fruit does to leaves beside it."""

from __future__ import annotations

from datetime import datetime

import pytest
from tests.keeping.houses import HOUSE

from chauka import tables
from chauka.keeping import beside, ethylene_neighbours, food_life, lot_use_by
from chauka.keeping.neighbours import feels, gives, harmed
from chauka.keeping.produce import item_reference
from chauka.kitchen import Form, Lot, Place

SPINACH, BANANA, APPLE, CARROT, TOMATO, RICE, CAULIFLOWER = "C033", "E012", "E001", "F002", "D075", "A015", "D036"
NOON = datetime(2027, 3, 14, 12)  # noqa: DTZ001  (wall time)


def lot(food: str, place: Place = Place.FRIDGE, form: Form = Form.WHOLE) -> Lot:
    return Lot(f"{food}-{place}", 300, form, place, NOON, food=food)


def test_every_rated_item_is_an_item() -> None:
    """Items of the ethylene table stand in the storage tables."""
    for row in tables.rows("keeping_ethylene"):
        assert item_reference(row["item"]), row["item"]


def test_who_gives_and_who_feels() -> None:
    """Apples and ripe tomatoes give; leaves and cauliflower feel; rice does neither; no food harms its own kind."""
    assert gives(APPLE)
    assert gives(TOMATO)
    assert feels(SPINACH)
    assert feels(CAULIFLOWER)
    assert not gives(RICE)
    assert not feels(RICE)
    assert not harmed(APPLE, [APPLE])


def test_a_leaf_beside_an_apple_keeps_half_as_long() -> None:
    """The published halving, and the reason says so; a carrot's friend rice changes nothing."""
    alone = food_life(SPINACH, Form.WHOLE, Place.FRIDGE, HOUSE)
    near = food_life(SPINACH, Form.WHOLE, Place.FRIDGE, HOUSE, beside=(APPLE,))
    assert near.plan_days == pytest.approx(alone.plan_days / 2)
    assert "beside ripe fruit" in near.reason
    assert food_life(SPINACH, Form.WHOLE, Place.FRIDGE, HOUSE, beside=(RICE, SPINACH)) == alone


def test_the_shelf_names_bad_neighbours_of_one_place() -> None:
    """Fruit on the counter does not reach the refrigerator."""
    lots = [lot(SPINACH), lot(APPLE, Place.COUNTER), lot(BANANA, Place.COUNTER), lot(CAULIFLOWER, Place.COUNTER)]
    (found,) = ethylene_neighbours(lots)
    assert found.lot == f"{CAULIFLOWER}-counter"
    assert set(found.beside) == {f"{APPLE}-counter", f"{BANANA}-counter"}
    assert "half the life beside apple and banana; put them in different places" in found.text
    assert beside(lots[3], lots) == (APPLE, BANANA)
    assert lot_use_by(lots[3], HOUSE, beside=beside(lots[3], lots)).at < lot_use_by(lots[3], HOUSE).at
