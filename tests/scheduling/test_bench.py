"""Bench lists: work ahead on the right day, merged, boxed and labelled."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time, timedelta

import pytest
from tests.scheduling.dinners import NOW, OFF, dish, house, line, step

from chauka.keeping import Box, Need, UseBy
from chauka.kitchen import (
    After,
    Batch,
    Book,
    Dish,
    Draw,
    Form,
    Lot,
    Meal,
    MealTime,
    Place,
    Proof,
    Purchase,
    Serving,
    TablePlan,
    Technique,
    Vessel,
    sittings,
)  # fmt: skip
from chauka.scheduling import bench_list
from chauka.scheduling.bench_times import place_ahead, slots
from chauka.scheduling.larder import Days, HouseLarder

SUNDAY = date(2027, 3, 14)
SERVES = {Meal.BREAKFAST: time(7, 30), Meal.LUNCH: time(13), Meal.DINNER: time(20)}
HOUSE = house()
HOUSE = type(HOUSE)(
    HOUSE.name, HOUSE.people, HOUSE.burners, HOUSE.vessels,
    tuple(MealTime(meal, day, at, 60) for day in range(7) for meal, at in SERVES.items()), (2, 6),
)  # fmt: skip


class TwoDays:
    """Every picked green keeps two days, all else three; spinach is the only green."""

    def food(self, code: str, form: Form) -> Days:
        """Two days picked."""
        return Days(2.0 if form is Form.PICKED else 3.0, "two days at most")

    def dish(self, dish: Dish) -> Days:
        """Four days."""
        return Days(4.0, "four days")

    def leafy(self, code: str) -> bool:
        """Spinach."""
        return code == "spinach"

    def boxes(self, lot, needs, said):
        """One for each sitting, good for two days."""
        until = UseBy(lot.since + timedelta(days=2), 2, 2, 2, "two days at most", "rule", "source")
        return tuple(Box(n.grams, n.form, n.name, n.at, n.at, until, said, until.at >= n.at) for n in needs)


def soaked(name: str, low: int = 480, high: int = 720) -> Dish:
    """Beans soaked ahead and boiled in the session."""
    return dish(
        name,
        step("soak", Technique.SOAK, low, high, OFF, ahead=True, lines=("beans",)),
        step("boil", Technique.BOIL, 45, attention=OFF, after=("soak",), vessel=Vessel.POT),
        lines=(line("beans", 200, Form.DRY),),
    )


SPROUTS = dish(
    "sprouts",
    step("soak", Technique.SOAK, 480, 600, OFF, ahead=True, lines=("moong",)),
    step("sprout", Technique.SPROUT, 1440, 2160, OFF, ahead=True, after=(After("soak", 0, 60),)),
    step("toss", Technique.MIX, 5, after=("sprout",)),
    lines=(line("moong", 120, Form.DRY),),
)
CURD = dish(
    "curd",
    step("boil", Technique.BOIL, 12, 15, NOW, ahead=True, lines=("milk",)),
    step("cool", Technique.COOL, 45, 60, OFF, after=(After("boil", 0, 0),), ahead=True),
    step("stir-in", Technique.MIX, 3, after=(After("cool", 0, 15),), ahead=True),
    step("set", Technique.SET, 420, 600, OFF, after=(After("stir-in", 0, 0),), ahead=True),
    lines=(line("milk", 1000, Form.LIQUID),),
)
SPINACH = dish(
    "spinach",
    step("pick", Technique.PICK, 8, ahead=True, lines=("spinach",)),
    step("cook", Technique.SAUTE, 10, after=("pick",), vessel=Vessel.WOK),
    lines=(line("spinach", 400),),
)


def plan(*cooked: tuple[int, Meal, Dish], purchases=(), draws=(), later=(), lots=()) -> tuple[TablePlan, Book]:
    """A plan that cooks these, and its book."""
    batches = tuple(Batch(f"b{i}", d.id, SUNDAY + timedelta(n), meal, 4) for i, (n, meal, d) in enumerate(cooked))
    servings = [Serving(b.day, b.meal, d.course, d.id, 4, b.id) for b, (_, _, d) in zip(batches, cooked, strict=True)]
    book = Book(HOUSE, tuple({d.id: d for _, _, d in cooked}.values()), (), tuple(lots))
    made = TablePlan(
        SUNDAY, 7, sittings(HOUSE, SUNDAY, 7), batches, (*servings, *later), tuple(purchases), tuple(draws), (), (),
        Proof(0, 0, 0, "made by hand"),
    )  # fmt: skip
    return made, book


def listed(*args, **kwargs):
    """The bench list of such a plan."""
    made, book = plan(*args, **kwargs)
    return bench_list(made, book, larder=TwoDays())


def test_what_is_cooked_for_breakfast_is_soaked_the_evening_before():
    """Eight to twelve hours before half past seven is the evening."""
    (entry,) = listed((1, Meal.BREAKFAST, soaked("beans")))
    assert entry.start == datetime.combine(SUNDAY, time(21))
    assert entry.done_by == entry.needed


def test_what_is_cooked_for_lunch_is_soaked_the_evening_before_and_drained_in_time():
    """No slot lies eight hours before noon, so the soak is over in the morning and waits."""
    (entry,) = listed((1, Meal.LUNCH, soaked("beans")))
    assert entry.start == datetime.combine(SUNDAY, time(21))
    assert entry.done_by == entry.start + timedelta(hours=12)
    assert "keep it cool" in entry.why


def test_sprouts_begin_two_evenings_before():
    """A night of soaking and a day of sprouting before Wednesday's lunch: Monday evening."""
    soak, sprout = listed((3, Meal.LUNCH, SPROUTS))
    assert soak.start == datetime.combine(SUNDAY + timedelta(1), time(21))
    assert sprout.start.date() == SUNDAY + timedelta(2)
    assert timedelta(hours=8) <= sprout.start - soak.start <= timedelta(hours=11)
    assert timedelta(hours=24) <= sprout.done_by - sprout.start <= timedelta(hours=36)


