"""The shelf filled by typing: amounts, foods, days and places as one says them; all of it or nothing."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW

from chauka.errors import InputError
from chauka.kitchen import Form, Place
from chauka.services import typed
from chauka.store import books


def test_two_things_from_two_days(book_file: Path) -> None:
    owner = books.create(BOOK)
    ids = typed.add(owner, "500 g palak, 1 kg carrots from Friday in the cupboard", NOW)
    lots = {lot.id: lot for lot in books.load_book(owner).lots}
    palak, carrots = (lots[key] for key in ids)
    assert (palak.food, palak.grams, palak.form, palak.since) == ("C033", 500.0, Form.WHOLE, NOW)
    assert (carrots.place, carrots.since) == (Place.CUPBOARD, datetime.fromisoformat("2027-03-12T10:00"))


@pytest.mark.parametrize(
    ("text", "parts"),
    [
        ("2 bunches spinach, 1 kg rice", ["2 bunches spinach", "1 kg rice"]),
        ("½ litre milk and 3 lemons", ["½ litre milk", "3 lemons"]),
        ("1,5 kg carrots; salt and pepper 10 g", ["1,5 kg carrots", "salt and pepper 10 g"]),
        ("  ", []),
    ],
)
def test_parts(text: str, parts: list[str]) -> None:
    assert list(typed.parts(text)) == parts


def test_one_unknown_thing_stops_all_and_is_named(book_file: Path) -> None:
    owner = books.create(BOOK)
    before = books.load_book(owner)
    with pytest.raises(InputError) as caught:
        typed.add(owner, "500 g palak, 2 flubber, rice", NOW)
    assert set(caught.value.fields) == {"2 flubber", "rice"}
    assert books.load_book(owner) == before


def test_frozen_things_lie_in_the_freezer(book_file: Path) -> None:
    owner = books.create(BOOK)
    (key,) = typed.add(owner, "250 g paneer in the freezer", NOW)
    lot = next(lot for lot in books.load_book(owner).lots if lot.id == key)
    assert (lot.form, lot.place) == (Form.FROZEN, Place.FREEZER)
