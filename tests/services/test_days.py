"""From a plan to the table, the bench and the stove, on the small house."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from tests.services.small_house import BOOK, NOW

from chauka.cli.paper import table as paper
from chauka.composition import IronEffect
from chauka.errors import InputError
from chauka.kitchen import Clash, Meal, TablePlan
from chauka.services import bench, dishes, foods, intake, iron, market, page, plan_days, stove, table
from chauka.store import books, plans
from chauka.store.models import Household
from chauka.store.plans import KeptPlan

SECONDS = 2.0


@pytest.fixture
def owner(book_file: Path) -> Household:
    """The small house."""
    return books.create(BOOK)


@pytest.fixture
def kept(owner: Household) -> KeptPlan:
    """Its plan for two days."""
    return plan_days.make(owner, NOW.date(), NOW, days=2, seconds=SECONDS)


def test_without_a_plan_it_is_said_how_to_make_one(owner: Household) -> None:
    assert plan_days.current(owner, NOW) is None
    with pytest.raises(InputError, match="`chauka table` makes one"):
        market.lists(owner, NOW)


def test_a_proposal_is_followed_once_accepted(owner: Household, kept: KeptPlan) -> None:
    assert plan_days.the_current(owner, NOW) == kept
    accepted = plan_days.accept(owner, None, NOW)
    assert accepted.number == kept.number
    assert plan_days.the_current(owner, NOW).accepted == NOW
    with pytest.raises(InputError, match="no proposal to accept"):
        plan_days.accept(owner, None, NOW)


def test_the_first_answer_is_a_proposal_while_the_search_goes_on(
    owner: Household, kept: KeptPlan, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What stands after three seconds can be read and followed; the better one at the end takes its place."""
    during: list[KeptPlan | None] = []

    def planned(*_: object, early: Callable[[TablePlan], None], **__: object) -> TablePlan:
        early(kept.plan)
        during.append(plans.proposal(owner))
        return replace(kept.plan, proof=replace(kept.plan.proof, status="at the end"))

    monkeypatch.setattr("chauka.planning.plan", planned)
    after = plan_days.make(owner, NOW.date(), NOW, days=2)
    assert during[0] is not None
    assert during[0].plan == kept.plan
    assert plan_days.the_current(owner, NOW) == after
    assert after.plan.proof.status == "at the end"


def test_a_plan_gone_by_is_no_longer_in_force(owner: Household, kept: KeptPlan) -> None:
    plan_days.accept(owner, kept.number, NOW)
    assert plan_days.current(owner, NOW + timedelta(days=1)) is not None
    assert plan_days.current(owner, NOW + timedelta(days=2)) is None


@pytest.mark.parametrize(("days", "seconds"), [(0, 1.0), (29, 1.0), (7, 0.0)])
def test_impossible_horizons_are_refused(owner: Household, days: int, seconds: float) -> None:
    with pytest.raises(InputError):
        plan_days.make(owner, NOW.date(), NOW, days=days, seconds=seconds)


def test_a_wrong_book_is_refused_before_planning(book_file: Path) -> None:
    lot = replace(BOOK.lots[0], since=NOW + timedelta(days=1))
    owner = books.create(replace(BOOK, lots=(lot,)))
    with pytest.raises(InputError, match=r"lot spinach-1: .* is still to come"):
        plan_days.make(owner, NOW.date(), NOW)
    assert plan_days.current(owner, NOW) is None


def test_the_table_shows_every_sitting_with_proof_and_intake(owner: Household, kept: KeptPlan) -> None:
    view = table.view(owner, NOW)
    assert [(d.day, len(d.sittings)) for d in view.days] == [(NOW.date(), 1), (NOW.date() + timedelta(days=1), 1)]
    served = {one.dish for d in view.days for s in d.sittings for one in s.dishes}
    assert served == {s.dish for s in kept.plan.servings}
    assert view.could_be_better_by == pytest.approx(max(0.0, kept.plan.proof.value - kept.plan.proof.bound))
    asha, ravi = view.intake
    energy = {p.name: p.nutrients[0] for p in (asha, ravi)}
    assert energy["Ravi"].mean >= energy["Asha"].mean > 0
    assert energy["Asha"].share == pytest.approx(energy["Asha"].mean / (energy["Asha"].reference or 0.0))
    iron = next(n for n in asha.nutrients if n.tag == "FE")
    assert iron.share is not None
    assert iron.probability is not None
    assert (iron.probability < 0.5) == (iron.share < 1 / 1.3), (
        "half of all need less than an RDA less two spreads of 15 %"
    )
    assert energy["Asha"].probability is None