def test_curd_sets_overnight_with_its_boiling_and_cooling_just_before():
    """The evening's work begins at a free quarter-hour and runs through to setting."""
    entries = list(listed((2, Meal.LUNCH, CURD)))
    assert [e.technique for e in entries] == [Technique.BOIL, Technique.COOL, Technique.MIX, Technique.SET]
    assert entries[0].start.time() == time(21)
    assert entries[-1].start - entries[0].start <= timedelta(minutes=75)
    assert timedelta(hours=7) <= entries[-1].done_by - entries[-1].start <= timedelta(hours=10)


def test_the_same_soaking_for_two_dishes_on_one_evening_is_one_entry():
    """Grams are summed and both dishes named."""
    (entry,) = listed((1, Meal.BREAKFAST, soaked("beans")), (1, Meal.LUNCH, soaked("more-beans")))
    assert entry.line.startswith("Sun 21:00 · wash and soak 400 g beans for beans and more-beans")
    assert entry.steps == (("b0", "soak"), ("b1", "soak"))


def test_soaking_for_other_days_is_not_merged():
    """Monday's and Thursday's beans are soaked on their own evenings."""
    assert len(listed((1, Meal.BREAKFAST, soaked("beans")), (4, Meal.BREAKFAST, soaked("more-beans"))).entries) == 2


def test_greens_are_picked_on_market_day_and_boxed():
    """Cooked on the second evening: picked on Sunday, labelled with a use-by of two days."""
    buy = Purchase("p", SUNDAY, "spinach", "bunch", 2, 500, 400, 40, "greens")
    made = listed((1, Meal.DINNER, SPINACH), purchases=[buy], draws=[Draw("p", "b0", "spinach", 400)])
    (entry,), (label,) = made.entries, made.labels
    assert entry.start.date() == SUNDAY
    assert entry.hands_min >= 8
    assert (label.name, label.form, label.grams, label.packed) == ("spinach", Form.PICKED, 400, SUNDAY)
    assert label.use_by == datetime.combine(SUNDAY + timedelta(2), time(14))


