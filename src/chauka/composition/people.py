"""What a person needs a day: published reference intakes, energy by body weight, ceilings.

Ceilings are sodium and free sugars. Upper levels of vitamins and minerals: no source at hand, so none is given.

Population reference values, never medical advice.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date
from enum import StrEnum
from functools import cache
from types import MappingProxyType

from chauka import tables
from chauka.composition.matrix import FREE_SUGARS
from chauka.kitchen import Condition, Person, Sex

SOURCES = ("ICMR-NIN", "WHO", "FAO/WHO", "DGA", "Dietary Guidelines", "NASEM", "IOM")
"""Sources in order of preference, by how their names begin: India first, then FAO and WHO, then the US."""

_FLOORS = frozenset({"RDA", "RNI", "AI", "EER", "floor", "14 g/1000 kcal"})
_CEILINGS = frozenset({"ceiling", "CDRR ceiling"})
_INCREMENT = "RDA increment"
_FOR_OTHER_DIETS = frozenset({"15pct bioavailability", "5pct bioavailability", "moderate"})
"""Rows for other diets than one of many plants, of which a tenth of the iron and little of the zinc is absorbed."""
_ADULT_YEARS = 18.0
_KCAL_PER_G_SUGAR = 4.0  # general Atwater factor of carbohydrate


class ReferenceKind(StrEnum):
    """Whether a reference is to be reached or not to be passed."""

    FLOOR = "at least"
    CEILING = "at most"


@dataclass(frozen=True, slots=True)
class Reference:
    """So much of a nutrient a day, in its own unit.

    `how` says how the figure was seen; where it is from memory it is `verified` False and must be
    shown as unverified. `note` is for the reader; `level` is the source's word (RDA, RNI, AI, ceiling).
    """

    tag: str
    kind: ReferenceKind
    value: float
    unit: str
    source: str
    how: str
    note: str = ""
    level: str = ""

    @property
    def verified(self) -> bool:
        """Whether somebody saw the figure in a copy of the source."""
        return "memory" not in self.how


def reference(person: Person, on: date, sources: Sequence[str] = SOURCES) -> Mapping[str, Reference]:
    """The reference intakes of a person on a day, by nutrient tag; empty below one year of age.

    For each nutrient the first source that has a row for the age, the sex and the state. In
    pregnancy and lactation the row of that state counts, and increments are added to the plain row:
    the highest one where there are several, since the book does not say which month it is. `sources`
    are the beginnings of the sources' names in order of preference; a source left out is not used.
    """
    age = person.age_years(on)
    if age < 1:
        return MappingProxyType({})
    found = {tag: ref for tag in _tags() if (ref := _by_source(person, age, tag, sources)) is not None}
    if age < _ADULT_YEARS and "NA" in found:
        found["NA"] = _no_more_than_an_adult(found["NA"])
    energy = energy_need(person, on)
    found["ENERC_KCAL"] = energy
    found[FREE_SUGARS] = _sugar_ceiling(energy)
    if Condition.LOW_SALT in person.conditions and "NA" in found:
        found["NA"] = _with_note(found["NA"], "low-salt advice: ask your clinician for your own limit")
    return MappingProxyType(found)


def energy_need(person: Person, on: date) -> Reference:
    """Energy a day [kcal]: for adults basal metabolic rate by Schofield × activity; children by age and sex.

    Pregnancy and lactation add their increment. ICMR-NIN 2020 takes an adult's basal rate about a
    tenth lower; FAO/WHO/UNU 2004 is followed here.
    """
    age = person.age_years(on)
    child = _by_source(person, age, "ENERC_KCAL") if 1 <= age < _ADULT_YEARS else None
    if child is not None:
        return child
    row = _bmr_row(person.sex, age)
    basal = float(row["a_kcal_per_kg"]) * person.weight_kg + float(row["b_kcal"])
    extra, source, how = 0.0, row["source"], row["how"]
    for more in _increments(person, "ENERC_KCAL"):
        extra = max(extra, float(more["value"]))
        source, how = f"{row['source']}; increment: {more['source']}", f"{row['how']}; increment {more['how']}"
    note = f"basal {basal:.0f} kcal × {person.activity:g}" + (f" + {extra:.0f} kcal" if extra else "")
    return Reference("ENERC_KCAL", ReferenceKind.FLOOR, basal * person.activity + extra, "kcal", source, how, note)


REFERENCE_ADULT_KCAL = 2300.0
"""What one adult portion of everything adds up to a day [kcal]: about the mean of a man of 65 kg and a woman of
55 kg, 30 to 60 years old, at an activity of 1.6 by Schofield (2,590 and 2,070 kcal)."""

_LEAST_PORTION, _MOST_PORTION = 0.3, 1.4


def portion_factor(person: Person, on: date) -> float:
    """A person's share of an adult portion, by energy need; between 0.3 and 1.4."""
    return min(_MOST_PORTION, max(_LEAST_PORTION, energy_need(person, on).value / REFERENCE_ADULT_KCAL))


