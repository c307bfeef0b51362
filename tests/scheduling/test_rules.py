"""Each rule of the model on one to three tasks whose best schedule is plain."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.scheduling.checker import broken

from chauka.errors import InputError
from chauka.scheduling.problem import Alike, Due, Edge, Goal, Hold, Kind, Lag, Mode, Need, Problem, Resource, Task
from chauka.scheduling.schedule import Status
from chauka.scheduling.solve import solve

MAKESPAN = (Goal.MAKESPAN,)


def task(name: str, ticks: int, *needs: Need, **window: int) -> Task:
    """A task of fixed length."""
    return Task(name, (Mode(ticks, ticks, needs),), **window)


def solved(problem: Problem) -> tuple[dict, list[int]]:
    """The schedule and the goals' values, proven and checked."""
    answer = solve(problem, seconds=5)
    assert answer.status is Status.PROVEN
    assert broken(problem, answer.spots) == []
    return dict(answer.spots), [level.value for level in answer.levels]


def test_two_tasks_that_share_nothing_run_side_by_side():
    """Without a shared resource the longer task alone sets the end."""
    _, values = solved(Problem((task("a", 3), task("b", 5)), (), 20, goals=MAKESPAN))
    assert values == [5]


def test_one_burner_takes_one_vessel_after_the_other():
    """A resource of capacity one serialises its users."""
    flame = Resource("flame", 1)
    tasks = (task("a", 3, Need("flame")), task("b", 5, Need("flame")))
    assert solved(Problem(tasks, (flame,), 20, goals=MAKESPAN))[1] == [8]


def test_three_quarters_and_one_quarter_of_a_cook_fit_together_but_two_three_quarters_do_not():
    """Attention is one cumulative of four units."""
    cook = Resource("cook", 4, Kind.COOK)
    chop, chop_too, stir = (
        task("chop", 6, Need("cook", 3)),
        task("chop too", 6, Need("cook", 3)),
        task("stir", 6, Need("cook", 1)),
    )
    assert solved(Problem((chop, stir), (cook,), 20, goals=MAKESPAN))[1] == [6]
    assert solved(Problem((chop, chop_too, stir), (cook,), 20, goals=MAKESPAN))[1] == [12]


def test_a_minimum_lag_delays_and_a_maximum_lag_holds_back():
    """Dough rests at least 4 and is used within 6 ticks, though the griddle would be free at once."""
    tasks = (task("knead", 2), task("bake", 3, earliest=20))
    spots, _ = solved(Problem(tasks, (), 40, lags=(Lag("knead", "bake", 4, 6),), goals=(Goal.MAKESPAN,)))
    assert 4 <= spots["bake"].start - spots["knead"].end <= 6


def test_a_lag_may_join_any_two_edges():
    """Start to start, as in the published sets."""
    lag = Lag("a", "b", 7, None, of=Edge.START, to=Edge.START)
    assert solved(Problem((task("a", 10), task("b", 1)), (), 40, lags=(lag,), goals=MAKESPAN))[1] == [10]
    lag = Lag("a", "b", 0, 0, of=Edge.END, to=Edge.END)
    spots, _ = solved(Problem((task("a", 10), task("b", 1)), (), 40, lags=(lag,), goals=MAKESPAN))
    assert spots["b"].start == 9


def test_a_vessel_is_held_between_its_uses_until_it_is_washed():
    """Two dishes with one pot: the second waits for the first one's wash, even while the pot only stands."""
    dishes = [(task(f"cook {d}", 4), task(f"wash {d}", 1)) for d in "ab"]
    tasks = tuple(t for pair in dishes for t in pair)
    lags = tuple(Lag(f"cook {d}", f"wash {d}", 2) for d in "ab")
    holds = tuple(Hold(d, "pot", (f"cook {d}", f"wash {d}")) for d in "ab")
    assert solved(Problem(tasks, (Resource("pot", 1),), 40, lags, holds, goals=MAKESPAN))[1] == [14]
    assert solved(Problem(tasks, (Resource("pot", 2),), 40, lags, holds, goals=MAKESPAN))[1] == [7]


def test_the_quicker_of_two_modes_is_taken_only_while_its_resource_is_free():
    """Two tasks, one pressure cooker: one dish has to use the slow open pan."""
    modes = (Mode(3, 3, (Need("cooker"),), "cooker"), Mode(5, 5, (Need("pan"),), "pan"))
    problem = Problem(
        (Task("a", modes), Task("b", modes)), (Resource("cooker", 1), Resource("pan", 1)), 20, goals=MAKESPAN
    )
    spots, values = solved(problem)
    assert values == [5]
    assert sorted(s.mode for s in spots.values()) == [0, 1]


def test_what_stands_in_one_pot_stays_in_it():
    """Two steps of one dish and one of another, two pots: the pot chosen is held between the steps, the other free."""
    modes = tuple(Mode(3, 3, (), pot, way=pot) for pot in ("iron", "steel"))
    tasks = tuple(Task(name, modes) for name in ("boil", "thicken", "milk"))
    pots = (Resource("iron", 1), Resource("steel", 1))
    dishes = (("boil", "thicken"), ("milk",))
    holds = tuple(Hold(f"{pot} {d}", pot, d, way=pot) for d in dishes for pot in ("iron", "steel"))
    lags = (Lag("boil", "thicken", 2),)
    alike = (Alike(("boil", "thicken")),)
    spots, values = solved(Problem(tasks, pots, 20, lags, holds, goals=MAKESPAN, alike=alike))
    assert values == [8]
    assert spots["boil"].mode == spots["thicken"].mode != spots["milk"].mode
    one_pot = tuple(replace(t, modes=modes[:1]) for t in tasks)
    assert solved(Problem(one_pot, pots, 20, lags, holds, goals=MAKESPAN, alike=alike))[1] == [11]


