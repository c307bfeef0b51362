"""The rest of an evening planned anew: never later than keeping the order, and only of the sheet that was begun."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from chauka import demo, scheduling
from chauka.scheduling import RunSheet
from chauka.services import evening
from chauka.services.evening_anew import planned_anew


@pytest.fixture(scope="module")
def sheet() -> RunSheet:
    """A dinner of three dishes on two burners."""
    book = demo.book(date(2027, 3, 14))
    names = ("bottle-gourd-chana-dal", "mustard-greens-hill-style", "barley-wheat-flatbread")
    dishes = [(book.dish(name), 5.0) for name in names]
    return scheduling.run_sheet(dishes, book.house, datetime.fromisoformat("2027-03-14T20:00"), seconds=3)


def _late(going: evening.Evening, at: float) -> float:
    return evening.retime(going, going.zero + timedelta(minutes=at)).late_min


def test_the_rest_is_never_later_than_in_the_old_order(sheet: RunSheet) -> None:
    """Step by step, each eight minutes too long: planned anew it is as punctual or better, and keeps what was done."""
    going, at = evening.from_sheet(sheet, sheet.starts_at), 0.0
    for _ in range(4):
        live = evening.retime(going, going.zero + timedelta(minutes=at))
        row = next(r for r in live.in_order if r.state != evening.State.DONE)
        at = max(at, (row.start - going.zero).total_seconds() / 60)
        began = evening.started(going, row.number, at)
        at += row.row.minutes + 8
        done = evening.finished(began, row.number, at)
        going = planned_anew(done, sheet, at)
        assert _late(going, at) <= _late(done, at)
        assert [(r.began, r.done, r.first_planned) for r in going.rows] == [
            (r.began, r.done, r.first_planned) for r in done.rows
        ]


def test_another_sheet_is_not_followed(sheet: RunSheet) -> None:
    """A sheet that came out otherwise after a restart leaves the order as it is; so does a pause."""
    going = evening.from_sheet(sheet, sheet.starts_at)
    late = evening.longer(evening.started(going, 0, 0.0), 0, 0.0, 30.0)
    other = replace(late, rows=(replace(late.rows[0], tasks=("something else",)), *late.rows[1:]))
    assert planned_anew(other, sheet, 1.0) is other
    paused = evening.paused(late, 0, 1.0)
    assert planned_anew(paused, sheet, 1.0) is paused


def test_a_punctual_evening_stays_as_it_is(sheet: RunSheet) -> None:
    """Nobody changes an order that is on time."""
    going = evening.started(evening.from_sheet(sheet, sheet.starts_at), 0, 0.0)
    assert planned_anew(going, sheet, 0.5) is going