def _sugar_ceiling(energy: Reference) -> Reference:
    """WHO: free sugars below 10 % of energy."""
    row = next(r for r in tables.rows("reference_intakes") if r["nutrient"] == "free_sugars")
    grams = float(row["value"]) / 100 * energy.value / _KCAL_PER_G_SUGAR
    note = f"{row['value']} % of {energy.value:.0f} kcal; {row['note']}"
    return Reference(FREE_SUGARS, ReferenceKind.CEILING, grams, "g", row["source"], row["how"], note)


def _no_more_than_an_adult(child: Reference) -> Reference:
    """WHO lowers a child's sodium ceiling from the adult's; a national figure above the adult's is cut to it."""
    adult = next(r for r in _rows("NA") if r["source"].startswith("WHO"))
    if child.value <= float(adult["value"]):
        return child
    return Reference(
        "NA", ReferenceKind.CEILING, float(adult["value"]), "mg", adult["source"], adult["how"], "as adults"
    )


@cache
def _tags() -> tuple[str, ...]:
    return tuple(
        dict.fromkeys(r["tag"] for r in tables.rows("reference_intakes") if r["tag"] not in ("", "ENERC_KCAL"))
    )


@cache
def _rows(tag: str) -> tuple[Mapping[str, str], ...]:
    rows = tables.rows("reference_intakes")
    return tuple(r for r in rows if r["tag"] == tag and r["note"] not in _FOR_OTHER_DIETS)


def _by_source(person: Person, age: float, tag: str, sources: Sequence[str] = SOURCES) -> Reference | None:
    rows = [r for r in _rows(tag) if _fits(r, person, age) and r["kind"] in _FLOORS | _CEILINGS]
    for start in sources:
        here = [r for r in rows if r["source"].startswith(start)]
        if here:
            best = min(here, key=lambda r: (not _is_state(r, person), r["kind"] in _CEILINGS))
            return _reference(best, person, tag)
    return None


def _reference(row: Mapping[str, str], person: Person, tag: str) -> Reference:
    kind = ReferenceKind.CEILING if row["kind"] in _CEILINGS else ReferenceKind.FLOOR
    value, how, note = float(row["value"]), row["how"], row["note"]
    more = [] if _is_state(row, person) else list(_increments(person, tag))
    if more and kind is ReferenceKind.FLOOR:
        most = max(more, key=lambda r: float(r["value"]))
        value += float(most["value"])
        how = how if how == most["how"] else f"{how}; increment {most['how']}"
        note = f"{note}; ".lstrip("; ") + f"with {most['value']} for {most['state']}"
    return Reference(tag, kind, value, row["unit"].split()[0], row["source"], how, note, row["kind"])


def _increments(person: Person, tag: str) -> Iterable[Mapping[str, str]]:
    return (r for r in _rows(tag) if r["kind"] == _INCREMENT and _is_state(r, person))


def _fits(row: Mapping[str, str], person: Person, age: float) -> bool:
    low, high = _ages(row["age"])
    return low <= age < high and row["sex"] in ("both", person.sex) and _state_fits(row["state"], person)


def _state_fits(state: str, person: Person) -> bool:
    if state in ("", _activity_word(person.activity)):
        return True
    # Rows for other nutrients than energy exist only for the sedentary; they hold for everyone.
    return state == "sedentary" or any(state.startswith(s) for s in _states(person))


def _is_state(row: Mapping[str, str], person: Person) -> bool:
    """Whether the row was made for the person's own state."""
    own = {_activity_word(person.activity)} if not _states(person) else set[str]()
    return row["state"] in own or any(row["state"].startswith(s) for s in _states(person))


def _states(person: Person) -> tuple[str, ...]:
    return tuple(
        word
        for word, condition in (("pregnant", Condition.PREGNANT), ("lactating", Condition.LACTATING))
        if condition in person.conditions
    )


def _activity_word(activity: float) -> str:
    """As FAO/WHO/UNU 2004 parts activity levels: below 1.7, below 2.0, above."""
    return "sedentary" if activity < 1.7 else "moderate" if activity < 2.0 else "heavy"


@cache
def _ages(text: str) -> tuple[float, float]:
    """ "4-6 y" → 4 up to the seventh birthday; "51+ y", "adult", "all" are open."""
    if text == "all":
        return 0.0, 200.0
    if text == "adult":
        return _ADULT_YEARS, 200.0
    numbers = [float(n) for n in re.findall(r"\d+", text)]
    return (numbers[0], 200.0) if "+" in text else (numbers[0], numbers[1] + 1)


def _bmr_row(sex: Sex, age: float) -> Mapping[str, str]:
    for row in tables.rows("bmr"):
        if row["sex"] == sex and "Schofield" in row["source"]:
            bounds = [float(n) for n in re.findall(r"\d+", row["age"])]
            if bounds[0] <= age < (bounds[1] if len(bounds) > 1 else 200.0):
                return row
    raise AssertionError(f"no basal rate for {sex} of {age:.1f} years")


def _with_note(ref: Reference, note: str) -> Reference:
    joined = f"{ref.note}; {note}".lstrip("; ")
    return replace(ref, note=joined)
