"""Cautions reach the dishes and the people whom they concern, and no others."""

from __future__ import annotations

from dataclasses import replace

import pytest
from tests.keeping.houses import ASHA, dish, line, step

from chauka import demo, tables
from chauka.keeping import cautions
from chauka.keeping.caution import _OF_FOOD, _TRIGGERS
from chauka.kitchen import Condition, Course, Dish, Form, Place, Technique, Vessel
from chauka.units import Span

PLAIN = dish(line("F002", form=Form.CUT))
INFANT = replace(ASHA, id="bo", name="Bo", conditions=frozenset({Condition.INFANT}))
OLD = replace(ASHA, id="mai", name="Mai", conditions=frozenset({Condition.FRAIL}))


def about(made: Dish) -> str:
    return " ".join(c.text for c in cautions(made))


def test_every_caution_of_the_table_has_a_trigger() -> None:
    """No row is dead, and neither a dish nor a food asks for a row that is not there."""
    of_food = {caution for _, caution in _OF_FOOD} | {"cut-fruit"}
    assert {t.id for t in _TRIGGERS} | of_food == {row["id"] for row in tables.rows("keeping_cautions")}


def test_carrots_need_no_caution() -> None:
    """A plain dish carries none."""
    assert cautions(PLAIN) == ()


@pytest.mark.parametrize(
    ("made", "says"),
    [
        (dish(line("A015"), line("K505")), "cooked rice"),
        (dish(line("B020"), vessel=Vessel.PRESSURE_COOKER, does=(Technique.PRESSURE_COOK,)), "two thirds"),
        (dish(line("B020")), "kidney beans"),
        (dish(line("B011", form=Form.SPROUTED)), "steam all through"),
        (dish(line("G011", form=Form.CHOPPED), line("T006", 50), course=Course.SIDE), "within 4 days"),
        (dish(line("D007", form=Form.CUT)), "unusually bitter"),
        (dish(line("F006", form=Form.CUT)), "green skin"),
        (dish(line("D032", form=Form.CUT)), "G6PD"),
        (dish(line("L003", form=Form.CUT)), "heat them through"),
        (
            dish(line("G009", form=Form.GROUND), does=(Technique.GRIND,), course=Course.SIDE),
            "washed in several changes",
        ),
        (dish(line("A018"), line("T012"), does=(Technique.DEEP_FRY,)), "burning oil"),
    ],
)
def test_the_caution_stands_with_its_dish(made: Dish, says: str) -> None:
    """Each hazard where the cook will see it, with why and on whose word."""
    assert says in about(made)
    assert all(c.why and c.source for c in cautions(made))


def test_a_little_garlic_in_a_curry_is_not_garlic_in_oil() -> None:
    """The caution is about what stands in oil for days."""
    assert "within 4 days" not in about(dish(line("D036", 500), line("G011", 5), line("T006", 20)))


def test_honey_concerns_infants_only() -> None:
    """Said when nobody is named, said of the infant, left out where there is none."""
    sweet = dish(line("I507"), course=Course.SWEET)
    assert "Honey" in about(sweet)
    assert cautions(sweet, (ASHA,)) == ()
    assert cautions(sweet, (ASHA, INFANT))[0].text.endswith("Above all for Bo.")


def test_people_at_risk_are_named() -> None:
    """Sprouts name the old and the infant."""
    (said,) = cautions(dish(line("B011", form=Form.SPROUTED)), (ASHA, INFANT, OLD))
    assert said.text.endswith("Above all for Bo and Mai.")


def test_what_is_put_by_in_salt_or_oil_carries_its_caution() -> None:
    """A pickle under oil, vegetables in brine, a wet jar in the cupboard; sugar is no salt."""
    carrot, salt, sugar = line("F002", 500, Form.CUT), line("G528", 12), line("I502", 50)
    oil = line("T004", 100, Form.LIQUID)
    pickle = dish(carrot, salt, oil, course=Course.SIDE, batch=True)
    assert any("pickle under oil" in c.text for c in cautions(pickle))
    assert not any(
        "pickle under oil" in c.text for c in cautions(dish(carrot, sugar, oil, course=Course.SIDE, batch=True))
    )
    rest = replace(step(Technique.REST), minutes=Span(24 * 60, 72 * 60))
    assert any("under the brine" in c.text for c in cautions(replace(dish(carrot, salt), steps=(rest,))))
    jar = dish(carrot, salt, kept=(Place.CUPBOARD, 30, 60))
    assert any("pressure canner" in c.text for c in cautions(jar))
    baked = dish(line("F005", 500, Form.WHOLE), does=(Technique.BAKE,))
    assert any("foil" in c.text for c in cautions(baked)) == any("green skin" in c.text for c in cautions(baked))


def test_the_demo_calls_none_of_its_dishes_a_canned_one() -> None:
    """The new cautions stay with what they are about."""
    for made in demo.book().dishes:
        assert not any("pressure canner" in c.text for c in cautions(made)), made.id
