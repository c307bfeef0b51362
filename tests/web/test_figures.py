"""Figures say in words what they draw, put things in the right place, and leave nothing to hue."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime, timedelta

from tests.services.small_house import BOOK, NOW

from chauka.services import shelf
from chauka.services.intake import NutrientIntake, PersonIntake
from chauka.services.weeks import Week, Weeks
from chauka.web.figures.intake_figure import intake_figure
from chauka.web.figures.shelf_figure import shelf_figure
from chauka.web.figures.weeks_figure import weeks_figure

IRON = NutrientIntake(
    tag="FE", name="iron", unit="mg", mean=9.0, sd=1.0, at_least=False, missing=(), ceiling=False, reference=18.0,
    source="", verified=True, note="", share=0.5, probability=None,
)  # fmt: skip


def _titled(svg: str) -> bool:
    return (
        re.search(r'role="img" aria-labelledby="[^"]+"><title [^>]+>.+</title><desc [^>]+>.+</desc>', svg) is not None
    )


def test_an_intake_is_a_dot_with_its_spread() -> None:
    """Half the reference lies half-way to the line of the reference; an unknown share is open, and said."""
    dot = float(re.findall(r'cx="([\d.]+)"', intake_figure(PersonIntake("a", "Asha", 3, (IRON,))))[0])
    full = float(
        re.findall(r'cx="([\d.]+)"', intake_figure(PersonIntake("a", "Asha", 3, (replace(IRON, share=1.0),))))[0]
    )
    none = float(
        re.findall(r'cx="([\d.]+)"', intake_figure(PersonIntake("a", "Asha", 3, (replace(IRON, share=0.0),))))[0]
    )
    assert abs((dot - none) * 2 - (full - none)) < 0.2
    drawn = intake_figure(PersonIntake("a", "Asha", 3, (replace(IRON, at_least=True),)))
    assert _titled(drawn)
    assert "at least 50 % ± 6 %" in drawn
    assert 'class="open"' in drawn
    assert intake_figure(PersonIntake("a", "Asha", 3, (replace(IRON, share=None),))) == ""


def test_weeks_tell_what_was_paid_and_binned() -> None:
    """A bar for each week, the larger sum the taller; nothing where nothing was done."""
    monday = date(2027, 3, 1)
    two = (Week(monday, 100_00, 5_00, 120.0), Week(monday + timedelta(weeks=1), 200_00, 0, 0.0))
    drawn = weeks_figure(Weeks(two, (), "INR", 150_00))
    assert _titled(drawn)
    assert "Rs 100 paid, 120 g in the bin" in drawn
    first, second = (float(h) for h in re.findall(r'class="paid"[^>]*height="([\d.]+)"', drawn))
    assert abs(second - 2 * first) < 0.5
    assert weeks_figure(Weeks((Week(monday, 0, 0, 0.0),), (), "INR", None)) == ""


def test_the_shelf_ends_bars_where_lots_end() -> None:
    """What keeps longer has the longer bar; what is not known is dashed; what keeps for months is left out."""
    seen = shelf.of_book(BOOK, NOW)
    drawn = shelf_figure(seen.lots, NOW)
    assert _titled(drawn)
    widths = [float(w) for w in re.findall(r'<rect [^>]*width="([\d.]+)"', drawn)]
    assert widths == sorted(widths)
    assert shelf_figure([replace(one, days_left=100.0) for one in seen.lots], NOW) == ""
    unknown = [replace(one, use_by=replace(one.use_by, known=False), days_left=1.0) for one in seen.lots[:1]]
    assert 'class="unsure"' in shelf_figure(unknown, datetime.combine(NOW.date(), NOW.time()))
