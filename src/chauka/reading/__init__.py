"""Written dishes and spoken narrations → drafts, with the questions that a careful editor would ask."""

from chauka.reading.draft import Asks, Draft, DraftLine, DraftStep, Question, Withdrawn
from chauka.reading.foods import Candidate, FoodMatch, match_food
from chauka.reading.ingredient import IngredientLine, OtherFood, as_json, read_line
from chauka.reading.narration import read_narration
from chauka.reading.weigh import LineWeight, weigh_line

__all__ = [
    "Asks", "Candidate", "Draft", "DraftLine", "DraftStep", "FoodMatch", "IngredientLine", "LineWeight", "OtherFood",
    "Question", "Withdrawn", "as_json", "match_food", "read_line", "read_narration", "weigh_line",
]  # fmt: skip
