"""A house checks itself; its rules give the sittings of a week."""

from dataclasses import replace
from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.errors import InputError
from chauka.kitchen import (
    Cook,
    DayRule,
    House,
    Meal,
    MealTime,
    Measures,
    Person,
    RuleKind,
    Sex,
    Vessel,
    VesselStock,
    sittings,
)
from chauka.quantities import Measures as AsQuantitiesSeeThem
from chauka.quantities import Unit, volume_ml

MONDAY = date(2027, 3, 15)
ASHA = Person("asha", "Asha", Sex.FEMALE, date(1990, 5, 1), 56)
RAVI = Person("ravi", "Ravi", Sex.MALE, date(1988, 1, 1), 68)


def house(**changes: object) -> House:
    times = tuple(MealTime(meal, day, time(19 if meal is Meal.DINNER else 8), 60) for day in range(7) for meal in Meal)
    plain = House("home", (ASHA, RAVI), 2, (VesselStock(Vessel.WOK, 2, 3.0),), times, (2, 6))
    return replace(plain, **changes)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: house(burners=0), "at least one burner"),
        (lambda: house(cooks=0), "at least one"),
        (lambda: house(people=()), "nobody eats here"),
        (lambda: house(fridge_c=25), "measure it"),
        (lambda: house(weekly_budget=-1), "below zero"),
        (lambda: house(people=(ASHA, ASHA)), "one id"),
        (lambda: replace(ASHA, weight_kg=0), "cannot be right"),
        (lambda: replace(ASHA, activity=3), "outside 1.2 to 2.5"),
        (lambda: replace(ASHA, chilli=7), "between 0 and 3"),
        (lambda: DayRule(RuleKind.FAST), "either a weekday or a date"),
        (lambda: DayRule(RuleKind.FAST, weekday=0, on=MONDAY), "either a weekday or a date"),
        (lambda: DayRule(RuleKind.FAST, weekday=7), "0 (Monday) to 6"),
        (lambda: DayRule(RuleKind.GUESTS, weekday=1, guests=-1), "below zero"),
    ],
)
def test_refusals(make: object, says: str) -> None:
    """An impossible house, person or rule is refused in words."""
    with pytest.raises(InputError) as caught:
        make()  # type: ignore[operator]
    assert says in str(caught.value)


def test_it_finds_people_and_vessels() -> None:
    """Counted vessels are as many as counted; bowls are taken as many; the rest are none."""
    home = house()
    assert home.person("ravi") is RAVI
    assert home.vessel_count(Vessel.WOK) == 2
    assert home.vessel_count(Vessel.BOWL) > 10
    assert home.vessel_count(Vessel.PRESSURE_COOKER) == 0


def test_age_grows_by_one_a_year() -> None:
    """Age in years, to the day."""
    assert ASHA.age_years(date(2026, 5, 1)) == pytest.approx(36, abs=0.01)


@given(st.dates(date(2020, 1, 1), date(2040, 1, 1)), st.integers(0, 20))
def test_sittings_run_in_order_over_the_days(start: date, days: int) -> None:
    """Three sittings a day, breakfast before lunch before dinner, each key once."""
    found = sittings(house(), start, days)
    assert len(found) == 3 * days
    assert [(s.day, s.meal.order) for s in found] == sorted((s.day, s.meal.order) for s in found)
    assert len({s.key for s in found}) == len(found)


def test_rules_hold_where_they_say() -> None:
    """A weekday rule holds that day, a dated meal rule at that sitting; away and guests are counted."""
    rules = (
        DayRule(RuleKind.NO_ONION_GARLIC, weekday=1),
        DayRule(RuleKind.AWAY, on=MONDAY, meal=Meal.LUNCH, people=frozenset({"ravi"})),
        DayRule(RuleKind.GUESTS, on=MONDAY, meal=Meal.DINNER, guests=3),
    )
    week = {s.key: s for s in sittings(house(rules=rules), MONDAY, 7)}
    assert week["2027-03-15 lunch"].eaters == ("asha",)
    assert week["2027-03-15 dinner"].eaters == ("asha", "ravi")
    assert week["2027-03-15 dinner"].guests == 3
    assert week["2027-03-15 breakfast"].guests == 0
    held = {s.day for s in week.values() if RuleKind.NO_ONION_GARLIC in s.rules}
    assert held == {MONDAY + timedelta(1)}


def test_the_house_measures_serve_quantities() -> None:
    """The kitchen's measures are what the quantities room asks for, without either importing the other's noun."""
    measures: AsQuantitiesSeeThem = Measures(cup_ml=200)
    assert volume_ml(Unit.CUP, measures).mean == 200
    assert volume_ml(Unit.TABLESPOON, measures).mean == 15


def test_vessels_of_one_kind_and_two_sizes_are_counted_together() -> None:
    two = house(vessels=(VesselStock(Vessel.POT, 1, 5.0), VesselStock(Vessel.POT, 2, 2.0), VesselStock(Vessel.WOK)))
    assert two.vessel_count(Vessel.POT) == 3
    assert two.largest_l(Vessel.POT) == 5
    assert two.largest_l(Vessel.WOK) is None


def test_a_cook_of_no_pace_and_a_stove_of_more_small_burners_than_burners_are_refused() -> None:
    with pytest.raises(InputError, match="pace"):
        Cook("nobody", pace=0)
    with pytest.raises(InputError, match="3 small ones of 2 burners"):
        house(small_burners=3)
