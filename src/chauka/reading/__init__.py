"""Written dishes and spoken narrations → drafts, with the questions that a careful editor would ask."""

from chauka.reading.foods import Candidate, FoodMatch, match_food
from chauka.reading.ingredient import IngredientLine, OtherFood, as_json, read_line
from chauka.reading.weigh import LineWeight, weigh_line

__all__ = [
    "Candidate", "FoodMatch", "IngredientLine", "LineWeight", "OtherFood", "as_json", "match_food", "read_line",
    "weigh_line",
]  # fmt: skip
