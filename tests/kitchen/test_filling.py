"""How full a step makes its vessel: what went in before counts, and under pressure there is room to swell."""

from __future__ import annotations

import pytest

from chauka import demo
from chauka.kitchen import Vessel
from chauka.kitchen.filling import fill_share, filled_l, least_l

DAL = demo.book().dish("spinach-dal-with-lemon")


def test_what_was_washed_before_is_in_the_cooker_too() -> None:
    """The dal goes in with its water; the spinach only when it simmers."""
    cook, simmer = DAL.step("cook"), DAL.step("simmer")
    assert filled_l(DAL, cook) == pytest.approx(0.225 * 0.7 + 1.08 + 0.0152, abs=0.01)
    assert filled_l(DAL, simmer) - filled_l(DAL, cook) == pytest.approx(0.35)


def test_pulses_fill_a_closed_cooker_to_half_and_an_open_one_further() -> None:
    assert fill_share(DAL, DAL.step("cook"), Vessel.PRESSURE_COOKER) == 0.5
    assert fill_share(DAL, DAL.step("simmer"), Vessel.PRESSURE_COOKER) == 0.8
    assert fill_share(DAL, DAL.step("temper"), Vessel.LADLE) is None


def test_the_least_size_grows_with_the_dish() -> None:
    cook = DAL.step("cook")
    assert least_l(DAL, cook, Vessel.PRESSURE_COOKER, 2) == pytest.approx(2 * filled_l(DAL, cook) / 0.5)
    assert least_l(DAL, cook, Vessel.GRIDDLE) == 0
