"""Burners and vessels by size, the oven, the bench, who can do what, and what is cooked in one pot."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

import pytest
from tests.scheduling.checker import broken, sheet_broken
from tests.scheduling.dinners import DAL, DINNER, NOW, OFF, ROTI, dish, house, line, step
from tests.scheduling.kitchen_checker import house_broken

from chauka.errors import InputError
from chauka.kitchen import HOT_OIL, After, Cook, Heat, House, Technique, Vessel, VesselStock
from chauka.kitchen.filling import least_l
from chauka.scheduling import Event, Tap, follow, run_sheet

SERVE = datetime(2027, 3, 14, 20)  # noqa: DTZ001 - local wall time
COOKER = Vessel.PRESSURE_COOKER


def with_vessels(kit: House, *stocks: VesselStock) -> House:
    """The house with these instead of what it had of their kinds."""
    kinds = {stock.kind for stock in stocks}
    return replace(kit, vessels=(*(v for v in kit.vessels if v.kind not in kinds), *stocks))


def sound(dishes, kit, **asked):
    """The sheet of a session, looked at by all checkers."""
    sheet = run_sheet(dishes, kit, SERVE, **asked)
    assert sheet.entries, sheet.clashes
    assert broken(sheet.kitchen.problem, sheet.schedule.spots) == []
    assert house_broken(sheet, dishes, kit) == []
    return sheet


def pot_of(name: str, grams: float, minutes: int = 20, vessel: Vessel = COOKER):
    """Something that fills a vessel by its weight."""
    technique = Technique.PRESSURE_COOK if vessel is COOKER else Technique.SIMMER
    return dish(
        name,
        step("cook", technique, minutes, attention=OFF, vessel=vessel, heat=Heat.LOW, lines=(f"{name} food",)),
        lines=(line(f"{name} food", grams),),
        hold=5,
    )


# -- vessels by size ---------------------------------------------------------------------------------


def test_the_smallest_vessel_that_fits_is_taken():
    """Half a litre goes into the small cooker, two litres into the large one; nothing is held or washed."""
    kit = with_vessels(house(burners=2), VesselStock(COOKER, 1, 2.0), VesselStock(COOKER, 1, 5.0))
    sheet = sound([(pot_of("potatoes", 500), 4), (pot_of("beets", 2000), 4)], kit)
    assert {e.dishes[0]: e.vessel for e in sheet} == {
        "potatoes": "2 l pressure cooker",
        "beets": "5 l pressure cooker",
    }
    assert sheet.kitchen.problem.holds == ()


def test_a_vessels_least_size_grows_with_the_portions():
    """Four portions fit the small pot, twelve need the large one."""
    kit = with_vessels(house(), VesselStock(Vessel.POT, 1, 2.0), VesselStock(Vessel.POT, 1, 8.0))
    soup = pot_of("soup", 1200, vessel=Vessel.POT)
    assert [sound([(soup, n)], kit).entries[0].vessel for n in (4, 12)] == ["2 l pot", "8 l pot"]
    assert least_l(soup, soup.steps[0], Vessel.POT, 3) == pytest.approx(3 * 1.2 / 0.8)


def test_where_the_small_one_is_too_small_for_both_they_queue_for_the_large_one_with_a_wash():
    """Two dishes of two litres, one cooker of five and one of two: the second waits for the first one's wash."""
    kit = with_vessels(house(burners=2, pot=0), VesselStock(COOKER, 1, 2.0), VesselStock(COOKER, 1, 5.0))
    dishes = [(pot_of("beans", 2000), 4), (pot_of("beets", 2000), 4)]
    sheet = sound(dishes, kit)
    assert [e.vessel for e in sheet if not e.wash] == ["5 l pressure cooker"] * 2
    assert sum(e.wash for e in sheet) == 1


