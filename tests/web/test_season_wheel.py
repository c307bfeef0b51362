"""The season wheel says what it draws, and packs its arcs without overlap."""

from __future__ import annotations

from datetime import date
from itertools import combinations
from xml.etree import ElementTree as ET

from hypothesis import given
from hypothesis import strategies as st

from chauka.web.home.season_wheel import WheelItem, pack, season_wheel

items = st.lists(
    st.builds(
        WheelItem,
        name=st.text(min_size=1, max_size=20).filter(lambda s: s.isprintable()),
        months=st.frozensets(st.integers(1, 12), min_size=1),
        state=st.sampled_from(["best", "coming", "leaving", "out"]),
    ),
    max_size=25,
)


@given(items)
def test_arcs_on_one_track_never_overlap(some: list[WheelItem]) -> None:
    """Two arcs on one track share no month."""
    for a, b in combinations(pack(some), 2):
        if a.track == b.track:
            covers = [{(arc.start + k) % 12 for k in range(arc.length)} for arc in (a, b)]
            assert not covers[0] & covers[1]


@given(items)
def test_every_month_of_every_item_is_drawn(some: list[WheelItem]) -> None:
    """The arcs of an item cover its months and no others."""
    drawn: dict[int, set[int]] = {}
    for arc in pack(some):
        drawn.setdefault(id(arc.item), set()).update((arc.start + k) % 12 + 1 for k in range(arc.length))
    assert all(drawn[id(item)] == item.months for item in some)


@given(items, st.dates(date(2000, 1, 1), date(2100, 1, 1)))
def test_the_wheel_is_well_formed_whatever_the_names(some: list[WheelItem], today: date) -> None:
    """Names are escaped, so that the SVG parses."""
    root = ET.fromstring(str(season_wheel(some, today)))  # noqa: S314 -- our own output
    assert root.findtext("title") == "The season wheel"


def test_the_description_names_what_is_best() -> None:
    """A reader of the description learns what the picture shows."""
    svg = season_wheel([WheelItem("Spinach", frozenset({2, 3, 4}), "best")], date(2027, 3, 14))
    assert "At its best: Spinach." in svg


def test_a_run_over_the_turn_of_the_year_is_one_arc() -> None:
    """November to February is one arc of four months."""
    (arc,) = pack([WheelItem("Turnip", frozenset({11, 12, 1, 2}), "leaving")])
    assert (arc.start, arc.length) == (10, 4)