def test_greens_are_never_picked_before_their_form_would_keep():
    """Cooked on the fourth evening: they wait whole and are picked two days before at the most."""
    buy = Purchase("p", SUNDAY, "spinach", "bunch", 2, 500, 400, 40, "greens")
    made = listed((4, Meal.DINNER, SPINACH), purchases=[buy], draws=[Draw("p", "b0", "spinach", 400)])
    (entry,) = made.entries
    assert entry.needed - entry.start <= timedelta(days=2)
    assert entry.start.date() == SUNDAY + timedelta(2)


def test_a_bunch_for_two_sittings_is_picked_once_and_boxed_for_each():
    """Monday's 300 g and Tuesday's 400 g have a box each, and their own days on it."""
    other = replace(SPINACH, id="more", name="more")
    buy = Purchase("p", SUNDAY, "spinach", "bunch", 3, 900, 700, 40, "greens")
    draws = [Draw("p", "b0", "spinach", 300), Draw("p", "b1", "spinach", 400)]
    made = listed((1, Meal.DINNER, SPINACH), (2, Meal.LUNCH, other), purchases=[buy], draws=draws)
    (entry,) = made.entries
    assert entry.dishes == ("spinach", "more")
    assert [(b.grams, b.for_dishes, b.packed) for b in made.labels] == [
        (400, ("spinach, Mon",), SUNDAY), (400, ("more, Tue",), SUNDAY),
    ]  # fmt: skip
    assert {b.why for b in made.labels} == {"two days at most"}


def test_two_bunches_are_picked_one_after_the_other():
    """Eight minutes of one, then eight of the other: nobody has four hands."""
    kale = dish(
        "kale",
        step("pick", Technique.PICK, 8, ahead=True, lines=("kale",)),
        step("cook", Technique.SAUTE, 10, after=("pick",), vessel=Vessel.WOK),
        lines=(line("kale", 300),),
    )
    cooked = ((1, Meal.DINNER, SPINACH), (1, Meal.DINNER, kale))
    buys = [Purchase(f, SUNDAY, f, "bunch", 2, 500, 400, 40, "greens") for f in ("spinach", "kale")]
    draws = [Draw("spinach", "b0", "spinach", 400), Draw("kale", "b1", "kale", 300)]
    made, book = plan(*cooked, purchases=buys, draws=draws)

    class BothLeafy(TwoDays):
        def leafy(self, code):
            return True

    one, two = bench_list(made, book, larder=BothLeafy()).entries
    assert two.start == one.end


def test_the_house_larder_splits_a_bunch_by_the_keeping_engine():
    """Real leaves: each box is picked, dated, and never said to keep longer than its form does."""
    lot = Lot("l", 500, Form.PICKED, Place.FRIDGE, datetime.combine(SUNDAY, time(14)), food="C033")
    needs = [Need(datetime.combine(SUNDAY + timedelta(n), time(20)), 250, Form.PICKED, f"dish {n}") for n in (1, 2)]
    boxes = HouseLarder(HOUSE).boxes(lot, needs, "spinach")
    assert [(b.grams, b.form, b.name) for b in boxes] == [
        (250, Form.PICKED, "dish 1"), (250, Form.PICKED, "dish 2"),
    ]  # fmt: skip
    assert all(b.safe == (b.use_by.at >= need.at) for b, need in zip(boxes, needs, strict=True))


