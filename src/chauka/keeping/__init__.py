"""How long: produce by form and temperature, the store cupboard, cooked dishes; always with the reason."""

from chauka.keeping.boiling import boil_longer, boiling_point_c, pressure_cook_longer
from chauka.keeping.boxes import Box, Need, needs_of, split_bunch, split_lot
from chauka.keeping.buying import BuyingAdvice, buy_at_most
from chauka.keeping.caps import at_risk
from chauka.keeping.caution import Caution, cautions, food_cautions, lot_cautions
from chauka.keeping.cooling import CoolingAdvice, CoolingVerdict, cooling_advice, judge_cooling
from chauka.keeping.freezing import FreezingAdvice, ThawAdvice, freezing_advice, thaw_advice
from chauka.keeping.heating import AltitudeAdvice, altitude_advice, minutes_to_heat
from chauka.keeping.learning import HouseFactor, Seen, house_factor
from chauka.keeping.life import Life, UseBy, last_day
from chauka.keeping.neighbours import Neighbours, beside, ethylene_neighbours
from chauka.keeping.of_dish import dish_life
from chauka.keeping.of_food import MARKET_AGE_DAYS, food_life, is_fresh, temperature_c
from chauka.keeping.of_lot import lot_use_by, moved
from chauka.keeping.preserve import PreserveAdvice, Stand, preserve_advice
from chauka.keeping.rate import Stay, days_left, fraction_consumed, relative_rate
from chauka.keeping.standing import Standing, Work, standing

__all__ = [
    "MARKET_AGE_DAYS",
    "AltitudeAdvice",
    "Box",
    "BuyingAdvice",
    "Caution",
    "CoolingAdvice",
    "CoolingVerdict",
    "FreezingAdvice",
    "HouseFactor",
    "Life",
    "Need",
    "Neighbours",
    "PreserveAdvice",
    "Seen",
    "Stand",
    "Standing",
    "Stay",
    "ThawAdvice",
    "UseBy",
    "Work",
    "altitude_advice",
    "at_risk",
    "beside",
    "boil_longer",
    "boiling_point_c",
    "buy_at_most",
    "cautions",
    "cooling_advice",
    "days_left",
    "dish_life",
    "ethylene_neighbours",
    "food_cautions",
    "food_life",
    "fraction_consumed",
    "freezing_advice",
    "house_factor",
    "is_fresh",
    "judge_cooling",
    "last_day",
    "lot_cautions",
    "lot_use_by",
    "minutes_to_heat",
    "moved",
    "needs_of",
    "preserve_advice",
    "pressure_cook_longer",
    "relative_rate",
    "split_bunch",
    "split_lot",
    "standing",
    "temperature_c",
    "thaw_advice",
]  # fmt: skip