def test_the_welcome_mode_is_taken_where_nothing_else_is_at_stake():
    """Of two pots that do equally well, the one that costs nothing."""
    modes = (Mode(3, 3, (), "large", cost=1), Mode(3, 3, (), "small"))
    goals = (Goal.LATENESS, Goal.ORDER)
    spots, _ = solved(Problem((Task("a", modes),), (), 20, dues=(Due("d", ("a",), 10),), goals=goals))
    assert spots["a"].mode == 1


def test_nothing_to_do_is_done():
    """A problem without tasks has an empty schedule."""
    assert solve(Problem((), (), 0)).status is Status.PROVEN


def test_lateness_comes_before_everything_else():
    """Better ten ticks of waiting than one tick late."""
    flame = Resource("flame", 1)
    tasks = (task("a", 10, Need("flame")), task("b", 10, Need("flame")))
    dues = (Due("a", ("a",), 30, 0), Due("b", ("b",), 30, 0))
    assert solved(Problem(tasks, (flame,), 60, dues=dues))[1] == [0, 10, 10, 20]


def test_a_cool_dish_may_wait_and_a_hot_one_ends_when_due():
    """Only the dish with a cap is pulled towards the due time."""
    flame = Resource("flame", 1)
    tasks = (task("soup", 5, Need("flame")), task("boiled salad", 5, Need("flame")))
    dues = (Due("soup", ("soup",), 20, 2), Due("boiled salad", ("boiled salad",), 20, None))
    spots, values = solved(Problem(tasks, (flame,), 40, dues=dues))
    assert spots["soup"].end == 20
    assert values == [0, 0, 0, 10]


def test_a_dish_is_ready_when_its_last_part_is():
    """Several final steps: the last counts."""
    tasks = (task("a", 5, latest_end=8), task("b", 5))
    spots, _ = solved(Problem(tasks, (), 40, dues=(Due("d", ("a", "b"), 20, 0),)))
    assert spots["b"].end == 20


def test_flexible_tasks_stretch_to_bridge_a_lag():
    """Resting takes anything in its span."""
    rest = Task("rest", (Mode(4, 9),))
    lags = (Lag("knead", "rest", 0, 0), Lag("rest", "bake", 0, 0))
    spots, _ = solved(Problem((task("knead", 2), rest, task("bake", 1, earliest=8)), (), 40, lags, goals=MAKESPAN))
    assert spots["rest"].end == spots["bake"].start


def test_prep_comes_early_where_nothing_else_is_at_stake():
    """The cosmetic goal moves weighted tasks to the front of an unchanged session."""
    tasks = (task("cook", 10), Task("chop", (Mode(1, 1),), weight=1))
    goals = (Goal.LATENESS, Goal.SESSION, Goal.ORDER)
    spots, _ = solved(Problem(tasks, (), 60, dues=(Due("d", ("cook", "chop"), 30, 5),), goals=goals))
    assert spots["chop"].start == spots["cook"].start == 20


def test_impossible_is_proven_not_raised():
    """Two tasks that must overlap on one resource."""
    tasks = (task("a", 5, Need("flame"), latest_end=6), task("b", 5, Need("flame"), latest_end=6))
    assert solve(Problem(tasks, (Resource("flame", 1),), 20, goals=MAKESPAN), seconds=5).status is Status.IMPOSSIBLE


@pytest.mark.parametrize(
    ("problem", "said"),
    [
        ({"tasks": (task("a", 1), task("a", 1))}, "'a' stands twice"),
        ({"tasks": (task("a", 1, Need("oven")),)}, "needs 'oven', which is not there"),
        ({"tasks": (task("a", 1, Need("flame", 2)),)}, "needs 2 of flame, of which there are 1"),
        ({"tasks": (task("a", -1),)}, "takes -1 to -1 ticks"),
        ({"tasks": (Task("a", ()),)}, "has no mode"),
        ({"tasks": (task("a", 1),), "lags": (Lag("a", "b"),)}, "names task 'b', which is not there"),
        ({"tasks": (task("a", 1), task("b", 1)), "lags": (Lag("a", "b", 3, 2),)}, "at least 3 but at most 2"),
        ({"tasks": (task("a", 1),), "holds": (Hold("h", "flame", ()),)}, "holds for no task"),
        ({"tasks": (task("a", 1),), "dues": (Due("d", ("x",), 3),)}, "names task 'x'"),
        ({"tasks": (task("a", 1), task("b", 1)), "alike": (Alike(("a", "z")),)}, "alike: names task 'z'"),
        (
            {"tasks": tuple(Task(n, (Mode(1, 1, way=n),)) for n in "ab"), "alike": (Alike(("a", "b")),)},
            "a, b: share no way",
        ),
    ],
)
def test_a_problem_that_contradicts_itself_is_refused_in_words(problem, said):
    """Every complaint names the thing and what is wrong with it."""
    with pytest.raises(InputError, match=said):
        Problem(resources=(Resource("flame", 1),), horizon=20, **problem)