def test_two_pots_of_potatoes_are_boiled_at_once():
    """Boiled ahead for two dishes of one day, it takes as long as for one; cut, it takes as long as both."""

    def potatoes(name, technique, **more):
        steps = (
            step("do", technique, 20, ahead=True, lines=("potato",), **more),
            step("mix", Technique.MIX, 2, after=("do",)),
        )
        return dish(name, *steps, lines=(line("potato", 400),))

    boiled = [potatoes(n, Technique.BOIL, vessel=Vessel.POT) for n in ("a", "b")]
    (entry,) = listed(*((1, Meal.DINNER, d) for d in boiled))
    assert (entry.minutes, len(entry.shares)) == (20, 2)
    cut = [potatoes(n, Technique.CUT) for n in ("a", "b")]
    (entry,) = listed(*((1, Meal.DINNER, d) for d in cut))
    assert entry.minutes == 40


def test_greens_that_lie_picked_on_the_shelf_are_not_picked_again():
    """A lot in form picked needs no picking."""
    lot = Lot("l", 400, Form.PICKED, Place.FRIDGE, datetime.combine(SUNDAY, time(6)), food="spinach")
    assert listed((1, Meal.DINNER, SPINACH), lots=[lot], draws=[Draw("l", "b0", "spinach", 400)]).entries == ()


def test_a_maximum_lag_holds_the_picking_back():
    """Leaves that must be washed within four hours of picking are picked the same afternoon."""
    soon = dish(
        "soon",
        step("pick", Technique.PICK, 8, ahead=True, lines=("spinach",)),
        step("wash", Technique.WASH, 5, after=(After("pick", 0, 360),)),
        lines=(line("spinach", 400),),
    )
    buy = Purchase("p", SUNDAY, "spinach", "bunch", 2, 500, 400, 40, "greens")
    (entry,) = listed((1, Meal.DINNER, soon), purchases=[buy], draws=[Draw("p", "b0", "spinach", 400)])
    assert entry.start == datetime.combine(SUNDAY + timedelta(1), time(14))


def test_a_dish_eaten_later_gets_a_label():
    """Kept from Sunday to Tuesday: a box with the dish's use-by; nobody weighed it, so no grams."""
    later = [Serving(SUNDAY + timedelta(2), Meal.DINNER, CURD.course, "curd", 2, "b0")]
    labels = [b for b in listed((0, Meal.LUNCH, CURD), later=later).labels if b.dish]
    assert [(b.name, b.grams, b.for_dishes) for b in labels] == [("curd", None, ("Tue dinner",))]
    assert labels[0].use_by == datetime.combine(SUNDAY + timedelta(4), time(13))


def test_what_should_have_begun_before_the_list_says_so():
    """Beans for the first day's breakfast."""
    (entry,) = listed((0, Meal.BREAKFAST, soaked("beans")))
    assert entry.overdue
    assert "should have begun already" in entry.line


@pytest.mark.parametrize("meal", list(Meal))
@pytest.mark.parametrize("made", [soaked("beans"), SPROUTS, CURD], ids=lambda d: d.id)
def test_every_wait_lasts_as_long_as_it_must_and_every_lag_is_kept(made, meal):
    """Whatever the meal, the dish's own rules hold."""
    serve = datetime.combine(SUNDAY + timedelta(4), SERVES[meal])
    placed = {p.step.id: p for p in place_ahead(made, 4, serve, HOUSE)}
    for name, p in placed.items():
        assert p.end - p.start >= timedelta(minutes=made.step(name).minutes.low)
        assert p.end <= p.needed <= serve
        for after in made.step(name).after:
            waits = (p.start - placed[after.step].end).total_seconds() / 60
            assert after.min_lag_min <= waits
            assert after.max_lag_min is None or waits <= after.max_lag_min


def test_free_quarter_hours_follow_the_meals():
    """An hour before the first meal and an hour after each."""
    assert [s.time() for s in slots(HOUSE, SUNDAY)] == [time(6, 30), time(8, 30), time(14), time(21)]
