"""An evening at the stove: what is late is passed on, nothing moves earlier, and it lives in the book."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOILED_RICE, BOOK, HOUSE, NOW, WILTED_SPINACH

from chauka import scheduling
from chauka.errors import InputError
from chauka.kitchen import Meal
from chauka.services import evening
from chauka.services.evening import Evening, Row, State, Wait
from chauka.store import books

ZERO = datetime.fromisoformat("2027-03-14T18:30")
CHOP = Row("Chop", "hands", "", at=0, minutes=10, hands=True)
FRY = Row("Fry", "burner 1", "", at=12, minutes=8, hands=True, waits=(Wait(0, 2.0, end=True),))
REST = Row("Rest", "aside", "", at=20, minutes=5, hands=False, waits=(Wait(1, 0.0, end=True),))
THREE = Evening(ZERO, 25.0, (CHOP, FRY, REST))


def _starts(live: evening.Live) -> list[float]:
    return [(r.start - ZERO).total_seconds() / 60 for r in live.rows]


def _at(minutes: float) -> datetime:
    return ZERO + timedelta(minutes=minutes)


def test_on_time_everything_stands_as_planned() -> None:
    live = evening.retime(evening.started(THREE, 0, 0), _at(3))
    assert _starts(live) == [0, 12, 20]
    assert live.late_min == 0
    assert [r.state for r in live.rows] == [State.GOING, State.TO_COME, State.TO_COME]


def test_five_more_minutes_move_what_waits_less_what_was_to_spare() -> None:
    longer = evening.longer(evening.started(THREE, 0, 0), 0, 4)
    live = evening.retime(longer, _at(4))
    assert _starts(live) == [0, 15, 23]  # five late, two were to spare
    assert live.late_min == 3
    assert live.serve == _at(28)


def test_a_step_that_was_quick_moves_nothing_earlier() -> None:
    live = evening.retime(evening.finished(evening.started(THREE, 0, 0), 0, 4), _at(4))
    assert _starts(live) == [0, 12, 20]


def test_what_should_have_begun_begins_now() -> None:
    assert _starts(evening.retime(THREE, _at(6))) == [6, 16, 24]


def test_a_pause_moves_all_that_has_not_begun() -> None:
    begun = evening.finished(evening.started(THREE, 0, 0), 0, 10)
    halted = evening.paused(begun, 0, 10)
    assert evening.retime(halted, _at(15)).paused
    on = evening.resumed(halted, 0, 17)
    assert _starts(evening.retime(on, _at(17))) == [0, 19, 27]


def test_more_time_after_the_ring_counts_from_now() -> None:
    late = evening.longer(evening.started(THREE, 0, 0), 0, 13)
    assert evening.retime(late, _at(13)).rows[0].end == _at(18)


def test_left_out_and_begun_after_all() -> None:
    out = evening.left_out(THREE, 0, 1)
    assert evening.retime(out, _at(1)).rows[0].state is State.DONE
    assert evening.again(out, 0, 2).rows[0] == CHOP


def test_curd_that_sets_long_after_dinner_makes_nobody_late() -> None:
    night = Row("Leave it", "aside", "", at=20, minutes=400, hands=False)
    assert evening.retime(Evening(ZERO, 25.0, (CHOP, night)), _at(0)).late_min == 0


def test_an_evening_comes_from_a_sheet_and_lives_in_the_book(book_file: Path) -> None:
    owner = books.create(BOOK)
    serve = datetime.fromisoformat("2027-03-14T19:30")
    sheet = scheduling.run_sheet([(BOILED_RICE, 2.0), (WILTED_SPINACH, 2.0)], HOUSE, serve, seconds=2)
    day, meal = date(2027, 3, 14), Meal.DINNER
    begun = evening.begin(owner, day, meal, sheet, sheet.starts_at)
    assert begun.zero == sheet.starts_at
    assert any(row.waits for row in begun.rows)  # the leaves are wilted after they were picked
    assert evening.begin(owner, day, meal, sheet, NOW) == begun  # a second phone joins
    changed = evening.did(owner, day, meal, sheet.starts_at, deed="done", number=0)
    assert evening.current(owner, day, meal) == changed
    assert changed.rows[0].done == 0.0
    evening.end(owner, day, meal, NOW)
    assert evening.current(owner, day, meal) is None


def test_wrong_deeds_are_refused_in_words(book_file: Path) -> None:
    owner = books.create(BOOK)
    with pytest.raises(InputError, match="begin first"):
        evening.did(owner, NOW.date(), Meal.DINNER, NOW, deed="done")
    with pytest.raises(InputError, match="no step 4"):
        evening.finished(THREE, 3, 0)
