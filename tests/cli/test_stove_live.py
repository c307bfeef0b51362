"""Cooking by the sheet at a terminal."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest
from tests.scheduling.dinners import DINNER, house

from chauka.cli.stove_live import cook
from chauka.kitchen import Meal
from chauka.scheduling import run_sheet
from chauka.services import evening
from chauka.store import books

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time, as the kitchen keeps it


@pytest.mark.usefixtures("small_house")
def test_taps_that_are_typed_move_the_rest_and_stay_in_the_book(capsys: pytest.CaptureFixture[str]) -> None:
    """Begun, five minutes longer, nonsense, left: each line is answered, and the evening can be gone on with."""
    sheet = run_sheet(DINNER, house(), SERVE, seconds=3)
    moments = iter(sheet.starts_at + timedelta(seconds=k) for k in range(100))
    typed = ["b 1\n", "m 1\n", "dance\n", "q\n", "d 1\n"]
    household = books.household()
    cook(household, SERVE.date(), Meal.DINNER, sheet, now=lambda: next(moments), typed=typed)
    out = capsys.readouterr().out
    assert out.count("on the table at") == 3
    assert "5 min later than planned" in out
    assert "'dance' is not understood; type b 3 begin" in out.replace("\n", " ")
    kept = evening.current(household, SERVE.date(), Meal.DINNER)
    assert kept is not None
    assert kept.rows[0].began is not None
    assert kept.rows[0].done is None
