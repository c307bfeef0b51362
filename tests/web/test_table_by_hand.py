"""The hand on the table, the days' rules, lessons and weeks: forms in, the book as it is then."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.test import Client
from tests.web.conftest import NOW

from chauka.errors import InputError
from chauka.kitchen import Deed, RuleKind
from chauka.services import by_hand, lessons, market, past, plan_days, shelf, taught, weeks
from chauka.store import books, undo
from chauka.store.models import Household

PLAIN = {"accept-encoding": "identity"}


@pytest.fixture
def key(household: Household) -> str:
    """A dish of the plan that has another place to go to."""
    plan = plan_days.the_current(household, NOW).plan
    return next(k for s in plan.servings if (k := plan_days.serving_key(s)) and by_hand.take(household, k, NOW).spots)


def test_a_lock_holds_until_it_is_taken_off(client: Client, household: Household, key: str) -> None:
    """Locked by a button, shown as locked, taken back from the ledger like anything else."""
    client.post(f"/table/{key}/act", {"lock": "yes"})
    assert by_hand.wishes(household, NOW).locked == {key}
    assert "locked" in client.get(f"/table/{key}/", headers=PLAIN).content.decode()
    past.undo(household, NOW)
    assert by_hand.wishes(household, NOW).locked == set()


def test_a_dish_put_elsewhere_is_there_in_the_new_plan(household: Household) -> None:
    """Of the dishes of the last day one at least can be eaten a sitting earlier; it then stands there."""
    plan = plan_days.the_current(household, NOW).plan
    for serving in (s for s in plan.servings if s.day == plan.sittings[-1].day):
        hand = by_hand.take(household, plan_days.serving_key(serving), NOW)
        for spot in hand.spots[-1:]:
            keep = by_hand.put(household, hand.key, spot.value, NOW)
            try:
                made = plan_days.make(household, NOW.date(), NOW, days=3, seconds=1, keep=keep)
            except InputError:
                continue  # said in words; the next test has it
            there = {plan_days.serving_key(s) for s in made.plan.servings}
            assert f"{spot.value}/{serving.dish}" in there
            return
    raise AssertionError("no dish could be put anywhere else")


def test_what_cannot_stand_is_said_in_words(household: Household) -> None:
    """A dish locked where no plan can have it is refused by name, and the plan in force stays."""
    before = plan_days.the_current(household, NOW).number
    with pytest.raises(InputError, match="no plan can have"):
        plan_days.make(
            household, NOW.date(), NOW, days=3, seconds=2, keep={"2027-03-15/breakfast/spinach-dal-with-lemon"}
        )
    assert plan_days.the_current(household, NOW).number == before


def test_a_dish_cannot_go_where_it_has_no_place(household: Household, key: str) -> None:
    """Neither to a sitting that is not there nor to a dish of another kind."""
    with pytest.raises(InputError, match="no place"):
        by_hand.put(household, key, "2031-01-01/dinner", NOW)
    with pytest.raises(InputError, match="cannot change places"):
        by_hand.swap(household, key, "2031-01-01/dinner/plain-rice", NOW)


def test_a_refused_dish_stays_away_until_it_is_welcome(client: Client, household: Household, key: str) -> None:
    """Refusing lifts its locks; after two weeks, or when it is welcome, it may come again."""
    dish = key.rsplit("/", 1)[1]
    by_hand.lock(household, key, NOW, locked=True)
    by_hand.refuse(household, dish, NOW)
    assert by_hand.wishes(household, NOW) == by_hand.Wishes(frozenset(), frozenset({dish}))
    client.post("/table/welcome", {"dish": dish})
    assert by_hand.wishes(household, NOW).refused == set()


def test_a_day_of_its_own(client: Client, household: Household) -> None:
    """Guests and a fast on one day, and off again."""
    client.post("/table/2027-03-15/rules", {"kind": "guests", "guests": "3", "meal": "dinner"})
    client.post("/table/2027-03-15/rules", {"kind": "fast"})
    rules = [r for r in books.load_book(household).house.rules if r.on is not None]
    assert [(r.kind, r.guests) for r in rules] == [(RuleKind.GUESTS, 3), (RuleKind.FAST, 0)]
    last = len(books.load_book(household).house.rules) - 1
    client.post("/table/2027-03-15/rules", {"remove": str(last)})
    assert len(books.load_book(household).house.rules) == last
    assert client.get("/table/someday/").status_code == 422


def test_a_plan_that_was_made_or_left_is_taken_back(household: Household) -> None:
    """Taking back a proposal takes it off the table; taking back that it was left brings it again, whole."""
    made = plan_days.make(household, NOW.date(), NOW, days=2, seconds=1)
    plan_days.leave(household, NOW)
    assert plan_days.proposal(household, NOW) is None
    (left, *_), *_ = (numbers for _, numbers in _by_task(household, "leave the proposal"))
    undo.take_back(household, left, NOW)
    again = plan_days.proposal(household, NOW)
    assert again is not None
    assert (again.number, again.plan) == (made.number, made.plan)


def _by_task(household: Household, task: str) -> Iterator[tuple[str, list[int]]]:
    yield task, [number for number, _, said, _ in undo.newest(household, 50) if said == task]


def test_names_are_taught_and_forgotten(client: Client, household: Household) -> None:
    """By the page of what was learned."""
    client.post("/house/learned/change", {"name": "Palak", "food": "C033"})
    assert "palak" in taught.names(household)
    assert "palak" in client.get("/house/learned/", headers=PLAIN).content.decode()
    client.post("/house/learned/change", {"unname": "palak"})
    assert "palak" not in taught.names(household)


def test_a_price_that_has_moved_is_planned_with(client: Client, household: Household) -> None:
    """Potatoes paid at a third more: said so, taken over, and then no news any more."""
    book = books.load_book(household)
    offer = next(o for o in book.offers if "potato" in o.pack)
    client.post("/shelf/add", {"text": "1 kg paneer"})
    market.buy(household, offer.food, "1 kg", round(1000 * offer.price / offer.grams * 1.3), NOW)
    (lesson,) = lessons.view(household).prices
    assert lesson.food == offer.food
    client.post("/house/learned/change", {"price": offer.food})
    new = next(o for o in books.load_book(household).offers if o.food == offer.food)
    assert new.price > offer.price
    assert lessons.view(household).prices == ()


def test_weeks_add_up_and_take_back(client: Client, household: Household) -> None:
    """What was binned stands in this week's bar; taken back, it is gone."""
    lot = shelf.view(household, NOW).lots[0].lot
    shelf.log(household, lot.id, Deed.BINNED, NOW, why="wilted")
    this = weeks.view(household, NOW).weeks[-1]
    assert this.binned_g == pytest.approx(lot.grams)
    assert "<svg" in client.get("/ledger/weeks/", headers=PLAIN).content.decode()
    past.undo(household, NOW)
    assert weeks.view(household, NOW).weeks[-1].binned_g == pytest.approx(0)