def test_three_dishes_choose_among_two_sizes():
    """One dish fits either cooker, two only the large one; everything in one dish stays in one vessel."""
    kit = with_vessels(house(burners=3, pot=0), VesselStock(COOKER, 1, 2.0), VesselStock(COOKER, 1, 5.0))
    small = dish(
        "small",
        step("cook", Technique.PRESSURE_COOK, 12, attention=OFF, vessel=COOKER, heat=Heat.LOW, lines=("s",)),
        step("rest", Technique.REST, 8, 15, OFF, after=(After("cook", 0, 0),), vessel=COOKER),
        lines=(line("s", 600),),
    )
    dishes = [(small, 4), (pot_of("beans", 2000), 4), (pot_of("beets", 2100), 4)]
    sheet = sound(dishes, kit, burners=3)
    assert {e.vessel for e in sheet if e.dishes == ("small",) and not e.wash} == {"2 l pressure cooker"}


def test_what_fits_no_vessel_is_cooked_in_the_largest_and_said():
    """Ten litres in a cooker of five: two lots."""
    kit = with_vessels(house(), VesselStock(COOKER, 1, 5.0))
    said = " ".join(run_sheet([(pot_of("feast", 10_000), 4)], kit, SERVE).why)
    assert "feast asks for a pressure cooker of 15.0 l, so that it is not too full, and the largest holds 5 l" in said


def test_two_steps_of_one_dish_cannot_use_its_only_wok_at_once():
    """Spices and onions, both in the wok and in no order, one after the other."""
    both = dish(
        "both",
        step("spices", Technique.ROAST, 5, attention=NOW, vessel=Vessel.WOK, heat=Heat.LOW),
        step("onions", Technique.ROAST, 5, attention=NOW, vessel=Vessel.WOK, heat=Heat.LOW),
        step("mix", Technique.MIX, 1, after=("spices", "onions")),
    )
    rows = [e for e in sound([(both, 4)], house()) if e.burner]
    assert rows[0].end <= rows[1].start
    rows = [e for e in sound([(both, 4)], house(wok=2)) if e.burner]
    assert rows[0].start < rows[1].end
    assert rows[1].start < rows[0].end


# -- another vessel instead --------------------------------------------------------------------------


def test_an_open_pot_stands_in_for_a_cooker_that_is_taken_and_takes_longer():
    """Three dishes, one cooker: better in time in a pot than late or cold."""
    dishes = [(pot_of(n, 800), 4) for n in ("chickpeas", "dal", "potatoes")]
    sheet = sound(dishes, house(burners=3), burners=3)
    in_pot = [e for e in sheet if e.vessel == "pot" and not e.wash]
    assert in_pot
    assert all(e.minutes > 50 for e in in_pot)
    assert "(in the pot instead of the pressure cooker)" in in_pot[0].text


def test_a_house_without_a_cooker_boils_in_a_pot_and_waits_for_no_pressure():
    """Dal takes longer, and the row about the falling pressure is gone."""
    with_cooker, without = (sound([(DAL, 4)], house(pressure_cooker=n)) for n in (1, 0))
    assert without.starts_at < with_cooker.starts_at
    assert not any(("dal", "let-the-pressure-fall") in e.steps for e in without)


def test_an_oven_takes_no_burner_and_a_covered_pan_stands_in_for_it():
    """Baked with an oven beside a full stove; without one on a low flame, for longer."""
    bake = dish("bake", step("bake", Technique.BAKE, 30, attention=OFF, vessel=Vessel.OVEN, heat=Heat.MEDIUM))
    (row,) = sound([(bake, 4)], house())
    assert (row.burner, row.vessel, row.minutes) == (None, "oven", 30)
    (row,) = sound([(bake, 4)], house(oven=0))
    assert (row.vessel, row.minutes, row.burner) == ("wok", 39, 1)
    assert run_sheet([(bake, 4)], house(oven=0, wok=0, pot=0), SERVE).clashes


def test_the_pan_that_stood_in_for_the_oven_is_washed_for_the_next_dish():
    """An oven needs no rinsing; the only wok, baked in, does."""
    bake = dish("bake", step("bake", Technique.BAKE, 20, attention=OFF, vessel=Vessel.OVEN, heat=Heat.LOW))
    fry = dish("fry", step("fry", Technique.SAUTE, 5, attention=NOW, vessel=Vessel.WOK, heat=Heat.HIGH))
    sheet = sound([(bake, 4), (fry, 4)], house(oven=0, pot=0))
    assert [e.vessel for e in sheet if e.wash] == ["wok"]
    assert not [e for e in sound([(bake, 4), (fry, 4)], house()) if e.wash]


