"""Written dishes and spoken narrations → drafts, with the questions that a careful editor would ask.

So far: ingredient lines.
"""

from chauka.reading.ingredient import IngredientLine, OtherFood, as_json, read_line

__all__ = ["IngredientLine", "OtherFood", "as_json", "read_line"]
