"""The price line says what its points are, stays inside its frame, and is left out where it would say nothing."""

from __future__ import annotations

import re
from datetime import date, timedelta
from xml.etree import ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from chauka.kitchen import PriceSeen
from chauka.web.food.price_line import HEIGHT, WIDTH, price_line

FIRST = date(2027, 1, 3)


def test_one_price_makes_no_line() -> None:
    assert price_line([PriceSeen("C033", FIRST, 350.0, 2000)], "INR") == ""


@given(
    st.lists(st.tuples(st.integers(0, 900), st.floats(1, 20_000), st.integers(1, 1_000_000)), min_size=2, max_size=40)
)
def test_every_price_is_a_point_inside_the_frame(paid: list[tuple[int, float, int]]) -> None:
    prices = [PriceSeen("C033", FIRST + timedelta(days=d), g, p) for d, g, p in sorted(paid)]
    drawn = ET.fromstring(str(price_line(prices, "INR")))  # noqa: S314 -- our own drawing
    circles = drawn.findall("circle")
    assert len(circles) == len(prices)
    assert all(0 <= float(c.get("cx", "")) <= WIDTH and 0 <= float(c.get("cy", "")) <= HEIGHT for c in circles)
    assert len(re.findall(r" on ", drawn.findtext("desc") or "")) == len(prices)
