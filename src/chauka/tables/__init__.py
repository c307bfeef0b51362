"""Published figures: one CSV per source and edition, one card that says where it comes from."""

from chauka.tables.cards import Card, card, cards, rows
from chauka.tables.facts import allergens, edible_fraction, edible_source, possible_allergens, traits
from chauka.tables.foods import COMPOSITION_TABLES, Food, Value, ValueStatus, find_foods, food, foods
from chauka.tables.nutrients import NUTRIENTS, Nutrient

__all__ = [
    "COMPOSITION_TABLES", "NUTRIENTS", "Card", "Food", "Nutrient", "Value", "ValueStatus", "allergens", "card",
    "cards", "edible_fraction", "edible_source", "find_foods", "food", "foods", "possible_allergens", "rows",
    "traits",
]  # fmt: skip