def test_whoever_gets_little_iron_hears_where_vitamin_c_would_help(kept: KeptPlan) -> None:
    """Each remark with its source and its sittings; nothing where everybody has enough."""
    known = intake.known_of(kept.plan, BOOK)
    eaten = intake.of_plan(kept.plan, BOOK, known)
    wanting = [replace(p, nutrients=tuple(replace(n, share=0.6) for n in p.nutrients)) for p in eaten[:1]]
    found = iron.of_plan(kept.plan, BOOK, known, tuple(wanting))
    assert found.short == ("Asha",)
    sour = {s for one in found.advice for s in one.sittings if one.note.effect is IronEffect.PLAIN}
    for sitting in kept.plan.sittings:
        dishes = {s.dish for s in kept.plan.at(sitting.day, sitting.meal)}
        vitamin_c = sum(known[dish].per_portion["VITC"].mean for dish in dishes)
        assert (sitting in sour) == bool(dishes and vitamin_c < 25)
    assert all(one.note.source for one in found.advice)
    fed = [replace(p, nutrients=tuple(replace(n, share=1.2) for n in p.nutrients)) for p in eaten]
    assert iron.of_plan(kept.plan, BOOK, known, tuple(fed)) == iron.Iron()


def test_a_bound_that_no_search_found_is_not_known(owner: Household, kept: KeptPlan) -> None:
    """A search too short for a bound claims nothing about how good its plan is."""
    unbounded = replace(kept, plan=replace(kept.plan, proof=replace(kept.plan.proof, bound=-math.inf)))
    view = table.of_plan(BOOK, unbounded)
    assert (view.could_be_better_by, view.gap_percent) == (None, None)
    assert "was not found out" in " ".join(paper.proof(view))


def test_a_clash_reads_as_two_sentences(kept: KeptPlan) -> None:
    clash = Clash(("spend at most 300", "fill 2 more positions"), "no plan fits within 300: 45 more would do", 4500)
    said = " ".join(" ".join(paper.clashes(replace(table.of_plan(BOOK, kept), clashes=(clash,)))).split())
    assert said == (
        "! These cannot all hold: spend at most 300 and fill 2 more positions. "
        "The way out: no plan fits within 300: 45 more would do (Rs 45)."
    )


def test_what_people_get_is_what_is_served(owner: Household, kept: KeptPlan) -> None:
    """The portions of everybody add up to the portions on the table."""
    eaten = intake._portions(kept.plan, BOOK).values()
    for dish in {s.dish for s in kept.plan.servings}:
        served = sum(s.portions for s in kept.plan.servings if s.dish == dish)
        assert sum(e.get(dish, 0.0) for e in eaten) == pytest.approx(served)


def test_listing_the_dishes_folds_no_name(owner: Household, monkeypatch: pytest.MonkeyPatch) -> None:
    """Only who looks for a dish pays for being found by any name; both give the dishes in one order."""
    looked = dishes.to_look_through(owner)
    assert [one.line.dish.id for one in looked if dishes.is_meant(one, "PALAK wilted")] == ["wilted-spinach"]

    def never(_: str) -> str:
        raise AssertionError("a listing folded a name")

    monkeypatch.setattr(foods, "folded", never)
    assert dishes.catalogue(owner) == tuple(one.line for one in looked)


def test_the_run_sheet_cooks_what_is_planned(owner: Household, kept: KeptPlan) -> None:
    sitting = stove.next_sitting(kept.plan, NOW)
    assert sitting is not None
    view = stove.run_sheet(owner, sitting.day, sitting.meal, NOW, seconds=2)
    assert {d.id for d, _ in (*view.cooked, *view.ready)} == {s.dish for s in kept.plan.at(sitting.day, sitting.meal)}
    assert bool(view.sheet.entries) == bool(view.cooked)


def test_a_sitting_that_is_not_planned_is_named_with_those_that_are(owner: Household, kept: KeptPlan) -> None:
    with pytest.raises(InputError, match="no lunch on Sun 14 Mar; it has dinner"):
        stove.run_sheet(owner, NOW.date(), Meal.LUNCH, NOW)
    with pytest.raises(InputError, match="does not reach Sun 21 Mar; it runs from Sun 14 Mar to Mon 15 Mar"):
        stove.run_sheet(owner, NOW.date() + timedelta(days=7), Meal.DINNER, NOW)


def test_the_bench_and_the_market_follow_the_plan(owner: Household, kept: KeptPlan) -> None:
    batches = {b.id for b in kept.plan.batches}
    assert {batch for e in bench.view(owner, NOW).bench for batch, _ in e.steps} <= batches
    assert bench.on_day(BOOK, kept.plan, NOW.date()) == bench.view(owner, NOW).bench.on(NOW.date())
    assert market.lists(owner, NOW).cost == kept.plan.cost


def test_a_dish_is_shown_and_written_up(owner: Household) -> None:
    view = dishes.show(owner, "plain-dal")
    assert view.nutrients.per_portion["PROCNT"].mean > 5
    assert [one.dish.id for one in dishes.catalogue(owner)] == ["plain-dal", "wilted-spinach", "boiled-rice"]
    assert dishes.catalogue(owner)[0].liked_by == ("Asha",)
    made = page.write_up(owner, "plain-dal")
    assert "Plain moong dal" in made.html
    assert made.data["name"] == "Plain moong dal"
    with pytest.raises(InputError, match="'pizza' is not in the dish book; it holds boiled-rice"):
        page.write_up(owner, "pizza")
