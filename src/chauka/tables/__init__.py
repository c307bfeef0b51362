"""Published figures: one CSV per source and edition, one card that says where it comes from."""

from chauka.tables.cards import Card, card, cards, rows
from chauka.tables.foods import Food, Value, ValueStatus, find_foods, food, foods
from chauka.tables.nutrients import NUTRIENTS, Nutrient

__all__ = [
    "NUTRIENTS", "Card", "Food", "Nutrient", "Value", "ValueStatus", "card", "cards", "find_foods", "food", "foods",
    "rows",
]  # fmt: skip
