"""The demo week from plan to bench: what has to wait long is begun in time."""

from __future__ import annotations

import pytest

from chauka import demo, planning, scheduling

pytestmark = pytest.mark.slow


@pytest.mark.parametrize("seconds", [1.0, 4.0])
def test_nothing_on_the_bench_should_have_begun_before_the_plan(seconds: float) -> None:
    """Soaking, sprouting and setting of every planned dish fit between now and its sitting."""
    book = demo.book()
    plan = planning.plan(book, demo.START, 7, seconds=seconds)
    late = [entry.line for entry in scheduling.bench_list(plan, book).entries if entry.overdue]
    assert late == []
