"""How a food is at a moment, where it stands, and with what it is worked: the kitchen's closed word lists."""

from __future__ import annotations

from enum import StrEnum


class Form(StrEnum):
    """How a food is at that moment."""

    WHOLE = "whole"  # as bought, unwashed
    PICKED = "picked"  # leaves off stalks, roots and tops off, dry
    WASHED = "washed"
    PEELED = "peeled"
    CUT = "cut"  # pieces larger than a fingertip
    CHOPPED = "chopped"  # fine: chopped, shredded, sliced thin
    GRATED = "grated"
    GROUND = "ground"  # paste, purée, powder made at home
    SOAKED = "soaked"
    SPROUTED = "sprouted"
    BLANCHED = "blanched"
    BOILED = "boiled"
    COOKED = "cooked"  # any other cooked state, and every finished dish
    DRY = "dry"  # shelf-dry: grain, flour, dal, spice, sugar, salt
    LIQUID = "liquid"
    SET = "set"  # curd, paneer
    FROZEN = "frozen"


class Place(StrEnum):
    """Where a lot stands."""

    COUNTER = "counter"
    CUPBOARD = "cupboard"
    FRIDGE = "fridge"
    FREEZER = "freezer"


class Technique(StrEnum):
    """What a step does to the food."""

    PICK = "pick"
    WASH = "wash"
    PEEL = "peel"
    CUT = "cut"
    GRATE = "grate"
    GRIND = "grind"
    MIX = "mix"
    KNEAD = "knead"
    SOAK = "soak"
    SPROUT = "sprout"
    SET = "set"
    REST = "rest"
    COOL = "cool"
    BLANCH = "blanch"
    BOIL = "boil"
    PRESSURE_COOK = "pressure-cook"
    STEAM = "steam"
    SIMMER = "simmer"
    ROAST = "roast"  # dry heat in a pan
    SAUTE = "saute"
    SHALLOW_FRY = "shallow-fry"
    DEEP_FRY = "deep-fry"
    TEMPER = "temper"  # spices bloomed in hot fat, poured at once
    GRIDDLE = "griddle"
    BAKE = "bake"
    PRESS = "press"
    ASSEMBLE = "assemble"

    @property
    def cooks(self) -> bool:
        """Whether heat changes the food's nutrients."""
        return self in _COOKING


_COOKING = frozenset(
    {
        Technique.BLANCH, Technique.BOIL, Technique.PRESSURE_COOK, Technique.STEAM, Technique.SIMMER,
        Technique.ROAST, Technique.SAUTE, Technique.SHALLOW_FRY, Technique.DEEP_FRY, Technique.TEMPER,
        Technique.GRIDDLE, Technique.BAKE,
    }
)  # fmt: skip


class Attention(StrEnum):
    """How much of a cook a step takes."""

    HANDS_ON = "hands-on"
    NOW_AND_THEN = "now-and-then"
    HANDS_OFF = "hands-off"


class Heat(StrEnum):
    """The flame under a vessel."""

    NONE = "none"
    LOW = "low"
    MEDIUM = "medium"
    HIGH = "high"


class Vessel(StrEnum):
    """A kind of vessel or tool that one step holds at a time."""

    PRESSURE_COOKER = "pressure cooker"
    WOK = "wok"
    GRIDDLE = "griddle"
    POT = "pot"
    SAUCEPAN = "saucepan"
    LADLE = "tempering ladle"
    STEAMER = "steamer"
    GRINDER = "grinder"
    OVEN = "oven"
    BOWL = "bowl"
    BOX = "box"


class Meal(StrEnum):
    """The sittings of a day, in order."""

    BREAKFAST = "breakfast"
    LUNCH = "lunch"
    DINNER = "dinner"

    @property
    def order(self) -> int:
        """0 for breakfast, 1 for lunch, 2 for dinner."""
        return list(Meal).index(self)


class Course(StrEnum):
    """The part that a dish plays in a sitting."""

    BREAKFAST = "breakfast"
    PULSE = "pulse"  # dal, gram and bean dishes, yoghurt gravies
    VEGETABLE = "vegetable"
    GRAIN = "grain"  # flatbread, rice
    ONE_POT = "one-pot"  # a whole meal: counts as pulse, vegetable and grain
    SOUP = "soup"
    SIDE = "side"  # chutney, salad, raita: small, often made ahead
    SWEET = "sweet"
    DRINK = "drink"


class Served(StrEnum):
    """How a dish comes to the table."""

    HOT = "hot"
    WARM = "warm"
    COOL = "cool"
