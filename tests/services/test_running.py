"""A plan in the making: asked for, taken up by one worker, told, stopped, and not lost with its worker."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from tests.services.small_house import BOOK, NOW

from chauka.errors import InputError
from chauka.services import health, plan_days, running, workers
from chauka.services.running import Asked
from chauka.store import books, dump, jobs, ledger, models, plans
from chauka.store.models import Household

ON_BOTH = True

ASKED = Asked(NOW.date(), NOW, 7, 20.0)
Called = list[str]


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


@pytest.fixture(autouse=True)
def called(monkeypatch: pytest.MonkeyPatch) -> Called:
    """No process is started; the names of the households for which one was called."""
    names: Called = []
    monkeypatch.setattr(workers, "start", lambda household: names.append(household.name))
    return names


@pytest.fixture
def time_of(monkeypatch: pytest.MonkeyPatch) -> Callable[[float], None]:
    """Sets the clock by which workers are heard of [s]."""
    clock = [1000.0]
    monkeypatch.setattr("chauka.services.running.time", SimpleNamespace(time=lambda: clock[0]))

    def to(seconds: float) -> None:
        clock[0] = seconds

    return to


def _slow(monkeypatch: pytest.MonkeyPatch, during: Callable[[dict[str, Any]], None]) -> list[Asked]:
    """A planner that calls `during` with what it was given instead of searching; what it was asked."""
    asked: list[Asked] = []

    def make(household: Household, first: Any, now: Any, **given: Any) -> None:
        asked.append(Asked(first, now, given["days"], given["seconds"], given["keep"], given["refuse"]))
        during(given)

    monkeypatch.setattr(plan_days, "make", make)
    return asked


def test_what_is_asked_for_is_planned_and_kept_as_a_proposal(owner: Household, called: Called) -> None:
    running.start(owner, replace(ASKED, days=2, seconds=1.0))
    assert called == [BOOK.house.name]
    seen = running.current(owner)
    assert seen is not None
    assert (seen.done, seen.value, seen.waiting) == (False, None, 0)
    assert running.work(owner) == 1
    assert running.current(owner) is None
    assert plans.proposal(owner) is not None


def test_a_plan_in_the_making_is_no_plan_and_leaves_no_trace(owner: Household) -> None:
    """It is not dumped, not proposed, not in the ledger."""
    before = dump.take(owner)
    running.start(owner, ASKED)
    assert dump.take(owner) == before
    assert plans.proposal(owner) is plans.current(owner) is None
    with pytest.raises(InputError, match="there is no plan 0"):
        plans.numbered(owner, 0)
    assert not models.Action.objects.of(owner).exists()


def test_the_same_asked_twice_is_planned_once_and_another_waits(
    owner: Household, called: Called, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = _slow(monkeypatch, lambda _: None)
    running.start(owner, ASKED)
    running.start(owner, ASKED)
    other = replace(ASKED, refuse=frozenset({"spinach-dal"}))
    running.start(owner, other)
    assert called == [BOOK.house.name]
    assert running.current(owner).waiting == 1  # type: ignore[union-attr]
    assert running.work(owner) == 2
    assert asked == [ASKED, other]


def test_no_more_is_taken_than_can_be_waited_for(owner: Household) -> None:
    for days in range(1, running.MOST_WAITING + 2):
        running.start(owner, replace(ASKED, days=days))
    with pytest.raises(InputError, match="3 plans wait"):
        running.start(owner, replace(ASKED, days=9))


def test_two_workers_do_not_plan_the_same(owner: Household, monkeypatch: pytest.MonkeyPatch) -> None:
    """As two servers on one book call them: the second finds nothing to do while the first is at it."""
    seconds = []
    _slow(monkeypatch, lambda _: seconds.append(running.work(owner)))
    running.start(owner, ASKED)
    assert running.work(owner) == 1
    assert seconds == [0]


def test_a_worker_hears_that_it_shall_stop_and_tells_how_far_it_is(
    owner: Household, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(running, "BEAT_S", 0.01)
    told: list[float | None] = []

    def during(given: dict[str, Any]) -> None:
        given["progress"](1.0, 500.0, 400.0)
        while (value := running.current(owner).value) is None:  # type: ignore[union-attr]
            pass
        told.append(value)
        running.stop(owner)
        while not given["cancel"]():
            pass

    _slow(monkeypatch, during)
    running.start(owner, ASKED)
    assert running.work(owner) == 1
    assert told == [500.0]
    assert running.current(owner) is None


def test_stopping_what_nobody_has_begun_drops_it(owner: Household, monkeypatch: pytest.MonkeyPatch) -> None:
    running.start(owner, ASKED)
    running.stop(owner)
    assert running.current(owner) is None
    assert running.work(owner) == 0


def test_a_dead_worker_is_noticed_and_its_work_taken_up(
    owner: Household, called: Called, time_of: Callable[[float], None]
) -> None:
    """Another is called once nothing was heard for a while, also with a clock set back; after the third it is told."""
    running.start(owner, ASKED)
    jobs.change(owner, lambda job: replace(job, worker="dies"))
    running.current(owner)
    assert len(called) == 1
    time_of(1000 + running.LOST_S + 1)
    assert not running.current(owner).done  # type: ignore[union-attr]
    running.current(owner)
    assert len(called) == 2
    time_of(0.0)
    running.current(owner)
    assert len(called) == 3
    time_of(running.LOST_S + 1)
    seen = running.current(owner)
    assert seen is not None
    assert (seen.done, seen.complaint, len(called)) == (True, running.CUT_OFF, 3)
    running.clear(owner)
    assert running.current(owner) is None


def test_a_worker_that_was_thought_dead_changes_nothing_of_the_others(
    owner: Household, monkeypatch: pytest.MonkeyPatch
) -> None:
    def during(_: dict[str, Any]) -> None:
        jobs.change(owner, lambda job: replace(job, worker="another", value=7.0))

    _slow(monkeypatch, during)
    running.start(owner, ASKED)
    assert running.work(owner) == 1
    assert (jobs.read(owner).worker, jobs.read(owner).value, jobs.read(owner).queue) == ("another", 7.0, (ASKED,))


def test_why_no_plan_could_be_made_is_told(owner: Household, monkeypatch: pytest.MonkeyPatch) -> None:
    """A complaint in the cook's words, and a fault by its kind; then the next in the queue has its turn."""

    def during(_: dict[str, Any]) -> None:
        raise errors.pop()

    errors: list[Exception] = [KeyError("secret"), InputError({"days": ("99 are too many",)})]
    _slow(monkeypatch, during)
    running.start(owner, ASKED)
    running.work(owner)
    assert "99 are too many" in running.current(owner).complaint  # type: ignore[union-attr]
    running.start(owner, ASKED)
    running.work(owner)
    assert running.current(owner).complaint.endswith("(KeyError).")  # type: ignore[union-attr]


def test_the_ledger_goes_on_beside_it(owner: Household) -> None:
    running.start(owner, ASKED)
    with ledger.action(owner, NOW, "something"):
        running.stop(owner)
    assert running.current(owner) is None


def test_health_tells_of_the_worker_and_calls_none(
    owner: Household, called: Called, time_of: Callable[[float], None]
) -> None:
    """Idle without work, alive while it is heard of, silent long after; looking on changes nothing."""
    assert health.view().worker == "idle"
    time_of(1000.0)
    running.start(owner, ASKED)
    assert health.view().worker == "alive"
    time_of(1000.0 + 2 * running.LOST_S)
    before = jobs.read(owner)
    assert (health.view().worker, health.view().well) == ("silent", True)
    assert jobs.read(owner) == before
    assert called == [BOOK.house.name]
