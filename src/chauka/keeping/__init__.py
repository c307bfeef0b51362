"""How long: produce by form and temperature, the store cupboard, cooked dishes; always with the reason."""

from chauka.keeping.boiling import boil_longer, boiling_point_c, pressure_cook_longer
from chauka.keeping.caps import at_risk
from chauka.keeping.caution import Caution, cautions
from chauka.keeping.cooling import CoolingAdvice, cooling_advice
from chauka.keeping.learning import HouseFactor, Seen, house_factor
from chauka.keeping.life import Life, UseBy, last_day
from chauka.keeping.of_dish import dish_life
from chauka.keeping.of_food import food_life
from chauka.keeping.of_lot import lot_use_by
from chauka.keeping.preserve import PreserveAdvice, Stand, preserve_advice
from chauka.keeping.rate import Stay, days_left, fraction_consumed, relative_rate

__all__ = [
    "Caution", "CoolingAdvice", "HouseFactor", "Life", "PreserveAdvice", "Seen", "Stand", "Stay", "UseBy", "at_risk",
    "boil_longer", "boiling_point_c", "cautions", "cooling_advice", "days_left", "dish_life", "food_life",
    "fraction_consumed", "house_factor", "last_day", "lot_use_by", "preserve_advice", "pressure_cook_longer",
    "relative_rate",
]  # fmt: skip
