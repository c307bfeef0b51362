"""The cheapest mends of a shortfall: by arithmetic, and with everything that must not be proposed."""

from dataclasses import replace
from datetime import datetime, time, timedelta

import pytest
from tests.planning.kitchens import (
    ANNA,
    BEN,
    GOURD,
    PORRIDGE,
    RICE,
    SUNDAY,
    PlainFacts,
    book,
    dish,
    lot,
)  # fmt: skip

from chauka.kitchen import Course, DayRule, Form, Meal, MendKind, Offer, RuleKind
from chauka.planning import mends, plan
from chauka.planning.additions import Habits
from chauka.planning.facts import Goal
from chauka.planning.larder import Larder


class LeafFacts(PlainFacts):
    """A gram of leaves holds 1 of folate, of gourd 0.1; salt is where S1 is."""

    def goals(self, person, on):
        return (Goal("FOL", 200.0, True), Goal("NA", 100.0, False))

    def nutrients(self, the_dish):
        def of(food, each):
            return sum(x.grams.mean * each for x in the_dish.lines if x.food == food) / the_dish.portions

        return {"FOL": of("L1", 1.0) + of("V1", 0.1), "NA": of("S1", 1.0)}


FACTS = LeafFacts()
LEAF_DAL = dish("leaf-dal", Course.PULSE, {"P1": 200, "L1": 200})
PLAIN = dish("plain", Course.PULSE, {"P1": 240})
DISHES = (RICE, PLAIN, LEAF_DAL, GOURD, PORRIDGE)
OFFERS = tuple(Offer(food, "500 g", 500, 3000, "stall") for food in ("G1", "G2", "P1", "V1", "L1"))


def planned(**changes):
    """A day with the plain dal, which Anna likes better."""
    people = changes.pop("people", (replace(ANNA, liking={PLAIN.id: 5, LEAF_DAL.id: 1, "gourd": 1}),))
    the_book = book(changes.pop("dishes", DISHES), offers=OFFERS, people=people, **changes)
    made = plan(the_book, SUNDAY, 1, seconds=2, facts=FACTS)
    return the_book, made


def folate(made, who="anna"):
    """The gap of one person."""
    return next(gap for gap in made.gaps if (gap.person, gap.tag) == (who, "FOL"))


def folate_mends(made, the_book):
    """All mends of Anna's gap."""
    return next(gap.mends for gap in mends(made, the_book, facts=FACTS, most=9) if gap.tag == "FOL")


def test_leaves_go_into_the_dal_that_the_book_would_put_them_into():
    """The book has leaves beside that pulse: 25 g a head (half of its 50 g) join the plain dal, at a bunch's price."""
    the_book, made = planned()
    bare = replace(made, left_over=())
    mend = next(m for m in folate_mends(bare, the_book) if m.kind is MendKind.ADD and m.dish == PLAIN.id)
    assert (mend.food, mend.pack) == ("L1", "500 g")
    eaten = sum(s.portions for s in made.servings if s.dish == PLAIN.id)
    assert mend.grams <= eaten * 0.25 * 60 + 5
    assert mend.cost == 3000 * mend.packs
    assert mend.after - mend.before == pytest.approx(mend.grams / 200, rel=0.01)


def test_the_cheapest_for_what_it_closes_comes_first():
    """Money per closed gap never falls along the list, and each mend closes something."""
    _, made = planned()
    each = [m.coins_per_percent for m in folate(made).mends]
    assert each == sorted(each)
    assert all(m.after > m.before for m in folate(made).mends)


def test_what_would_be_binned_costs_nothing():
    """A lot of leaves that nobody uses mends for nothing."""
    the_book, made = planned(lots=(lot("leaves", "L1", 500, days=2.4),))
    assert any(x.food == "L1" and x.binned for x in made.left_over)
    larder = Larder(made, the_book, FACTS)
    at = datetime.combine(SUNDAY, time(13))
    assert larder.bill("L1", Form.WASHED, 100, at).cost == 0
    assert larder.bill("L1", Form.WASHED, 600, at).packs >= 1


