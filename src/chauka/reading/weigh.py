"""What a read line weighs: its amount, pack or remark → grams with their spread, and how they were found.

Nothing is guessed silently. "To taste" becomes a stated range and is marked; an amount that no table
can weigh stays unknown, with the reason.
"""

from __future__ import annotations

from dataclasses import dataclass

from chauka import quantities
from chauka.errors import InputError
from chauka.kitchen.forms import Form
from chauka.quantities import Measures
from chauka.reading.food_form import form_of
from chauka.reading.ingredient import IngredientLine
from chauka.reading.line_grammar import Amount
from chauka.units import Estimate

SALT, WATER = "G528", "K505"

TO_TASTE_G = {SALT: (2.0, 10.0)}
"""What "to taste" means [g] for a dish of about four portions: salt ⅓ to 2 tsp. Common practice, no source."""

_A_LITTLE_G = (0.5, 5.0)
"""Anything else to taste [g]: a pinch to a teaspoon. Common practice, no source."""

LEVELS = {
    "heaped": (1.35, 0.15), "heaping": (1.35, 0.15), "rounded": (1.2, 0.12), "generous": (1.15, 0.1),
    "good": (1.1, 0.1),
    "hefty": (1.2, 0.15), "big": (1.2, 0.15), "large": (1.2, 0.15), "small": (0.8, 0.12), "scant": (0.9, 0.05),
    "packed": (1.3, 0.15), "firmly packed": (1.4, 0.15), "tightly packed": (1.4, 0.15), "lightly packed": (1.1, 0.1),
    "loosely packed": (1.0, 0.1),
}  # fmt: skip
"""How much more a measure holds than a level one, with its spread. Common practice, no source."""

ABSORBED = Estimate(0.2, 0.08)
"""Share of deep-frying oil that ends up in the food: between a tenth and a third. Common practice, no source."""

_UNITS = {
    "tablespoon": ("tbsp", 1.0), "teaspoon": ("tsp", 1.0), "cup": ("cup", 1.0), "katori": ("katori", 1.0),
    "bowl": ("katori", 1.0), "gram": ("g", 1.0), "kilogram": ("kg", 1.0), "milligram": ("g", 0.001),
    "ounce": ("g", 28.349523125), "pound": ("g", 453.59237), "millilitre": ("ml", 1.0), "centilitre": ("ml", 10.0),
    "decilitre": ("ml", 100.0), "litre": ("l", 1.0), "fluid ounce": ("ml", 29.5735), "pint": ("ml", 473.176),
    "quart": ("ml", 946.353), "gallon": ("l", 3.785412), "dessertspoon": ("ml", 10.0), "glass": ("ml", 200.0),
    "ladle": ("ml", 80.0), "shot": ("ml", 44.36), "jigger": ("ml", 44.36), "pinch": ("pinch", 1.0),
    "dash": ("pinch", 1.0),
    "drop": ("ml", 0.05), "splash": ("ml", 5.0), "squeeze": ("ml", 5.0), "drizzle": ("ml", 5.0), "knob": ("g", 20.0),
    "sprinkle": ("pinch", 1.0), "dollop": ("ml", 20.0), "bunch": ("bunch", 1.0), "bundle": ("bunch", 1.0),
    "clove": ("clove", 1.0), "pod": ("clove", 1.0), "inch": ("inch", 1.0), "centimetre": ("inch", 0.3937),
    "sprig": ("sprig", 1.0), "stem": ("sprig", 1.0), "stalk": ("sprig", 1.0), "leaf": ("leaf", 1.0),
    "fistful": ("fistful", 1.0), "handful": ("fistful", 1.0), None: ("piece", 1.0), "piece": ("piece", 1.0),
}  # fmt: skip
"""Units of a written line → units that can be weighed. US customary volumes; a glass of 200 ml, a ladle
of 80 ml and what a splash or a knob is are common practice, no source."""

_ROUGH = {"splash": 0.5, "squeeze": 0.5, "drizzle": 0.5, "knob": 0.4, "dollop": 0.4, "drop": 0.3, "ladle": 0.25,
          "glass": 0.15, "bowl": 0.3, "dash": 0.4, "sprinkle": 0.5}  # fmt: skip