def test_meal_times_and_vessels(client: Client, household: Household) -> None:
    """An hour of another kind on two days, a second wok; nonsense changes nothing."""
    client.post("/house/meals", {"meal": "dinner", "day": ["5", "6"], "at": "18:30", "minutes": "40"})
    dinner = {m.weekday: f"{m.serve:%H:%M}" for m in books.load_book(household).house.meal_times if m.meal == "dinner"}
    assert (dinner[5], dinner[6], dinner[0]) == ("18:30", "18:30", "20:00")
    assert client.post("/house/meals", {"meal": "dinner", "day": "5", "at": "late"}).status_code == 422
    client.post("/house/vessels", {"kind": ["wok", "pot"], "count": ["3", "1"], "litres": ["3.5", ""]})
    assert [(str(v.kind), v.count, v.litres) for v in books.load_book(household).house.vessels] == [
        ("wok", 3, 3.5), ("pot", 1, None),
    ]  # fmt: skip
    assert client.post("/house/vessels", {"kind": "wok", "count": "-1", "litres": ""}).status_code == 422


def test_allergies_and_what_nobody_eats(client: Client, household: Household) -> None:
    """Kept where the form does not name them, set where it does."""
    said = {"id": "kunal", "name": "Kunal", "born": "2020-06-01", "weight_kg": "19", "sex": "male", "chilli": "1"}
    person = next(p for p in books.load_book(household).house.people if p.allergies)
    said |= {"id": person.id, "name": person.name, "allergies": ["peanuts", "milk"], "aversions": "spinach"}
    client.post("/house/person", said)
    new = books.load_book(household).house.person(person.id)
    assert new.allergies == {"peanuts", "milk"}
    assert new.aversions == {"C033"}
