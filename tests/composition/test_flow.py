"""A line is heated by the steps that it really passes."""

from tests.composition.samples import CUMIN, MOONG, ONION, POTATO, RICE, SPINACH, WATER, dal, dish, line, step

from chauka.composition.flow import passages, reach
from chauka.kitchen import Form, Technique, Vessel


def heated(made: object, line_id: str) -> list[str]:
    return [s.id for s in passages(made)[line_id].heated_by]  # type: ignore[arg-type]


def test_a_dal_with_tempering_and_raw_leaves() -> None:
    """Dal is boiled and simmered, spinach simmered, cumin tempered, coriander raw; the ladle heats only its own."""
    made = dal()
    assert heated(made, "b010") == ["boil", "simmer"]
    assert heated(made, "c033") == ["simmer"]
    assert heated(made, "g025") == ["temper"]
    assert heated(made, "g009") == []


def test_a_tempering_after_the_boil_does_not_cook_the_dal_again() -> None:
    """A cook writes one step after the other; a tempering or a dry roast with lines of its own has its own pan."""
    for technique in (Technique.TEMPER, Technique.ROAST):
        made = dish(
            [line(MOONG, 200), line(WATER, 600, Form.LIQUID), line(CUMIN, 3)],
            [
                step("boil", Technique.BOIL, 20, ["b010", "k505"]),
                step("bloom", technique, 2, ["g025"], after=["boil"], vessel=Vessel.WOK),
                step("serve", Technique.MIX, 1, after=["bloom"]),
            ],
        )
        assert heated(made, "b010") == ["boil"]
        assert heated(made, "g025") == ["bloom"]


def test_a_line_that_enters_twice_passes_both_ways() -> None:
    """Half the onion fried early, half late: it counts as heated by all steps that either half passes."""
    made = dish(
        [line(ONION, 100)],
        [
            step("fry", Technique.SAUTE, 10, ["g017"]),
            step("simmer", Technique.SIMMER, 10, ["g017"], after=["fry"]),
            step("garnish", Technique.ASSEMBLE, 1, ["g017"], after=["simmer"]),
        ],
    )
    assert heated(made, "g017") == ["fry", "simmer"]


def test_a_line_that_no_step_names_is_not_heated() -> None:
    """Nothing is guessed."""
    made = dish([line(SPINACH, 100), line(ONION, 50)], [step("fry", Technique.SAUTE, 5, ["c033"])])
    assert heated(made, "g017") == []


def test_reach_follows_branches() -> None:
    """Everything after a step, over any number of others."""
    assert reach(dal(), "boil") == {"boil", "simmer", "pour"}
    assert reach(dal(), "temper") == {"temper", "pour"}


def test_water_that_goes_down_the_drain() -> None:
    """Drained: listed water of which less than half is eaten, or boiling with no liquid listed, or blanching."""

    def drained(*lines: object, technique: Technique = Technique.BOIL) -> bool:
        made = dish(lines, [step("cook", technique, 15, [x.id for x in lines])])  # type: ignore[arg-type, attr-defined]
        return bool(passages(made)[made.lines[0].id].drained)

    potato = line(POTATO, 400, Form.PEELED)
    assert drained(potato, line(WATER, 1000, Form.LIQUID, eaten=0.0))
    assert drained(potato)
    assert drained(potato, technique=Technique.BLANCH)
    assert not drained(line(RICE, 200), line(WATER, 450, Form.LIQUID))
    assert not drained(potato, technique=Technique.SIMMER)
    assert not drained(potato, technique=Technique.STEAM)
    assert not drained(potato, line("L002", 300, Form.LIQUID))


def test_soaking_water_is_not_the_cooking_water() -> None:
    """Beans soaked in water of which a third is taken up, then cooked in fresh water: nothing is poured away."""
    beans, soak = line("B020", 200), line(WATER, 600, Form.LIQUID, eaten=0.3, name="soak")
    fresh = line(WATER, 700, Form.LIQUID, name="fresh")
    made = dish(
        [beans, soak, fresh],
        [
            step("soak", Technique.SOAK, 480, ["b020", "soak"], ahead=True),
            step("cook", Technique.PRESSURE_COOK, 30, ["fresh"], after=["soak"], whistles=5),
        ],
    )
    assert passages(made)["b020"].drained == frozenset()
    without = dish([beans, soak], [made.steps[0], step("cook", Technique.BOIL, 60, after=["soak"])])
    assert passages(without)["b020"].drained == {"cook"}
