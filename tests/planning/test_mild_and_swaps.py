"""A child's part without the heat, and lines cooked with another food."""

from dataclasses import replace

from tests.planning.kitchens import ANNA, BEN, GOURD, PLAIN_DAL, PORRIDGE, RICE, SUNDAY, PlainFacts, book, dish, lot
from tests.planning.plan_checker import plan_faults

from chauka.kitchen import Attention, Course, Form, Heat, Offer, Step, Substitute, Swap, Technique, Weights, with_swaps
from chauka.planning import plan
from chauka.planning.build import build
from chauka.planning.mild import can_be_served_mild, who_eats_mild
from chauka.units import Span

FACTS = PlainFacts()


def hot(how, **line):
    """A dal of heat 3 whose chilli goes in by one technique, after the cooking."""
    made = dish("hot-dal", Course.PULSE, {"P1": 200, "H1": 5}, chilli=3)
    last = Step("last", "Heat.", how, Span(3, 3), Attention.HANDS_ON, heat=Heat.MEDIUM, lines=("l1",))
    lines = (made.lines[0], replace(made.lines[1], **line))
    return replace(made, lines=lines, steps=(*made.steps, last))


def test_a_part_is_taken_out_before_the_tempering():
    """Chilli in a tempering poured at the end can be left out of a part; chilli fried or boiled with the pot cannot."""
    assert can_be_served_mild(hot(Technique.TEMPER), FACTS.is_hot)
    assert not can_be_served_mild(hot(Technique.SAUTE), FACTS.is_hot)
    assert can_be_served_mild(hot(Technique.SAUTE, to_taste=True), FACTS.is_hot)
    early = hot(Technique.TEMPER)
    assert not can_be_served_mild(replace(early, steps=tuple(reversed(early.steps))), FACTS.is_hot)
    assert not can_be_served_mild(PLAIN_DAL, FACTS.is_hot)


def test_only_those_for_whom_it_is_too_hot_eat_mild():
    assert who_eats_mild(hot(Technique.TEMPER), (ANNA, BEN), FACTS.is_hot) == ("ben",)
    assert who_eats_mild(replace(hot(Technique.TEMPER), chilli=0), (ANNA, BEN), FACTS.is_hot) == ()


def test_a_split_pot_costs_no_liking_and_two_minutes():
    """The same dal costs Ben's three levels of heat where it cannot be split."""
    problems = {}
    for how in (Technique.TEMPER, Technique.SAUTE):
        built = build(book((RICE, hot(how), GOURD, PORRIDGE), people=(ANNA, BEN)), SUNDAY, 1, FACTS)
        fresh = [c for c, k in enumerate(built.problem.cookings) if built.dish(k.recipe).id == "hot-dal"]
        problems[how] = (
            built.problem.cookings[fresh[0]].minutes,
            next(e.liking for e in built.problem.eatings if e.cooking == fresh[0]),
        )
    split, whole = problems[Technique.TEMPER], problems[Technique.SAUTE]
    assert split[0] - whole[0] == 2
    assert whole[1] - split[1] == 2 * Weights().dislike_point


def test_the_plan_says_who_is_served_mild():
    the_book = book((RICE, hot(Technique.TEMPER), GOURD, PORRIDGE), people=(ANNA, BEN))
    made = plan(the_book, SUNDAY, 1, seconds=2, facts=FACTS)
    assert plan_faults(made, the_book, FACTS) == []
    assert {s.mild for s in made.servings if s.dish == "hot-dal"} == {("ben",)}
    assert all(s.mild == () for s in made.servings if s.dish != "hot-dal")


def with_substitute(made, food, ratio=1.0):
    """A dish whose first line may be cooked with another food."""
    return replace(made, lines=(replace(made.lines[0], substitutes=(Substitute(food, ratio),)), *made.lines[1:]))


def test_a_swap_changes_food_grams_and_base():
    swapped = with_swaps(with_substitute(GOURD, "V2", 0.5), [Swap("l0", "V2", 0.5)])
    assert (swapped.base, swapped.lines[0].food, swapped.lines[0].grams.mean) == ("V2", "V2", 200)
    assert swapped.lines[0].said == "V2 (for V1)"


def test_a_food_that_nobody_sells_is_swapped_and_told():
    """Without gourd on sale the gourd dish is cooked with the substitute, at its ratio, and the batch says so."""
    gourd = with_substitute(GOURD, "V2", 0.5)
    on_sale = tuple(Offer(f, "500 g", 500, 3000, "stall") for f in ("G1", "G2", "P2", "V2"))
    the_book = book((RICE, PLAIN_DAL, gourd, PORRIDGE), offers=on_sale)
    made = plan(the_book, SUNDAY, 1, seconds=2, facts=FACTS)
    batch = next(b for b in made.batches if b.dish == "gourd")
    assert batch.swaps == (Swap("l0", "V2", 0.5),)
    taken = sum(d.grams for d in made.draws if d.batch == batch.id)
    assert abs(taken - 200 * batch.portions / 4) < 1
    assert plan_faults(made, the_book, FACTS) == []


def test_a_substitute_that_would_go_off_is_used_up():
    """A lot of the substitute in the house is cooked rather than binned, though the dish's own food is on sale."""
    gourd = with_substitute(GOURD, "V2")
    the_book = book((RICE, PLAIN_DAL, gourd, PORRIDGE), lots=(lot("old", "V2", 600, days=2.4, cost=9000),))
    made = plan(the_book, SUNDAY, 1, seconds=2, facts=FACTS)
    assert any(b.swaps == (Swap("l0", "V2"),) for b in made.batches if b.dish == "gourd")
    without = replace(the_book, lots=())
    assert all(not b.swaps for b in plan(without, SUNDAY, 1, seconds=2, facts=FACTS).batches)


def test_a_substitute_steps_in_when_its_food_is_too_old():
    """Leaves sold on Sundays only live three days: on Thursday the dish is cooked with what keeps."""
    greens = with_substitute(dish("greens", Course.VEGETABLE, {"L1": 400}), "V1")
    on_sale = tuple(Offer(f, "500 g", 500, 3000, "stall", () if f != "L1" else (6,)) for f in ("G1", "G2", "P2", "L1"))
    stock = (lot("gourd", "V1", 5000, form=Form.DRY),)
    built = build(book((RICE, PLAIN_DAL, greens, PORRIDGE), offers=on_sale, lots=stock), SUNDAY, 5, FACTS)
    swapped = {
        built.sittings[k.slot].day.weekday() for k in built.problem.cookings if built.menu.helpings[k.recipe].swaps
    }
    assert swapped == {2, 3}
