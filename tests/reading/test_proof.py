"""Proofreading: each fault of a dish is found and comes with a mend; a sound dish has none."""

from __future__ import annotations

from dataclasses import replace

from chauka.kitchen import Attention, Course, Dish, Form, Heat, Kept, Line, Place, Step, Technique, Vessel
from chauka.reading import Fault, proofread
from chauka.units import Estimate, Span


def dish() -> Dish:
    """Four portions of spinach without a fault."""

    def line(id_: str, food: str, amount: str, grams: float, form: Form) -> Line:
        return Line(id_, food, id_, amount, Estimate(grams, grams / 20), form)

    cook = Step(
        "cook", "Cook the spinach with cumin and salt in the oil.", Technique.SAUTE, Span(8, 10), Attention.HANDS_ON,
        Vessel.WOK, Heat.MEDIUM, lines=("spinach", "cumin", "salt", "oil"),
    )  # fmt: skip
    return Dish(
        id="plain-spinach",
        name="Plain spinach",
        course=Course.VEGETABLE,
        base="C033",
        portions=4,
        lines=(
            line("spinach", "C033", "500 g", 500, Form.PICKED),
            line("cumin", "G025", "1 tsp", 2.4, Form.DRY),
            line("salt", "G528", "1 tsp", 6, Form.DRY),
            line("oil", "T508", "1 tbsp", 14, Form.LIQUID),
        ),
        steps=(cook,),
        yield_g=Estimate(400, 20),
        kept=Kept(Place.FRIDGE, Span(1, 1), "common practice, no source"),
    )


def faults(of: Dish) -> set[tuple[Fault, str]]:
    """Kind and place of every finding."""
    found = proofread(of)
    assert all(f.text and f.mend for f in found)
    return {(f.fault, f.where) for f in found}


def test_a_sound_dish_has_no_fault() -> None:
    """Nothing is found where nothing is wrong."""
    assert faults(dish()) == set()


def test_unused_and_unlisted_foods() -> None:
    """A line that no step uses; a food in a step that no line has."""
    step = replace(dish().steps[0], lines=("spinach", "salt", "oil"), text="Cook the spinach with two tomatoes.")
    assert faults(replace(dish(), steps=(step,))) >= {(Fault.UNUSED, "cumin"), (Fault.UNLISTED, "cook")}


def test_a_tablespoon_for_a_teaspoon() -> None:
    """Ten grams of cumin a portion from tablespoons: a teaspoon was meant."""
    lines = tuple(replace(x, amount="3 tbsp", grams=Estimate(36, 2)) if x.id == "cumin" else x for x in dish().lines)
    assert (Fault.SPOON, "cumin") in faults(replace(dish(), lines=lines))


def test_an_amount_out_of_range() -> None:
    """Half a kilo of salt cannot be."""
    lines = tuple(replace(x, amount="500 g", grams=Estimate(500, 5)) if x.id == "salt" else x for x in dish().lines)
    assert (Fault.AMOUNT, "salt") in faults(replace(dish(), lines=lines))


def test_what_is_missing() -> None:
    """No yield, no keeping, no minutes."""
    step = replace(dish().steps[0], minutes=Span(0, 0))
    found = faults(replace(dish(), yield_g=None, kept=None, steps=(step,)))
    assert found == {(Fault.MISSING, "yield_g"), (Fault.MISSING, "kept"), (Fault.MISSING, "cook")}


def test_hidden_allergens_and_false_claims() -> None:
    """Compounded asafoetida holds wheat; ghee belies "vegan"."""
    hing = Line("hing", "G019", "hing", "1 pinch", Estimate(0.2, 0.05), Form.DRY)
    ghee = Line("ghee", "T506", "ghee", "1 tbsp", Estimate(13, 1), Form.LIQUID)
    step = replace(dish().steps[0], lines=(*dish().steps[0].lines, "hing", "ghee"))
    made = replace(dish(), lines=(*dish().lines, hing, ghee), steps=(step,), tags=frozenset({"vegan"}))
    assert faults(made) == {(Fault.ALLERGEN, "hing"), (Fault.ALLERGEN, "ghee")}
    assert (Fault.ALLERGEN, "hing") not in faults(replace(made, cautions=("Contains gluten (asafoetida).",)))
