"""Proofreading a dish before others cook from it: what is missing or odd, each with a suggested mend."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from chauka import tables
from chauka.errors import DataError, InputError
from chauka.kitchen import Dish, House, Line, Technique
from chauka.quantities import Unit, read_amount
from chauka.quantities.weights import density, household_weights
from chauka.reading.food_words import singular
from chauka.reading.foods import match_food
from chauka.reading.mentions import mentions_in
from chauka.reading.speech import tokenize


class Fault(StrEnum):
    """What kind of fault a finding is."""

    UNUSED = "unused line"
    UNLISTED = "food not listed"
    MISSING = "missing"
    AMOUNT = "amount"
    SPOON = "spoon"
    ALLERGEN = "allergen"
    CUP = "cup"


@dataclass(frozen=True, slots=True)
class Finding:
    """One fault: where it is (the id of a line or step, or a field), what is wrong, and a mend."""

    fault: Fault
    where: str
    text: str
    mend: str


USUAL_G = {
    "salt": (0.05, 4.0), "fat": (0.5, 35.0), "sugar": (0.0, 60.0), "chilli": (0.0, 4.0), "hing": (0.0, 0.3),
    "turmeric": (0.05, 1.5), "spice": (0.02, 6.0), "raising": (0.05, 3.0), "herb": (0.05, 40.0),
    "grain": (0.5, 150.0), "pulse": (0.3, 120.0),
    "vegetable": (2.0, 400.0),
}  # fmt: skip
"""Usual grams of a portion, lowest and highest. Common practice, no source."""

_KINDS = {"G528": "salt", "G540": "salt", "G516": "chilli", "G019": "hing", "G033": "turmeric",
    "K500": "raising", "K501": "raising",
          "I502": "sugar", "I503": "sugar", "I504": "sugar", "I001": "sugar"}  # fmt: skip
_GROUPS = {
    "Edible Oils and Fats": "fat", "Condiments and Spices": "spice", "Cereals and Millets": "grain",
    "Grain Legumes": "pulse",
    "Other Vegetables": "vegetable", "Green Leafy Vegetables": "vegetable", "Roots and Tubers": "vegetable",
}  # fmt: skip
_FRESH = frozenset({"G009", "G011", "G012", "G014", "G016", "G017", "G018", "G008", "G546", "G547"})
_FREE_OF = {"vegan": ("milk", "egg"), "dairy-free": ("milk",), "gluten-free": ("gluten",), "nut-free": ("nuts",
    "peanuts"),
            "egg-free": ("egg",), "no milk": ("milk",), "no gluten": ("gluten",), "no nuts": ("nuts",
            "peanuts")}  # fmt: skip
_INSTANT = frozenset({Technique.ASSEMBLE, Technique.MIX})


def proofread(dish: Dish, house: House | None = None) -> tuple[Finding, ...]:
    """Everything that a careful editor would mend, in the order lines, steps, whole dish."""
    return (
        *_unused(dish), *_unlisted(dish), *_amounts(dish), *_cups(dish, house), *_missing(dish), *_allergens(dish),
    )  # fmt: skip


def _unused(dish: Dish) -> Iterator[Finding]:
    used = {i for step in dish.steps for i in step.lines}
    for line in dish.lines:
        if line.id not in used:
            text = f"{line.said} is listed, and no step uses it"
            yield Finding(
                Fault.UNUSED, line.id, text, f"name {line.said} in the step where it goes in, or strike the line"
            )


def _unlisted(dish: Dish) -> Iterator[Finding]:
    """Foods that a step's text names and no line has."""
    listed = {singular(t.low) for line in dish.lines for t in tokenize(f"{line.said} {line.id} {line.part}")}
    subs = {sub.food for line in dish.lines for sub in line.substitutes}
    seen = {singular(t.low) for t in tokenize(dish.name)}
    for step in dish.steps:
        for mention in mentions_in(tokenize(step.text), ()):
            match = match_food(" ".join(mention.key))
            codes = {c.code for c in match.candidates if c.score > 0.7}
            known = mention.key[-1] in listed | seen or mention.key[0] in listed | seen or codes & (dish.foods | subs)
            if not known and match.sure and mention.key[-1] != "water":
                text = f"the step uses {mention.said}, which no line lists"
                yield Finding(
                    Fault.UNLISTED,
                    step.id,
                    text,
                    f"add a line for {mention.said} with its amount, or leave it out of the step",
                )


# --- amounts --------------------------------------------------------------------------------------


