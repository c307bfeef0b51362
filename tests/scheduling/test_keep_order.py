"""Keeping the order of a schedule, whatever takes how long."""

from __future__ import annotations

from datetime import datetime

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.scheduling.checker import broken
from tests.scheduling.dinners import DINNER, house

from chauka.scheduling import run_sheet
from chauka.scheduling.keep_order import Order, Times, least_lateness
from chauka.scheduling.measure import keeps_capacities, measured
from chauka.scheduling.problem import Goal, Lag, Mode, Need, Problem, Resource, Task
from chauka.scheduling.schedule import Spot
from chauka.scheduling.slack import handovers

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time, as the kitchen keeps it


@pytest.fixture(scope="module")
def dinner():
    """Dal, greens, rice, flatbread and a salad on two burners, one cook."""
    return run_sheet(DINNER, house(), SERVE)


def test_a_plan_that_nothing_delays_comes_out_as_it_is(dinner):
    """Every rule is kept, nothing moves."""
    problem, planned = dinner.kitchen.problem, dinner.schedule.spots
    order = Order(problem, planned)
    nothing = np.zeros(order.planned.shape, dtype=bool)
    floor = Times(order.planned, np.zeros(order.planned.shape))
    spots = order.spots(order.earliest(floor, order.shortest, nothing, nothing))
    assert broken(problem, spots) == []
    assert {t: s.start for t, s in spots.items()} == {t: s.start for t, s in planned.items()}


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 2**31))
def test_the_chains_keep_every_capacity_whatever_takes_how_long(dinner, seed):
    """Steps up to three times as long: hands and burners are still never over-used."""
    problem, planned = dinner.kitchen.problem, dinner.schedule.spots
    order = Order(problem, planned)
    lasts = np.round(order.shortest * np.random.default_rng(seed).uniform(0.3, 3, order.shortest.shape))
    starts = order.unfolded(lasts, order.planned).starts
    spots = {
        task: Spot(int(start), int(start + long), planned[task].mode)
        for task, (start,), (long,) in zip(order.tasks, starts, lasts, strict=True)
    }
    assert keeps_capacities(problem, spots)


def test_what_would_have_to_stand_is_begun_later():
    """b may wait 1 tick for c, and c for the flame: when the flame is late, b is put off."""
    flame = (Need("flame"),)
    problem = Problem(
        (Task("a", (Mode(4, 4, flame),)), Task("b", (Mode(2, 2),)), Task("c", (Mode(3, 3, flame),))),
        (Resource("flame", 1),),
        60,
        (Lag("b", "c", 0, 1),),
    )
    order = Order(problem, {"a": Spot(0, 4), "b": Spot(2, 4), "c": Spot(4, 7)})
    begun = np.array([[task == "a"] for task in order.tasks])
    floor = Times(order.planned, np.where(begun, 10.0, 0.0))
    spots = order.spots(order.earliest(floor, order.shortest, begun, begun))
    assert (spots["c"].start, spots["b"].start) == (10, 7)


def test_a_unit_is_taken_from_whom_one_waits_for_anyway():
    """Of two units, each task of a chain keeps its own: no wait across the chains."""
    use = (Mode(2, 2, (Need("hand"),)),)
    problem = Problem(
        tuple(Task(t, use) for t in ("a1", "a2", "b1", "b2")),
        (Resource("hand", 2),),
        20,
        (Lag("a1", "a2"), Lag("b1", "b2")),
    )
    spots = {"a1": Spot(0, 2), "b1": Spot(0, 2), "a2": Spot(2, 4), "b2": Spot(2, 4)}
    assert set(handovers(problem, spots)) == {("a1", "a2", "hand"), ("b1", "b2", "hand")}


def test_the_bound_is_never_above_what_is_planned(dinner):
    """Plenty of hands cannot make dinner later."""
    problem, planned = dinner.kitchen.problem, dinner.schedule.spots
    assert least_lateness(problem, planned) <= measured(problem, planned, Goal.LATENESS)
