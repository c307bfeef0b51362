"""A dish, its lines and steps are checked when they are made, and say what is wrong by name."""

from dataclasses import FrozenInstanceError, replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from chauka.errors import InputError
from chauka.kitchen import After, Attention, Course, Dish, Form, Heat, Line, Step, Technique
from chauka.units import Estimate, Span


def line(line_id: str = "l1", grams: float = 100, **changes: object) -> Line:
    return replace(Line(line_id, "C033", "spinach", "1 bunch", Estimate(grams), Form.WASHED), **changes)  # type: ignore[arg-type]


def step(step_id: str = "s1", *, after: tuple[After, ...] = (), lines: tuple[str, ...] = (), low: float = 5) -> Step:
    return Step(
        step_id, "Wilt it.", Technique.SAUTE, Span(low, 8), Attention.HANDS_ON, after=after, lines=lines,
        heat=Heat.MEDIUM,
    )  # fmt: skip


def dish(**changes: object) -> Dish:
    plain = Dish("wilted-spinach", "Wilted spinach", Course.VEGETABLE, "C033", 2, (line(),), (step(lines=("l1",)),))
    return replace(plain, **changes)  # type: ignore[arg-type]


def test_it_works() -> None:
    """A sound dish finds its lines, steps, foods and hands-on minutes."""
    plain = dish()
    assert plain.line("l1").food == "C033"
    assert plain.step("s1").technique is Technique.SAUTE
    assert plain.foods == {"C033"}
    assert plain.hands_on_min == 6.5


def test_it_cannot_be_changed() -> None:
    """Nouns are frozen."""
    with pytest.raises(FrozenInstanceError):
        dish().name = "other"  # type: ignore[misc]


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: line(grams=-5), "-5 g is below zero"),
        (lambda: line(grams=60_000), "check the unit"),
        (lambda: line(eaten_share=1.2), "between 0 and 1"),
        (lambda: After("s1", -1), "below zero"),
        (lambda: After("s1", 10, 5), "at most 5 min is less than at least 10 min"),
        (lambda: step(low=-1), "below zero"),
        (lambda: replace(step(), text="  "), "say what to do"),
        (lambda: replace(step(), minutes=Span(0, 20_000)), "over a week"),
        (lambda: dish(id="Not A Slug"), "lower-case words joined by hyphens"),
        (lambda: dish(name=" "), "is empty"),
        (lambda: dish(portions=0), "above zero"),
        (lambda: dish(lines=(), steps=()), "at least one line"),
        (lambda: dish(chilli=4), "between 0 and 3"),
        (lambda: dish(lines=(line(), line())), "stands twice"),
        (lambda: dish(steps=(step(lines=("l9",)),)), "uses line 'l9', which the dish does not list"),
        (lambda: dish(steps=(step(after=(After("s2"),)), step("s2"))), "comes after 's2': not an earlier step"),
        (lambda: dish(steps=(step(), step())), "stands twice"),
    ],
)
def test_refusals_name_the_thing(make: object, says: str) -> None:
    """Each refusal says what was wrong."""
    with pytest.raises(InputError) as caught:
        make()  # type: ignore[operator]
    assert says in str(caught.value)


def test_all_faults_of_a_dish_are_told_at_once() -> None:
    """A dish with three faults raises one error with three complaints."""
    with pytest.raises(InputError) as caught:
        dish(portions=-1, name="", chilli=9)
    assert len(caught.value.fields) == 3


@given(st.lists(st.booleans(), min_size=1, max_size=5), st.floats(0, 50_000))
def test_hands_on_minutes_count_only_the_hands_on_steps_of_the_day(ahead: list[bool], grams: float) -> None:
    """Steps done ahead do not count towards the cooking day."""
    steps = tuple(replace(step(f"s{n}"), ahead=a) for n, a in enumerate(ahead))
    made = dish(lines=(line(grams=grams),), steps=steps)
    assert made.hands_on_min == pytest.approx(6.5 * ahead.count(False))


def test_techniques_that_cook() -> None:
    """Heat changes nutrients when boiling or frying, not when soaking or assembling."""
    assert Technique.BOIL.cooks
    assert Technique.TEMPER.cooks
    assert not Technique.SOAK.cooks
    assert not Technique.ASSEMBLE.cooks
