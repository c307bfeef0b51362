"""An amount in a cook's words → grams with their spread, and back to the measures she takes."""

from chauka.quantities.amount import Amount, read_amount, say
from chauka.quantities.convert import Weighed, grams, purchased_grams, weigh
from chauka.quantities.show import grams_text, show
from chauka.quantities.units import Measures, Size, Unit, volume_ml
from chauka.quantities.weights import Weight, Weights, household_weights, weights_from

__all__ = [
    "Amount", "Measures", "Size", "Unit", "Weighed", "Weight", "Weights", "grams", "grams_text", "household_weights",
    "purchased_grams", "read_amount", "say", "show", "volume_ml", "weigh", "weights_from",
]  # fmt: skip