# -- burners by size ---------------------------------------------------------------------------------


def test_a_large_cooker_does_not_fit_the_small_burner():
    """Two five-litre pots, one large burner: one after the other, though two flames are there."""
    kit = with_vessels(replace(house(burners=2), small_burners=1), VesselStock(Vessel.POT, 2, 5.0))
    dishes = [(pot_of("soup", 2500, vessel=Vessel.POT), 4), (pot_of("stew", 2500, vessel=Vessel.POT), 4)]
    sheet = sound(dishes, kit)
    assert [e.burner for e in sheet] == [1, 1]
    both = sound(dishes, replace(kit, small_burners=0))
    assert sorted(e.burner for e in both) == [1, 2]


def test_a_small_vessel_may_stand_on_either():
    """A saucepan beside a five-litre pot."""
    kit = with_vessels(
        replace(house(burners=2), small_burners=1),
        VesselStock(Vessel.POT, 1, 5.0),
        VesselStock(Vessel.SAUCEPAN, 1, 1.8),
    )
    dishes = [(pot_of("soup", 2500, vessel=Vessel.POT), 4), (pot_of("milk", 500, vessel=Vessel.SAUCEPAN), 4)]
    assert {e.vessel: e.burner for e in sound(dishes, kit)} == {"pot": 1, "saucepan": 2}


def test_a_larger_burner_never_makes_it_worse():
    """The same dinner on a stove whose second burner is small, and on one where it is not."""
    kit = with_vessels(house(), VesselStock(Vessel.POT, 1, 4.0), VesselStock(COOKER, 1, 5.0))
    small, large = (sound(DINNER, replace(kit, small_burners=n)) for n in (1, 0))
    assert levels(large) <= levels(small)


def levels(sheet):
    """The values of all goals, in order."""
    return [value for name, value in sheet.proof.terms.items() if "bound" not in name]


# -- who and where -----------------------------------------------------------------------------------


def test_a_child_does_not_stand_at_hot_oil():
    """Every tempering falls to the grown-up, though both cook."""
    kit = replace(house(cooks=2), cooks=2, crew=(Cook("Nirmala"), Cook("Tara", cannot=HOT_OIL)))
    sheet = sound(DINNER, kit)
    assert {e.cook for e in sheet if any(s == ("dal", "fry-the-onion") for s in e.steps)} == {1}
    assert {e.cook for e in sheet if e.cook} == {1, 2}


def test_where_nobody_can_do_a_step_the_sheet_says_so():
    """A child alone is not left with a tempering."""
    sheet = run_sheet([(DAL, 4)], replace(house(), crew=(Cook("Tara", cannot=HOT_OIL),)), SERVE)
    assert sheet.entries == ()
    assert "dal is to temper, which none of the cooks here does" in sheet.clashes[0].rules


def test_a_quick_cook_takes_less_time():
    """Half the minutes for work of the hands; the griddle's own chain holds."""
    slow, quick = (
        sound([(ROTI, 4)], replace(house(), crew=(Cook("A", pace=pace),))).hands_on_min for pace in (1.0, 0.5)
    )
    assert quick == slow / 2


def test_one_place_at_the_bench_is_shared():
    """Two cooks with one board between them cut one after the other."""
    radish, roots = (
        dish(n, step("cut", Technique.CUT, 20, lines=(n,)), lines=(line(n, 300),)) for n in ("radish", "roots")
    )
    dishes = [(radish, 4), (roots, 4)]
    kit = house(cooks=2)
    free, tight = (sound(dishes, replace(kit, bench_places=n)) for n in (None, 1))
    assert (free.starts_at - tight.starts_at).total_seconds() / 60 == 20


def test_an_impossible_house_is_refused():
    """More small burners than burners, a cook of no pace, no room at all."""
    for field, wrong in (("small_burners", 3), ("bench_places", 0)):
        with pytest.raises(InputError, match=field):
            replace(house(burners=2), **{field: wrong})
    with pytest.raises(InputError, match="pace"):
        Cook("nobody", pace=0)


# -- in one go ---------------------------------------------------------------------------------------