def test_an_allergen_or_an_aversion_is_never_added():
    """Whoever dislikes leaves gets none, nor does anybody who shares the pot."""
    likes = {PLAIN.id: 5, LEAF_DAL.id: 1, "gourd": 1}
    people = (replace(ANNA, liking=likes), replace(BEN, liking=likes, aversions=frozenset({"L1"})))
    _, made = planned(people=people)
    assert all(m.food != "L1" for gap in made.gaps for m in gap.mends if m.dish == PLAIN.id)


def test_the_day_forbids():
    """No onion dish is proposed as a side on a day without onion."""
    side = dish("onion-leaf-side", Course.SIDE, {"L1": 100, "O1": 100})
    rule = DayRule(RuleKind.NO_ONION_GARLIC, weekday=6)
    offers = (*OFFERS, Offer("O1", "500 g", 500, 3000, "stall"))
    hated = replace(ANNA, liking={PLAIN.id: 5, LEAF_DAL.id: 1, side.id: 1})
    for rules, proposed in (((), True), ((rule,), False)):
        the_book = book((*DISHES, side), offers=offers, people=(hated,), rules=rules)
        made = plan(the_book, SUNDAY, 1, seconds=2, facts=FACTS)
        without = replace(made, servings=tuple(s for s in made.servings if s.course is not Course.SIDE))
        sides = [m for gap in mends(without, the_book, facts=FACTS, most=9) for m in gap.mends if m.dish == side.id]
        assert bool(sides) is proposed


def test_nobody_is_lifted_above_a_ceiling():
    """A salty dish full of leaves is no mend: it would take Anna above her sodium."""
    salty = dish("salty-leaves", Course.VEGETABLE, {"L1": 100, "S1": 500})
    on_sale = (*OFFERS, Offer("S1", "500 g", 500, 100, "stall"))
    the_book = book((RICE, PLAIN, salty, PORRIDGE), offers=on_sale, people=(ANNA,))
    made = plan(the_book, SUNDAY, 1, seconds=2, facts=FACTS)
    assert salty.id in {s.dish for s in made.servings}
    assert all(m.dish != salty.id for gap in made.gaps for m in gap.mends)


def test_market_days_and_lives_are_kept():
    """On Tuesday leaves from Sunday are three days old, and Wednesday's are not there yet."""
    the_book = book(DISHES, offers=OFFERS, people=(ANNA,))
    made = plan(the_book, SUNDAY, 4, seconds=3, facts=FACTS)
    larder, tuesday = Larder(replace(made, left_over=()), the_book, FACTS), SUNDAY + timedelta(days=2)
    assert larder.bill("L1", Form.WASHED, 100, datetime.combine(tuesday, time(20))).day == SUNDAY
    assert larder.bill("L1", Form.WASHED, 100, datetime.combine(tuesday + timedelta(days=1), time(8))).day == SUNDAY
    wednesday = datetime.combine(tuesday + timedelta(days=1), time(13))
    assert larder.bill("L1", Form.WASHED, 100, wednesday).day == wednesday.date()
    past = Larder(replace(made, left_over=()), the_book, FACTS, since=datetime.combine(tuesday, time(7)))
    assert past.bill("L1", Form.WASHED, 100, datetime.combine(tuesday, time(20))) is None


def test_never_more_than_the_book_takes():
    """The dal that has the most leaves of the book gets no more; another food joins only what it is beside."""
    habits = Habits(book(DISHES), FACTS)
    assert all(a.food != "L1" for a in habits.additions(LEAF_DAL))
    assert {a.food for a in habits.additions(PLAIN)} == {"L1"}
    assert list(habits.additions(RICE)) == []


def test_what_is_over_is_not_mended():
    """In the evening nothing is proposed for lunch."""
    the_book, made = planned()
    late = mends(made, the_book, since=datetime.combine(SUNDAY, time(15)), facts=FACTS, most=9)
    assert {m.meal for gap in late for m in gap.mends} <= {Meal.DINNER}