def kind_of(food: str) -> str | None:
    """The kind by which a food has a usual range; None where it has none."""
    if food in _KINDS:
        return _KINDS[food]
    try:
        group = tables.food(food).group
    except DataError:
        return None
    return "herb" if food in _FRESH else _GROUPS.get(group)


def _amounts(dish: Dish) -> Iterator[Finding]:
    for line in dish.lines:
        kind = kind_of(line.food)
        if kind is None or line.to_taste or line.eaten_share < 1:
            continue
        low, high = USUAL_G[kind]
        grams = line.grams.mean / dish.portions
        if low <= grams <= high:
            continue
        spoon = _other_spoon(line, dish.portions, low, high)
        if spoon:
            wrong, right = spoon
            text = f"{line.amount} of {line.said} is {grams:.2g} g a portion; usual is {low:g} to {high:g} g"
            yield Finding(Fault.SPOON, line.id, text, f"{right} for {wrong}? Then it is in the usual range")
        else:
            what = "more" if grams > high else "less"
            each = f"{grams:.2g} g a portion, {what} than the usual {low:g} to {high:g} g"
            text = f"{line.grams.mean:.3g} g of {line.said} is {each}"
            yield Finding(Fault.AMOUNT, line.id, text, "check the amount, its unit, and the number of portions")


def _other_spoon(line: Line, portions: float, low: float, high: float) -> tuple[str, str] | None:
    """Which spoon was written and which would be usual, where that would put it right."""
    try:
        units = {part.unit for part in read_amount(line.amount)}
    except InputError:
        return None
    for unit, factor, right in ((Unit.TABLESPOON, 1 / 3, "teaspoon"), (Unit.TEASPOON, 3.0, "tablespoon")):
        if units == {unit} and low <= line.grams.mean * factor / portions <= high:
            return ("tablespoon" if unit is Unit.TABLESPOON else "teaspoon"), right
    return None


def _cups(dish: Dish, house: House | None) -> Iterator[Finding]:
    """Cups and bowls whose weight is a guess: no table weighs this food by the cup."""
    cup = f"{house.measures.cup_ml:g} ml" if house else "your own"
    for line in dish.lines:
        try:
            units = {part.unit for part in read_amount(line.amount)}
        except InputError:
            continue
        known = density(household_weights().get(line.food, ()), str(line.form)) is not None
        if units & {Unit.CUP, Unit.KATORI} and (not known or line.grams.cv > 0.25):
            text = (
                f"{line.amount} of {line.said} is weighed only roughly ({line.grams.mean:.0f} ± {line.grams.sd:.0f} g)"
            )
            yield Finding(Fault.CUP, line.id, text, f"weigh it once with the cup ({cup}) and write the grams beside it")


# --- the whole dish -------------------------------------------------------------------------------


def _missing(dish: Dish) -> Iterator[Finding]:
    for step in dish.steps:
        if step.minutes.high == 0 and step.technique not in _INSTANT:
            text = f"{step.text[:50]!r} has no minutes"
            yield Finding(Fault.MISSING, step.id, text, "say how long it takes, from–to, or what to look for")
    if not dish.steps:
        yield Finding(Fault.MISSING, "steps", "there is no method", "write the steps in order")
    if dish.yield_g is None:
        yield Finding(
            Fault.MISSING, "yield_g", "nobody has weighed what comes out", "weigh the pot before and after, once"
        )
    if dish.kept is None:
        yield Finding(
            Fault.MISSING,
            "kept",
            "it is not said how long it keeps",
            "say where and how many days, and whose word that is",
        )


def _allergens(dish: Dish) -> Iterator[Finding]:
    """Claims that a line belies, and allergens that a reader would not guess from the list."""
    said = " ".join((*dish.cautions, *dish.tags, dish.story)).lower()
    for line in dish.lines:
        inside = tables.allergens(line.food)
        for tag in dish.tags:
            for allergen in set(_FREE_OF.get(tag.lower(), ())) & inside:
                text = f"the dish is called {tag}, and {line.said} contains {allergen}"
                yield Finding(Fault.ALLERGEN, line.id, text, f"take {tag!r} off, or use another food for {line.said}")
        for allergen in inside:
            if line.food in _HIDDEN and allergen not in said:
                text = f"{line.said} usually contains {allergen}, which a reader would not guess"
                yield Finding(
                    Fault.ALLERGEN,
                    line.id,
                    text,
                    f"declare {allergen} in the cautions, or name a {line.said} free of it",
                )


_HIDDEN = frozenset({"G019", "X501", "X507", "G520", "G515", "K500", "G541", "L507", "X515"})
"""Foods in which an allergen is not plain from the name: compounded asafoetida, sauces, curry powders."""
