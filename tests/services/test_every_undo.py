"""Each kind of action that chauka can write, done once, is taken back whole and done again whole."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from tests.services.small_house import BOILED_RICE, BOOK, HOUSE, NOW, RICE, SPINACH, WILTED_SPINACH
from tests.services.test_new_dish import GOOD
from tests.services.test_picture import photo
from tests.services.written_tasks import all_of_them

from chauka import planning, scheduling
from chauka.kitchen import Cook, Deed, Meal, Place, RuleKind, TablePlan
from chauka.services import (
    after_cooking,
    bench_ticks,
    by_hand,
    cooked,
    edit_dish,
    evening,
    house_changes,
    kitchen_changes,
    learned,
    lessons,
    market,
    new_dish,
    photos,
    plan_days,
    shelf,
    taught,
    ticks,
    typed,
)  # fmt: skip
from chauka.store import books, ledger, marks, models, plans, undo
from chauka.store import photos as kept_photos
from chauka.store.models import Household

DAY, DINNER = NOW.date(), Meal.DINNER
SERVE = datetime.fromisoformat("2027-03-14T19:30")
SAID = after_cooking.Said(portions="2", minutes="20", liking={"asha": "5"})

Deeds = Iterator[Callable[[], Any]]


@pytest.fixture(scope="module")
def plan() -> TablePlan:
    """Two days of the small house."""
    return planning.plan(BOOK, DAY, 2, seconds=1)


def _as_it_is(owner: Household) -> tuple[Any, ...]:
    """All that a person could see changed: the book, every mark, photos shown, and which plans there are."""
    changes = models.Change.objects.of(owner).filter(kind__in=marks.KINDS | {kept_photos.SHOWN}).order_by("pk")
    newest = {(kind, key): after for kind, key, after in changes.values_list("kind", "key", "after")}
    there = plans._of(owner).order_by("number").values_list("number", "accepted")
    return books.load_book(owner), {k: v for k, v in newest.items() if v is not None}, list(there)


def _house(owner: Household) -> Deeds:
    guests = house_changes.read_rule(RuleKind.GUESTS, DAY.isoformat(), "dinner", "2", frozenset())
    yield lambda: house_changes.set_numbers(owner, {"fridge_c": "8"}, NOW)
    yield lambda: house_changes.set_market_days(owner, (1, 4), NOW)
    yield lambda: house_changes.set_region(owner, "UK", NOW)
    yield lambda: house_changes.set_order(owner, ("waste", "money"), NOW)
    yield lambda: house_changes.add_rule(owner, guests, NOW)
    yield lambda: house_changes.remove_rule(owner, len(books.load_house(owner).rules) - 1, NOW)
    yield lambda: house_changes.set_person(owner, replace(HOUSE.people[0], id="meera", name="Meera"), NOW)
    yield lambda: house_changes.remove_person(owner, "meera", NOW)
    yield lambda: kitchen_changes.set_vessels(owner, [("pot", "3", "5")], NOW)
    yield lambda: kitchen_changes.set_meal(owner, "lunch", [0, 1], NOW, at="13:00", minutes="30")
    yield lambda: kitchen_changes.set_cook(owner, None, Cook("Ravi"), NOW)
    yield lambda: kitchen_changes.set_cook(owner, None, Cook("Asha"), NOW)
    yield lambda: kitchen_changes.put_cook_first(owner, 1, NOW)
    yield lambda: kitchen_changes.remove_cook(owner, 0, NOW)


def _shelf(owner: Household) -> Deeds:
    yield lambda: shelf.add(owner, RICE, "500 g", NOW)
    yield lambda: typed.add(owner, "1 kg rice", NOW)
    yield lambda: shelf.log_used(owner, "rice-1", "100 g", NOW)
    yield lambda: shelf.log_eaten(owner, "curd-1", "50 g", NOW)
    yield lambda: shelf.open_lot(owner, "rice-1", NOW)
    yield lambda: shelf.move(owner, "spinach-1", Place.COUNTER, NOW)
    yield lambda: photos.put_on_lot(owner, "rice-1", photo(), "", NOW)
    yield lambda: shelf.log_binned(owner, "spinach-1", None, NOW, why="wilted on day 3")
    yield lambda: learned.forget(owner, SPINACH, NOW)
    yield lambda: market.buy(owner, SPINACH, "400 g", 5000, NOW)
    yield lambda: lessons.take_price(owner, SPINACH, NOW)
    yield lambda: taught.teach(owner, "saag", SPINACH, NOW)
    yield lambda: lessons.forget_name(owner, "saag", NOW)


def _dishes(owner: Household) -> Deeds:
    def change() -> None:
        form = edit_dish.form_of(owner, "boiled-rice")
        edit_dish.keep(owner, "boiled-rice", replace(form, name="Rice"), edit_dish.mark_of(owner, "boiled-rice"), NOW)

    yield lambda: new_dish.keep(owner, GOOD, NOW)
    yield change
    yield lambda: cooked.weigh(owner, "boiled-rice", "600 g", NOW)
    yield lambda: after_cooking.write(owner, "boiled-rice", SAID, NOW)
    yield lambda: photos.put_on_dish(owner, "boiled-rice", photo(), "", NOW)
    yield lambda: photos.take_off_dish(owner, "boiled-rice", NOW)


def _plan(owner: Household, plan: TablePlan) -> Deeds:
    number = plans.propose(owner, plan, NOW).number
    yield lambda: plan_days.accept(owner, number, NOW)
    item = ticks.lists(owner, NOW).days[0].items[0].key
    key = plan_days.serving_key(plan.servings[0])
    dish = plan.servings[0].dish
    yield lambda: ticks.buy(owner, number, item, NOW)
    for done in (True, False):
        yield lambda done=done: bench_ticks.tick(owner, number, "a line", NOW, done=done)  # type: ignore[misc]
    for locked in (True, False, True):
        yield lambda locked=locked: by_hand.lock(owner, key, NOW, locked=locked)  # type: ignore[misc]
    yield lambda: by_hand.refuse(owner, dish, NOW)
    yield lambda: by_hand.welcome(owner, dish, NOW)
    plans.propose(owner, plan, NOW)
    yield lambda: plan_days.leave(owner, NOW)


def _stove(owner: Household) -> Deeds:
    sheet = scheduling.run_sheet([(BOILED_RICE, 2.0), (WILTED_SPINACH, 2.0)], HOUSE, SERVE, seconds=1)
    yield lambda: evening.begin(owner, DAY, DINNER, sheet, sheet.starts_at)
    for deed in evening.DEEDS:
        yield lambda deed=deed: evening.did(owner, DAY, DINNER, sheet.starts_at, deed=deed)  # type: ignore[misc]
    yield lambda: evening.end(owner, DAY, DINNER, NOW)


def test_every_kind_of_action_is_taken_back_and_done_again(book_file: Path, plan: TablePlan) -> None:
    """A day of all there is to do; a kind of action that is not among it fails this test.

    Only planning is not taken back: a proposal that nobody follows changes nothing.
    """
    owner = books.create(BOOK)
    for deeds in (_house(owner), _shelf(owner), _dishes(owner), _plan(owner, plan), _stove(owner)):
        for deed in deeds:
            before = _as_it_is(owner)
            deed()
            after, task = _as_it_is(owner), undo.newest(owner, 1)[0][2]
            undo.undo(owner, NOW)
            assert _as_it_is(owner) == before, f"{task!r} was not taken back whole"
            undo.redo(owner, NOW)
            assert _as_it_is(owner) == after, f"{task!r} was not done again whole"
    done = set(models.Action.objects.of(owner).values_list("task", flat=True)) - {undo.TASK}
    assert done == all_of_them()
    assert {row.deed for row in ledger.rows(owner)} == set(Deed)
