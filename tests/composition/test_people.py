"""Reference intakes come from the right row, with its source, and say when they are from memory."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st
from tests.composition.samples import UNKNOWN_GREENS, dal, line, salad

from chauka.composition import (
    FREE_SUGARS,
    Amount,
    adequacy,
    dish_nutrients,
    energy_need,
    intake,
    iron_notes,
    portion_factor,
    reference,
)
from chauka.composition.people import ReferenceKind
from chauka.kitchen import Condition, Person, Sex

ON = date(2027, 3, 14)
MAN = Person("man", "Man", Sex.MALE, date(1992, 3, 1), 65, 1.6)
WOMAN = Person("woman", "Woman", Sex.FEMALE, date(1992, 3, 1), 55, 1.6)
GRANDMOTHER = Person("gran", "Gran", Sex.FEMALE, date(1955, 3, 1), 56, 1.5, frozenset({Condition.LOW_SALT}))
TEEN = Person("teen", "Teen", Sex.FEMALE, date(2012, 6, 1), 46, 1.7)
CHILD = Person("child", "Child", Sex.MALE, date(2020, 10, 1), 20, 1.6)
INFANT = Person("infant", "Infant", Sex.MALE, date(2026, 10, 1), 7, 1.6)
EVERYONE = [MAN, WOMAN, GRANDMOTHER, TEEN, CHILD]


def expecting(person: Person, condition: Condition) -> Person:
    return replace(person, conditions=frozenset({condition}))


@pytest.mark.parametrize(
    ("person", "tag", "value"),
    [
        (MAN, "FE", 19), (WOMAN, "FE", 29), (WOMAN, "VITC", 65), (WOMAN, "FOL", 220), (MAN, "ZN", 17),
        (expecting(WOMAN, Condition.PREGNANT), "FOL", 570), (expecting(WOMAN, Condition.PREGNANT), "FE", 27),
        (expecting(WOMAN, Condition.LACTATING), "CA", 1200), (expecting(WOMAN, Condition.PREGNANT), "PROCNT", 46 + 22),
        (TEEN, "FE", 30), (CHILD, "FE", 11), (CHILD, "CA", 550), (CHILD, "ENERC_KCAL", 1360), (CHILD, "NA", 1500),
        (MAN, "NA", 2000), (TEEN, "NA", 2000),
    ],
)  # fmt: skip
def test_values_of_the_table(person: Person, tag: str, value: float) -> None:
    """ICMR-NIN 2020 first (as table `reference_intakes` has it), then FAO/WHO, then the US."""
    assert reference(person, ON)[tag].value == pytest.approx(value)


def test_adult_energy_is_schofield_times_activity() -> None:
    """A man of 35 with 65 kg: (11.472 × 65 + 873.1) × 1.6 kcal; pregnancy adds 350."""
    assert energy_need(MAN, ON).value == pytest.approx((11.472 * 65 + 873.1) * 1.6)
    more = energy_need(expecting(WOMAN, Condition.PREGNANT), ON).value - energy_need(WOMAN, ON).value
    assert more == pytest.approx(350)


@pytest.mark.parametrize("person", EVERYONE)
def test_every_reference_names_its_source_and_how_it_was_seen(person: Person) -> None:
    """Nothing without a source; "from memory" is unverified."""
    for tag, ref in reference(person, ON).items():
        assert ref.tag == tag
        assert ref.source
        assert ref.value > 0
        assert ref.verified == ("memory" not in ref.how)


def test_floors_and_ceilings() -> None:
    """Sodium and free sugars are ceilings, the rest floors; free sugars are a tenth of energy (WHO)."""
    refs = reference(MAN, ON)
    ceilings = {tag for tag, ref in refs.items() if ref.kind is ReferenceKind.CEILING}
    assert ceilings == {"NA", FREE_SUGARS}
    assert refs[FREE_SUGARS].value == pytest.approx(refs["ENERC_KCAL"].value * 0.10 / 4)


def test_low_salt_advice_is_the_clinicians() -> None:
    """The ceiling stays WHO's; the note sends her to her clinician."""
    ref = reference(GRANDMOTHER, ON)["NA"]
    assert ref.value == 2000
    assert "clinician" in ref.note


def test_no_reference_below_one_year() -> None:
    """Infants have none here."""
    assert reference(INFANT, ON) == {}


def test_portions_follow_energy_need() -> None:
    """A child eats less than a grandmother, she less than a man; two average adults eat about two portions."""
    child, gran, man = (portion_factor(p, ON) for p in (CHILD, GRANDMOTHER, MAN))
    assert 0.3 <= child < gran < man <= 1.4
    assert portion_factor(MAN, ON) + portion_factor(WOMAN, ON) == pytest.approx(2, abs=0.1)


