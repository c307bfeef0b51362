"""The whole demo: one house in a hill town in spring, as a book."""

from __future__ import annotations

from datetime import date

from chauka.demo.dishes import dishes
from chauka.demo.house import house
from chauka.demo.market import offers
from chauka.demo.shelf import START, lots
from chauka.kitchen import Book


def book(on: date = START) -> Book:
    """The demo house with its dishes, its market, and its shelf as it stands on the morning of `on`."""
    return written(on).whole()


def written(on: date = START) -> Book:
    """The same as its files say it, where a dish may stand as a part in another: what a house begins with."""
    home = house()
    return Book(house=home, dishes=dishes(home.measures), offers=offers(), lots=lots(on))