def boiled_dal(name: str, *finish) -> object:
    """A dish on a base of plain boiled dal."""
    return dish(
        name,
        step("rinse", Technique.WASH, 2, lines=("moong",)),
        step("cook", Technique.PRESSURE_COOK, 12, 15, OFF, after=("rinse",), vessel=COOKER, heat=Heat.MEDIUM,
             lines=("water",)),
        step("release", Technique.REST, 8, 15, OFF, after=(After("cook", 0, 0),), vessel=COOKER),
        *finish,
        lines=(line("moong", 200), line("water", 800), line(f"{name} greens", 100)),
    )  # fmt: skip


SOUP = boiled_dal("soup", step("thin", Technique.SIMMER, 5, attention=NOW, after=(After("release", 0, 30),),
                               vessel=COOKER, heat=Heat.LOW))  # fmt: skip
MASH = boiled_dal("mash", step("wilt", Technique.SIMMER, 6, attention=NOW, after=(After("release", 0, 30),),
                               vessel=COOKER, heat=Heat.LOW, lines=("mash greens",)))  # fmt: skip


def test_one_pot_of_dal_serves_two_dishes():
    """Boiled once for both, as long as for one; then each goes its own way, one of them in another pot."""
    dishes = [(SOUP, 4), (MASH, 4)]
    sheet = sound(dishes, house())
    assert sheet_broken(sheet, dishes, house(), 2) == []
    (cook,) = [e for e in sheet if ("soup", "cook") in e.steps]
    assert cook.steps == (("soup", "cook"), ("mash", "cook"))
    assert 12 <= cook.minutes <= 15
    assert "bring to pressure together" in cook.text
    assert {str(a) for a in cook.amounts} == {"1,600 g water"}
    assert {e.vessel for e in sheet if e.steps in ((("soup", "thin"),), (("mash", "wilt"),))} != {"pressure cooker"}


def test_another_grain_is_another_pot():
    """Dal with salt in its water is not the dal without."""
    salted = boiled_dal("salted")
    salted = replace(
        salted,
        lines=(*salted.lines, line("salt", 5)),
        steps=tuple(replace(s, lines=("water", "salt")) if s.id == "cook" else s for s in salted.steps),
    )
    sheet = run_sheet([(SOUP, 4), (salted, 4)], house(pressure_cooker=2), SERVE)
    assert not any(len(e.steps) > 1 and ("soup", "cook") in e.steps for e in sheet)


def test_washing_for_the_same_pot_is_done_once_for_both():
    """Rinsed together: twice the dal takes twice the rinsing."""
    sheet = sound([(SOUP, 4), (MASH, 4)], house())
    (rinse,) = [e for e in sheet if ("soup", "rinse") in e.steps]
    assert len(rinse.steps) == 2
    assert rinse.minutes == 4


# -- while cooking -----------------------------------------------------------------------------------


@pytest.mark.parametrize("tap", [Tap.MORE, Tap.SKIPPED, Tap.DONE])
def test_what_was_chosen_stays_chosen_while_cooking(tap):
    """Whatever is tapped on the first row, vessels stay the same and every rule but time still holds."""
    kit = with_vessels(
        replace(house(burners=3), small_burners=1), VesselStock(COOKER, 1, 2.0), VesselStock(COOKER, 1, 5.0)
    )
    dishes = [(pot_of(n, grams), 4) for n, grams in (("turnips", 600), ("beans", 2000), ("beets", 2100))]
    sheet = sound(dishes, kit)
    first = sheet.entries[0]
    later = follow(sheet, [Event(first.end, tap, first.tasks, 5)])
    vessels = {e.tasks: e.vessel for e in sheet}
    assert all(vessels[e.tasks] == e.vessel for e in later if e.tasks in vessels)
    assert house_broken(later, dishes, kit) == []


def test_a_lost_burner_is_no_large_one_twice():
    """With one of two large burners out, the rest still stands on burners that carry it."""
    kit = with_vessels(replace(house(burners=3), small_burners=1), VesselStock(Vessel.POT, 2, 5.0))
    dishes = [(pot_of(n, 2500, vessel=Vessel.POT), 4) for n in ("soup", "stew")]
    sheet = sound(dishes, kit)
    later = follow(sheet, [Event(sheet.starts_at, Tap.BURNER_LOST)])
    assert house_broken(later, dishes, kit) == []