@given(st.floats(1, 90), st.floats(3, 120), st.sampled_from(Sex), st.floats(1.2, 2.5))
def test_everybody_has_a_portion(age: float, weight_kg: float, sex: Sex, activity: float) -> None:
    """Any age, weight and activity gives an energy need and a portion within bounds."""
    born = date.fromordinal(ON.toordinal() - int(age * 365.25))
    person = Person("p", "P", sex, born, weight_kg, activity)
    assert energy_need(person, ON).value > 0
    assert 0.3 <= portion_factor(person, ON) <= 1.4


def test_adequacy_is_intake_over_need() -> None:
    """Seven days of 14.5 mg iron are half of what a woman needs, with the spread scaled alike."""
    share = adequacy(WOMAN, {"FE": Amount(7 * 14.5, 7.0)}, 7, on=ON)["FE"]
    assert share.share.mean == pytest.approx(0.5)
    assert share.share.sd == pytest.approx(7 / (29 * 7))
    assert share.short
    assert not share.over


def test_too_much_salt_is_over_and_never_short() -> None:
    """A ceiling can be passed, not missed."""
    found = adequacy(MAN, {"NA": Amount(3 * 2500)}, 3, on=ON)["NA"]
    assert found.over
    assert not found.short
    assert not adequacy(MAN, {"NA": Amount(3 * 1500)}, 3, on=ON)["NA"].short


def test_intake_sums_portions_and_carries_the_unknown() -> None:
    """Two portions of dal and one of unknown greens: means add, and iron is "at least", so not surely short."""
    known, unknown = dish_nutrients(dal()), dish_nutrients(salad(line(UNKNOWN_GREENS, 400)))
    total = intake([(known, 2.0), (unknown, 1.0)])
    assert total["FE"].mean == pytest.approx(2 * known.per_portion["FE"].mean)
    assert total["FE"].at_least
    found = adequacy(WOMAN, total, 1, on=ON)["FE"]
    assert found.share.at_least
    assert not found.short


def test_a_nutrient_without_a_reference_is_left_out() -> None:
    """No share of nothing."""
    assert "CARTB" not in adequacy(MAN, {"CARTB": Amount(100)}, 1, on=ON)


def test_the_probability_of_meeting_a_requirement() -> None:
    """At the recommended intake 97.7 of 100 people have enough; at the mean requirement half; less, if unsure."""
    iron = reference(WOMAN, ON)["FE"]
    sure = adequacy(WOMAN, {"FE": Amount(iron.value)}, 1, on=ON)["FE"]
    assert iron.level == "RDA"
    assert sure.probability == pytest.approx(0.977, abs=0.001)
    middle = adequacy(WOMAN, {"FE": Amount(iron.value / 1.3)}, 1, on=ON)["FE"]
    assert middle.probability == pytest.approx(0.5)
    unsure = adequacy(WOMAN, {"FE": Amount(iron.value, 0.3 * iron.value)}, 1, on=ON)["FE"]
    assert unsure.probability is not None
    assert 0.5 < unsure.probability < 0.977


def test_a_ceiling_has_no_probability_of_being_met() -> None:
    """Sodium is a limit, not a requirement."""
    assert adequacy(MAN, {"NA": Amount(1000)}, 1, on=ON)["NA"].probability is None


def test_another_source_can_be_asked_first() -> None:
    """FAO/WHO's iron for a woman is not ICMR-NIN's."""
    who = reference(WOMAN, ON, sources=("FAO/WHO",))["FE"]
    assert who.source.startswith("FAO/WHO")
    assert who.value != reference(WOMAN, ON)["FE"].value


def test_iron_notes_depend_on_vitamin_c_and_tea() -> None:
    """A sitting with greens and lemon hears that it is well; every remark says where it comes from."""
    plain, rich = salad(line("A015", 100)), salad(line("C033", 1000))
    assert "lemon" in iron_notes([(plain, dish_nutrients(plain))])[0].text
    assert "more of the iron" in iron_notes([(rich, dish_nutrients(rich))])[0].text
    assert all(note.source for note in iron_notes([(plain, dish_nutrients(plain))]))


def test_tea_with_the_meal_hinders_its_iron() -> None:
    """Whatever else is eaten."""
    tea, rich = salad(line("V501", 2)), salad(line("C033", 1000))
    notes = iron_notes([(dish, dish_nutrients(dish)) for dish in (tea, rich)])
    assert [note.effect for note in notes] == ["helped", "hindered"]
