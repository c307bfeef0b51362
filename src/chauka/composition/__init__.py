"""What is in a dish, how sure that is, and what the people who eat it need."""

from chauka.composition.adequacy import Adequacy, adequacy, intake
from chauka.composition.allergens import ALLERGENS, Regime, declared_allergens, diet_flags, dish_allergens, dish_traits
from chauka.composition.amount import NOTHING, Amount
from chauka.composition.batch import Many, many
from chauka.composition.dish import DishNutrients, cooked_amount, dish_nutrients
from chauka.composition.explain import Doubt, WhyRow, doubt, why
from chauka.composition.iron import IronEffect, IronNote, iron_notes
from chauka.composition.labels import LabelRow, Rule, label
from chauka.composition.learned import CookedGroup, CookedWay, Factors
from chauka.composition.matrix import FREE_SUGARS, everyday_tags
from chauka.composition.people import Reference, ReferenceKind, energy_need, portion_factor, reference
from chauka.composition.weight import Weighed, WeightBasis, yield_by_solids

__all__ = [
    "ALLERGENS", "FREE_SUGARS", "NOTHING", "Adequacy", "Amount", "CookedGroup", "CookedWay", "DishNutrients", "Doubt",
    "Factors", "IronEffect", "IronNote", "LabelRow", "Many", "Reference", "ReferenceKind", "Regime", "Rule", "Weighed",
    "WeightBasis", "WhyRow", "adequacy", "cooked_amount", "declared_allergens", "diet_flags", "dish_allergens",
    "dish_nutrients", "dish_traits", "doubt", "energy_need", "everyday_tags", "intake", "iron_notes", "label", "many",
    "portion_factor", "reference", "why", "yield_by_solids",
]  # fmt: skip
