"""A pot that was put on the scale counts from then on, wherever nutrients are shown."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest
from tests.services.small_house import BOOK, NOW

from chauka import composition
from chauka.composition import Rule
from chauka.errors import InputError
from chauka.kitchen import Deed, LedgerRow
from chauka.services import after_cooking, cooked, dishes, nutrients, page, past, prints
from chauka.services.after_cooking import Said
from chauka.store import books, ledger
from chauka.store.models import Household

pytestmark = pytest.mark.django_db
RICE, LATER = "boiled-rice", NOW + timedelta(days=1)


@pytest.fixture
def owner(book_file: object) -> Household:
    """A household with the small house's book, whose rice nobody has weighed."""
    unweighed = tuple(replace(dish, yield_g=None) for dish in BOOK.dishes)
    return books.create(replace(BOOK, dishes=unweighed))


def _energy(owner: Household) -> tuple[float, str]:
    view = nutrients.of_dish(owner, RICE)
    return next(line.per_100g.mean for line in view.nutrients if line.tag == "ENERC_KCAL"), view.how


def test_a_weighed_pot_changes_what_100_g_hold_and_says_so(owner: Household) -> None:
    """Rice reckoned, then weighed at 600 g for two: 100 g hold what 190 g of rice spread over 600 g give."""
    before, how = _energy(owner)
    assert "weighed" not in how
    done = cooked.weigh(owner, RICE, "600 g", NOW)
    assert (done.grams, done.portions) == (600, 2)
    after, how = _energy(owner)
    total = composition.dish_nutrients(books.load_book(owner).dish(RICE)).total["ENERC_KCAL"].mean
    assert after == pytest.approx(total / 6)
    assert after != pytest.approx(before, rel=0.02)
    assert how.startswith("weighed once before, 300")


def test_every_place_that_shows_nutrients_takes_the_scale_s_word(owner: Household) -> None:
    """The dish, its write-up, the booklet, its label and its reasons."""
    label_before = nutrients.label(owner, RICE, Rule.FSSAI).rows
    cooked.weigh(owner, RICE, "0.6kg", NOW)
    assert dishes.show(owner, RICE).nutrients.cooked_g.mean == pytest.approx(600)
    assert page.made_up(owner, RICE).nutrition.cooked_g.mean == pytest.approx(600)
    assert page.write_up(owner, RICE).write_up.nutrition.how.startswith("weighed once before")
    why = nutrients.why(owner, RICE, "fe")
    assert why.cooked_g.mean == pytest.approx(600)
    assert why.how.startswith("weighed once before")
    assert nutrients.label(owner, RICE, Rule.FSSAI).rows[0].per_100g != label_before[0].per_100g
    bound = prints.bound(owner, NOW.date())
    rice = next(made for made in bound.dishes if made.dish.id == RICE)
    assert rice.nutrition.cooked_g.mean == pytest.approx(600)


def test_a_portion_is_a_share_of_the_pot_whatever_it_weighs(owner: Household) -> None:
    """So the plan's intake, in portions, needs no weight: only water differs."""
    dish = books.load_book(owner).dish(RICE)
    plain, weighed = (composition.dish_nutrients(dish, weighed_before=w) for w in ((), [composition.Weighed(2, 600)]))
    assert {t for t, a in plain.per_portion.items() if a != weighed.per_portion[t]} == {"WATER"}


def test_a_weight_for_other_portions_is_taken_per_portion(owner: Household) -> None:
    """1.5 kg for five portions are 600 g for the two that the dish makes; two weighings are averaged."""
    cooked.weigh(owner, RICE, "1.5 kg", NOW, portions=5)
    assert dishes.show(owner, RICE).nutrients.cooked_g.mean == pytest.approx(600)
    cooked.weigh(owner, RICE, "500", LATER)
    assert dishes.show(owner, RICE).nutrients.cooked_g.mean == pytest.approx(550)


def test_only_what_was_on_the_scale_teaches(owner: Household) -> None:
    """A planned weight, one without a reason and a pot not weighed teach nothing; portions may be left unsaid."""
    rows = ((900.0, "planned, for 2 portions"), (700.0, ""), (800.0, "left over"), (0.0, "not weighed, for 2 portions"))
    for grams, why in (*rows, (620.0, "weighed")):
        ledger.record(owner, LedgerRow(at=NOW, deed=Deed.COOKED, grams=grams, dish=RICE, why=why))
    assert cooked.of_dish(owner, books.load_book(owner).dish(RICE)) == (composition.Weighed(2, 620),)


def test_what_was_said_after_a_meal_counts_where_it_was_weighed(owner: Household) -> None:
    """The same row as that of `dish weigh`; a meal of which no weight was said leaves the reckoning alone."""
    after_cooking.write(owner, RICE, Said(portions="4", minutes="20"), NOW)
    assert "weighed" not in _energy(owner)[1]
    after_cooking.write(owner, RICE, Said(portions="4", weight="1.2 kg"), LATER)
    assert cooked.of_dish(owner, books.load_book(owner).dish(RICE)) == (composition.Weighed(4, 1200),)


def test_taken_back_and_done_again(owner: Household) -> None:
    """A weighing that is taken back does not count; done again it counts, with its portions."""
    cooked.weigh(owner, RICE, "1500", NOW, portions=5)
    past.undo(owner, NOW)
    assert "weighed" not in _energy(owner)[1]
    past.redo(owner, NOW)
    assert cooked.of_book(owner, books.load_book(owner)) == {RICE: (composition.Weighed(5, 1500),)}


def test_a_changed_recipe_has_to_be_weighed_again(owner: Household) -> None:
    """Another name changes nothing; more rice does; the old recipe brought back brings its weighing back."""
    cooked.weigh(owner, RICE, "600 g", NOW)
    dish = books.load_book(owner).dish(RICE)
    _save(owner, replace(dish, name="Rice"))
    assert _energy(owner)[1].startswith("weighed once")
    more = tuple(replace(line, grams=line.grams * 2) for line in dish.lines)
    _save(owner, replace(dish, lines=more))
    assert "weighed" not in _energy(owner)[1]
    past.undo(owner, LATER)
    assert _energy(owner)[1].startswith("weighed once")


def _save(owner: Household, dish: object) -> None:
    with ledger.action(owner, LATER, "change a dish") as recorder:
        books.save_dish(recorder, dish)  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("dish", "weight", "portions", "said"),
    [
        (RICE, "much", None, "no weight"),
        (RICE, "60 kg", None, "cannot be right"),
        (RICE, "6 g", None, "cannot be right"),
        (RICE, "600 g", -1, "above zero"),
        ("pizza", "600 g", None, "not in the dish book"),
    ],
)
def test_what_cannot_be_right_is_refused(
    owner: Household, dish: str, weight: str, portions: float | None, said: str
) -> None:
    """No number, a slip of the unit, no portions, a dish that is not there."""
    with pytest.raises(InputError, match=said):
        cooked.weigh(owner, dish, weight, NOW, portions=portions)
