"""A few household weights that can be held in the head."""

from chauka.kitchen import Measures
from chauka.quantities import weights_from

FLOUR, ONION, CORIANDER, SPINACH, NOTHING = "X1", "X2", "X3", "X4", "X9"
HOUSE = Measures(cup_ml=240, katori_ml=150, tablespoon_ml=15, teaspoon_ml=5)


def _row(code: str, form: str, measure: str, ml: str, *grams_and_sd: str) -> dict[str, str]:
    return {
        "food_code": code, "form": form, "measure": measure, "ml": ml, "grams": grams_and_sd[0],
        "sd_g": grams_and_sd[1] if len(grams_and_sd) > 1 else "",
        "source": "made up for this test", "how": "made up",
    }  # fmt: skip


WEIGHTS = weights_from(
    [
        _row(FLOUR, "dry", "cup", "240", "120", "6"),
        _row(ONION, "", "medium", "", "80", "16"),
        _row(ONION, "", "large", "", "140", "28"),
        _row(ONION, "chopped", "cup", "240", "150", "15"),
        _row(CORIANDER, "", "bunch", "", "100"),
        _row(CORIANDER, "", "sprig", "", "2"),
        _row(SPINACH, "picked", "cup", "240", "30"),
        _row(SPINACH, "chopped", "cup", "240", "60"),
    ]
)
