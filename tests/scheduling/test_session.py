"""Dinners from dishes: read as a cook would, and judged by the dishes alone."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

import pytest
from hypothesis import Phase, given, settings
from tests.scheduling.checker import broken, is_hot, sheet_broken, waits_min
from tests.scheduling.dinners import DAL, DINNER, GREENS, OFF, ON, ROTI, SALAD, dish, house, step
from tests.scheduling.made_kitchens import dinners, houses

from chauka import demo
from chauka.errors import InputError
from chauka.kitchen import After, Heat, Served, Step, Technique, Vessel
from chauka.scheduling import Lane, run_sheet
from chauka.scheduling.problem import Goal
from chauka.scheduling.solve import solve
from chauka.units import Span

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time, as the kitchen keeps it


@pytest.fixture(scope="module")
def dinner():
    """Dal, greens, rice, flatbread and a salad on two burners, one cook."""
    return run_sheet(DINNER, house(), SERVE)


def test_a_dinner_keeps_every_rule_and_is_proven(dinner):
    """Problem by problem and row by row, nothing is broken."""
    assert broken(dinner.kitchen.problem, dinner.schedule.spots) == []
    assert sheet_broken(dinner, list(DINNER), house(), 2) == []
    assert dinner.proof.status == "proven best"
    assert dinner.proof.gap_percent == 0
    assert dinner.proof.terms["lateness"] == 0


def test_everything_is_ready_at_the_serving_time_and_not_after(dinner):
    """No dish is late, and the flatbread comes off last but for the tempering."""
    assert all(waits_min(dinner, d) >= 0 for d, _ in DINNER)
    assert waits_min(dinner, DAL) <= DAL.hold_min
    assert max(e.end for e in dinner) == SERVE


def test_the_same_cutting_for_two_dishes_is_one_row(dinner):
    """All onions once, with the grams of both and both names."""
    row = next(e for e in dinner if len(e.steps) == 2)
    assert "chop 180 g onion for dal and greens" in row.line
    assert row.line.startswith(f"{row.start:%H:%M} · hands · ")
    assert row.line.endswith(" · 8 min")


def test_the_run_sheet_reads_from_top_to_bottom(dinner):
    """Rows stand in the order of their start; the text begins with when to begin."""
    starts = [e.start for e in dinner]
    assert starts == sorted(starts)
    assert dinner.text().startswith(f"Begin at {dinner.starts_at:%H:%M}, on the table at 20:00")
    assert len(dinner.lane(Lane.BURNER, 1)) + len(dinner.lane(Lane.BURNER, 2)) == sum(
        e.burner is not None for e in dinner
    )


def test_every_row_can_start_as_late_as_it_says(dinner):
    """With all before it as planned, a row that starts at its latest still leaves dinner as punctual."""
    problem, spots = dinner.kitchen.problem, dinner.schedule.spots
    loose = [e for e in dinner if e.slack_min > 0]
    assert any(("rice", "soak-the-rice") in e.steps for e in loose)
    for entry in loose:
        name, late = entry.tasks[0], round(entry.slack_min * 2)
        tasks = []
        for task in problem.tasks:
            spot = spots[task.id]
            if task.id == name:
                tasks.append(replace(task, earliest=spot.start + late))
            elif spot.start < spots[name].start:
                tasks.append(replace(task, earliest=spot.start, latest_end=spot.end))
            else:
                tasks.append(task)
        delayed = solve(replace(problem, tasks=tuple(tasks), goals=(Goal.LATENESS,)), seconds=5)
        assert delayed.levels[0].value == 0, entry.line


def test_grams_and_cutting_grow_with_the_portions():
    """Twice the portions: twice the grams and twice the cutting, the same simmering."""
    four, eight = (run_sheet(((GREENS, n),), house(), SERVE) for n in (4, 8))

    def minutes(sheet, name):
        return next(e.minutes for e in sheet if ("greens", name) in e.steps)

    assert minutes(eight, "chop-the-greens") == 2 * minutes(four, "chop-the-greens")
    assert minutes(eight, "wilt") == minutes(four, "wilt")
    assert next(e for e in eight if ("greens", "chop-the-greens") in e.steps).amounts[0].grams == 800


def test_steps_done_ahead_are_not_on_the_sheet():
    """Soaking overnight stands on the bench list."""
    beans = dish(
        "beans",
        step("soak", Technique.SOAK, 480, 720, OFF, ahead=True),
        step("boil", Technique.BOIL, 20, 30, OFF, after=("soak",), vessel=Vessel.POT, heat=Heat.MEDIUM),
    )
    assert [e.steps for e in run_sheet(((beans, 4),), house(), SERVE)] == [(("beans", "boil"),)]


def test_three_dishes_for_the_only_pressure_cooker_are_named_with_a_way_out():
    """They queue, wash in between, wait too long, and the answer says so."""
    pots = [
        dish(n, step("cook", Technique.PRESSURE_COOK, 20, attention=OFF, vessel=Vessel.PRESSURE_COOKER, heat=Heat.LOW))
        for n in ("chickpeas", "dal", "potatoes")
    ]
    kit = house(burners=3, pot=0)
    sheet = run_sheet([(p, 4) for p in pots], kit, SERVE)
    assert sheet_broken(sheet, [(p, 4) for p in pots], kit, 3) == []
    assert sum(e.wash for e in sheet) == 2
    said = " ".join(sheet.clashes[0].rules)
    assert "chickpeas, dal and potatoes all need the only pressure cooker" in said
    assert "one pressure cooker more" in sheet.clashes[0].way_out


def test_a_vessel_the_house_lacks_is_said_not_raised():
    """No steamer: no sheet, but the reason."""
    dumplings = dish(
        "dumplings", step("steam", Technique.STEAM, 12, attention=OFF, vessel=Vessel.STEAMER, heat=Heat.HIGH)
    )
    sheet = run_sheet(((dumplings, 4),), house(steamer=0), SERVE)
    assert sheet.entries == ()
    assert "dumplings needs a steamer, and the house has none" in sheet.clashes[0].rules


def test_a_cook_who_comes_home_late_serves_late_and_hears_what_would_help():
    """From 19:30 there is no dough rested by 20:00."""
    sheet = run_sheet(((ROTI, 4),), house(), SERVE, not_before=SERVE - timedelta(minutes=30))
    assert sheet.starts_at >= SERVE - timedelta(minutes=30)
    assert sheet.proof.terms["lateness"] == 18
    assert "late" in sheet.clashes[0].rules[0]
    assert "an earlier start (then everything is hot and in time)" in sheet.clashes[0].way_out


def test_a_contradiction_within_a_dish_is_a_result_with_a_reason():
    """Both parts end on one burner with no wait between either and the next step."""
    torn = dish(
        "torn",
        step("a", Technique.SIMMER, 10, attention=OFF, heat=Heat.LOW),
        step("b", Technique.SIMMER, 10, attention=OFF, heat=Heat.LOW),
        step("c", Technique.MIX, 1, after=(After("a", 0, 0), After("b", 0, 0))),
    )
    sheet = run_sheet(((torn, 4),), house(burners=1), SERVE)
    assert sheet.entries == ()
    assert "one burner more" in sheet.clashes[0].way_out


def test_a_second_cook_takes_her_share():
    """Two cooks: both have hands on the sheet, and the session is shorter."""
    one, two = (run_sheet(DINNER, house(), SERVE, cooks=n) for n in (1, 2))
    assert {e.cook for e in two if e.cook} == {1, 2}
    assert two.starts_at > one.starts_at
    assert sheet_broken(two, list(DINNER), house(), 2) == []


def test_the_flatbread_lots_stand_close_together(dinner):
    """No more than four minutes between two lots of bread."""
    lots = [e for e in dinner if ("roti", "roll-and-bake") in e.steps]
    gaps = [(b.start - a.end).total_seconds() / 60 for a, b in pairwise(lots)]
    assert all(gap <= 4 for gap in gaps)
    assert sum(e.minutes for e in lots) == 20


def test_breads_may_come_off_the_griddle_during_the_meal():
    """The first lot in time, the last ten minutes into the meal, still one after another; nothing else is late."""
    sheet = run_sheet(DINNER, house(), SERVE, breads_min=10)
    assert broken(sheet.kitchen.problem, sheet.schedule.spots) == []
    spots = sheet.schedule.spots
    lots = sorted((spots[t].start, spots[t].end) for t in spots if t.startswith("roti/roll-and-bake"))
    serve = sheet.kitchen.serve_tick
    assert lots[0][1] <= serve < lots[-1][1] <= serve + 20
    assert all(0 <= two[0] - one[1] <= 8 for one, two in pairwise(lots))
    assert all(waits_min(sheet, d) >= 0 for d, _ in DINNER if d is not ROTI)


def test_a_part_that_is_also_served_is_made_once():
    """The chutney that goes with the pancakes and stands on the table: each of its steps is one row for both."""
    book = demo.book()
    both = [(book.dish(key), 5) for key in ("besan-cheela-with-spring-onion", "coriander-mint-chutney")]
    sheet = run_sheet(both, book.house, SERVE)
    shared = [e for e in sheet if "coriander-mint-chutney" in e.dishes]
    assert len(shared) == len(book.dish("coriander-mint-chutney").steps)
    assert all(e.dishes[0] == "besan-cheela-with-spring-onion" and len(e.steps) == 2 for e in shared)
    assert all("  " not in e.text for e in shared)


def test_a_dish_named_twice_is_cooked_once():
    """Two portions and two portions are four."""
    assert (
        run_sheet(((SALAD, 2), (SALAD, 2)), house(), SERVE).entries == run_sheet(((SALAD, 4),), house(), SERVE).entries
    )


def test_the_same_dinner_gives_the_same_sheet(dinner):
    """Proven and seeded: row by row the same."""
    assert run_sheet(DINNER, house(), SERVE).entries == dinner.entries


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ({"dishes": ()}, "nothing to cook"),
        ({"dishes": ((SALAD, -1),)}, "-1 portions of salad"),
        ({"dishes": ((SALAD, 4),), "burners": 0}, "one flame is the least"),
        ({"dishes": ((SALAD, 4),), "cooks": 0}, "somebody has to cook"),
        ({"dishes": ((SALAD, 4),), "not_before": SERVE}, "after the serving time"),
    ],
)
def test_a_senseless_request_is_refused_in_words(asked, said):
    """The message names the field."""
    with pytest.raises(InputError, match=said):
        run_sheet(asked.pop("dishes"), house(), SERVE, **asked)


@settings(max_examples=25, deadline=None, phases=(Phase.explicit, Phase.reuse, Phase.generate))
@given(dinners(), houses())
def test_any_dinner_keeps_the_rules_of_its_dishes_and_its_house(dishes, kit):
    """Whatever the dishes, the sheet passes both checkers or says why there is none."""
    sheet = run_sheet(dishes, kit, SERVE, seconds=1)
    if not sheet.entries:
        assert sheet.clashes
        return
    assert broken(sheet.kitchen.problem, sheet.schedule.spots) == []
    assert sheet_broken(sheet, dishes, kit, kit.burners) == []
    late = sum(max(0.0, -waits_min(sheet, d)) for d, _ in dishes)
    assert late == sheet.proof.terms["lateness"]
    over = sum(max(0.0, waits_min(sheet, d) - d.hold_min) for d, _ in dishes if is_hot(d))
    assert over == sheet.proof.terms["hold beyond the cap"]


def test_a_dish_made_ahead_gives_an_empty_sheet_that_says_so():
    """Curd that was set the evening before: nothing to do, nothing wrong."""
    curd = dish("curd", step("set", Technique.SET, 420, 600, OFF, ahead=True), served=Served.COOL)
    sheet = run_sheet([(curd, 4)], house(), SERVE)
    assert (sheet.entries, sheet.clashes, sheet.starts_at) == ((), (), SERVE)
    assert sheet.why == ("curd: made ahead, nothing is left to do at the stove",)
    beside = run_sheet([(curd, 4), (SALAD, 4)], house(), SERVE)
    assert {d for e in beside for d in e.dishes} == {"salad"}
    assert "curd: made ahead, nothing is left to do at the stove" in beside.why


def test_how_many_breads_are_made_follows_the_portions():
    """Fifteen for four are thirty for eight, and the row says so."""
    bread = dish("bread", Step("bake", "Make fifteen balls; roll and bake.", Technique.GRIDDLE, Span(20, 20), ON,
                               Vessel.GRIDDLE, Heat.HIGH))  # fmt: skip
    assert "Make 30 balls; roll and bake" in run_sheet([(bread, 8)], house(), SERVE).entries[0].text


def test_a_larger_house_is_never_later():
    """Three burners instead of two: no level gets worse."""

    def terms(burners):
        return [
            v for k, v in run_sheet(DINNER, house(), SERVE, burners=burners).proof.terms.items() if "bound" not in k
        ]

    assert terms(3) <= terms(2)


def test_hot_dishes_may_wait_as_long_as_their_author_says():
    """A longer hold never makes the over-hold worse."""
    patient = [(replace(d, hold_min=60), n) for d, n in DINNER]
    assert run_sheet(patient, house(), SERVE).proof.terms["hold beyond the cap"] == 0


def test_a_step_can_be_read_aloud(dinner):
    """When, where, what and how long, as sentences; near times from now, others by the clock."""
    entry = next(e for e in dinner if e.burner and e.vessel)
    assert entry.spoken(entry.start - timedelta(minutes=2)).startswith(
        f"In two minutes, on burner {entry.burner}, in the "
    )
    assert entry.spoken(entry.start).startswith("Now, ")
    assert entry.spoken().startswith(f"At {entry.start:%H:%M}, ")
    assert entry.spoken(entry.start - timedelta(hours=2)) == entry.spoken()
    assert all(e.spoken().endswith(".") and ".." not in e.spoken() for e in dinner)
