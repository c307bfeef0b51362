"""Small dishes and the demo's write-ups for the publishing tests."""

from __future__ import annotations

from functools import cache

from chauka import demo
from chauka.kitchen import (
    After,
    Attention,
    Book,
    Course,
    Dish,
    Form,
    Heat,
    Line,
    Step,
    Substitute,
    Technique,
    Vessel,
)  # fmt: skip
from chauka.publishing import WriteUp, write_up
from chauka.units import Estimate, Span


@cache
def book() -> Book:
    """The demo's book, loaded once."""
    return demo.book()


@cache
def demo_write_up(dish_id: str = "spinach-dal-with-lemon") -> WriteUp:
    """The write-up of one demo dish."""
    return write_up(book().dish(dish_id), book().house)


@cache
def all_write_ups() -> tuple[WriteUp, ...]:
    """The write-ups of all demo dishes."""
    return tuple(demo_write_up(d.id) for d in book().dishes)


def written(dish: Dish) -> WriteUp:
    """The write-up of a dish cooked in the demo house."""
    return write_up(dish, book().house)


def line(line_id: str = "dal", food: str = "B010", **kw: object) -> Line:
    """A line of 200 g of split moong unless told otherwise."""
    given: dict[str, object] = {"said": "split moong", "amount": "1 cup", "grams": Estimate(200, 8), "form": Form.DRY}
    return Line(id=line_id, food=food, **(given | kw))  # type: ignore[arg-type]


def step(step_id: str, low: float, high: float | None = None, **kw: object) -> Step:
    """A hands-on mixing step off the fire unless told otherwise."""
    given: dict[str, object] = {"text": f"Do {step_id}.", "technique": Technique.MIX, "attention": Attention.HANDS_ON}
    return Step(id=step_id, minutes=Span(low, high if high is not None else low), **(given | kw))  # type: ignore[arg-type]


def small_dish(**kw: object) -> Dish:
    """Soaked dal, boiled: two lines, three steps, one of them ahead."""
    given: dict[str, object] = {
        "id": "small-dal", "name": "Small dal", "course": Course.PULSE, "base": "B010", "portions": 2.0,
        "lines": (
            line(substitutes=(Substitute("B013", 0.9, "red lentils"),)),
            line("water", "K505", said="water", amount="3 cups", grams=Estimate(720, 10), form=Form.LIQUID),
        ),
        "steps": (
            step("soak", 60, 120, technique=Technique.SOAK, attention=Attention.HANDS_OFF, ahead=True,
                 vessel=Vessel.BOWL, lines=("dal",)),
            step("cut", 5),
            step("boil", 20, 30, technique=Technique.BOIL, attention=Attention.NOW_AND_THEN, heat=Heat.MEDIUM,
                 vessel=Vessel.POT, after=(After("soak"), After("cut", 0, 10)), lines=("dal", "water")),
        ),
        "names": {"hi": "छोटी दाल"},
        "tags": frozenset({"quick"}),
    }  # fmt: skip
    return Dish(**(given | kw))  # type: ignore[arg-type]


HOSTILE = (
    "<script>alert(1)</script>", "</script><b>",
    "a & b < c > d \"quoted\" 'single'", '#import "x"', "#eval(read(\"/etc\"))",
    "$x^2$ *bold* _it_ `raw` <label> @ref \\ [content] // comment /* c */", "= Heading", "- item", "{{ 7*7 }} {% x %}",
    "--> 00:00", "नींबू क्षत्रिय र्क",
)  # fmt: skip
"""Names that would do harm if any output took them for markup."""