"""Added spread of measures that nobody measures. Common practice, no source."""


_SIZES = {
    "small": "small",
    "medium": "medium",
    "large": "large",
    "big": "large",
    "extra large": "large",
    "jumbo": "large",
}


@dataclass(frozen=True, slots=True)
class LineWeight:
    """Grams of the edible part, None where nothing can tell; `default` marks a stated default range."""

    grams: Estimate | None
    form: Form
    how: str
    default: bool = False
    eaten_share: float = 1.0


def weigh_line(line: IngredientLine, code: str, measures: Measures) -> LineWeight:
    """The weight of a line whose food is known, by the house's own cup and spoons."""
    form = form_of((*line.form, *line.food.split()), code)
    share = ABSORBED.mean if _is_frying(line) else 1.0
    tried: list[str] = []
    for amount, times in _amounts(line):
        try:
            grams, how = _weigh(amount, line, code, form, measures)
        except InputError as error:
            tried.append(str(error))
            continue
        return LineWeight(grams * times, form, how, eaten_share=share)
    if line.low is None:
        if not (line.to_taste or line.as_required or code == SALT):
            return LineWeight(None, form, "no amount is stated")
        low, high = TO_TASTE_G.get(code, _A_LITTLE_G)
        return LineWeight(
            _evenly(low, high), form, "to taste: a default range, common practice, no source", default=True
        )
    return LineWeight(None, form, "; ".join(tried) or "no table gives the weight of this measure")


def _is_frying(line: IngredientLine) -> bool:
    said = f"{line.purpose or ''} {line.food}"
    return "deep" in said or ("for frying" in said and "shallow" not in said)


def _amounts(line: IngredientLine) -> list[tuple[Amount, float]]:
    """The ways the line says its amount, a weight first, each with how many times it counts."""
    said = Amount(line.low, line.high, line.unit, size=line.size)
    level = line.form[0] if line.form and line.form[0] in LEVELS else None
    said.level = level
    ways = [(said, 1.0), *((also, 1.0) for also in line.also)]
    if line.pack and line.low is not None and line.high is not None:
        ways.insert(0, (line.pack, (line.low + line.high) / 2))
    weights = {"gram", "kilogram", "ounce", "pound"}
    return sorted((w for w in ways if w[0].low is not None), key=lambda w: w[0].unit not in weights)


def _weigh(amount: Amount, line: IngredientLine, code: str, form: Form, measures: Measures) -> tuple[Estimate, str]:
    low, high = amount.low or 0.0, amount.high or amount.low or 0.0
    if amount.unit == "spoon":
        return _a_spoon(low, high, code, form, measures)
    if amount.unit not in _UNITS:
        raise InputError({"amount": (f"no table says what a {amount.unit} of {line.food} weighs; weigh it once",)})
    unit, factor = _UNITS[amount.unit]
    size = _SIZES.get(amount.size or "", "") if unit == "piece" else ""
    text = (
        f"{low * factor:.6g}-{high * factor:.6g} {size or unit}" if high > low else f"{low * factor:.6g} {size or unit}"
    )
    weighed = quantities.weigh(text, code, str(form), measures)
    grams, how = weighed.grams, weighed.how
    if amount.level in LEVELS and unit not in ("g", "kg"):
        more, sd = LEVELS[amount.level]
        grams, how = grams * Estimate(more, sd), f"{how}; {amount.level} counts {more:g}: common practice, no source"
    if amount.unit in _ROUGH:
        grams = grams * Estimate(1.0, _ROUGH[amount.unit])
    return grams, how


def _a_spoon(low: float, high: float, code: str, form: Form, measures: Measures) -> tuple[Estimate, str]:
    """A spoon is a tea- or a tablespoon: anything between, and it says so."""
    small = quantities.grams(f"{low:.6g} tsp", code, str(form), measures).mean
    large = quantities.grams(f"{high:.6g} tbsp", code, str(form), measures).mean
    return _evenly(small, large), "a teaspoon or a tablespoon: not stated which"


def _evenly(low: float, high: float) -> Estimate:
    return Estimate((low + high) / 2, (high - low) / 12**0.5)
