"""Written dishes and spoken narrations → drafts, with the questions that a careful editor would ask."""

from chauka.reading.any_text import read_dish
from chauka.reading.as_dish import amount_text, as_dish
from chauka.reading.draft import Asks, Draft, DraftLine, DraftStep, Question, Withdrawn
from chauka.reading.draft_json import draft_as_json
from chauka.reading.foods import Candidate, FoodMatch, match_food
from chauka.reading.ingredient import IngredientLine, OtherFood, as_json, read_line
from chauka.reading.narration import read_narration
from chauka.reading.one_step import read_steps
from chauka.reading.page import read_page
from chauka.reading.proof import Fault, Finding, proofread
from chauka.reading.recipe import read_recipe
from chauka.reading.weigh import LineWeight, weigh_line

__all__ = [
    "Asks", "Candidate", "Draft", "DraftLine", "DraftStep", "Fault", "Finding", "FoodMatch", "IngredientLine",
    "LineWeight", "OtherFood", "Question", "Withdrawn", "amount_text", "as_dish", "as_json", "draft_as_json",
    "match_food", "proofread", "read_dish", "read_line", "read_narration", "read_page", "read_recipe", "read_steps",
    "weigh_line",
]  # fmt: skip
