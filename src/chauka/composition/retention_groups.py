"""To which group of USDA's retention factors a food belongs.

The groups are those of the USDA Table of Nutrient Retention Factors, Release 6 (2007). Which Indian
food falls into which is our judgement: bulbs and rhizomes go with the roots, fresh chillies and
mushrooms with the other vegetables, leaves used as herbs with the greens, besan with the flours.
"""

from __future__ import annotations

from enum import StrEnum
from functools import cache

from chauka import tables
from chauka.composition.learned import CookedGroup


class RetentionGroup(StrEnum):
    """Groups that are cooked alike."""

    GREENS = "greens"
    ROOTS = "roots, bulbs"
    POTATO = "potato"
    SWEET_POTATO = "sweet potato"
    TOMATO = "tomato"
    VEGETABLE = "other vegetables"
    FRUIT = "fruit"
    CITRUS = "citrus"
    DRIED_FRUIT = "dried fruit"
    PULSE = "pulse"
    RICE = "rice"
    PASTA = "pasta"
    OATS = "whole or flaked cereal"
    FLOUR = "flour or meal"
    NUTS = "nuts and oil seeds"
    MILK = "milk"
    CHEESE = "cheese"
    EGG = "egg"


_G = RetentionGroup
_BY_FOOD_GROUP = {
    "Cereals and Millets": _G.FLOUR,
    "Grain Legumes": _G.PULSE,
    "Green Leafy Vegetables": _G.GREENS,
    "Other Vegetables": _G.VEGETABLE,
    "Fruits": _G.FRUIT,
    "Roots and Tubers": _G.ROOTS,
    "Nuts and Oil Seeds": _G.NUTS,
    "Mushrooms": _G.VEGETABLE,
    "Milk and Milk Products": _G.MILK,
    "Egg and Egg Products": _G.EGG,
}


def _codes(group: RetentionGroup, codes: str) -> dict[str, RetentionGroup]:
    return dict.fromkeys(codes.split(), group)


_BY_CODE = {
    **_codes(_G.POTATO, "F006 F007 F008"),
    **_codes(_G.SWEET_POTATO, "F013 F014"),
    **_codes(_G.ROOTS, "G011 G012 G013 G014 G015 G017 G018 G501 G546 G547 F501 D058"),
    **_codes(_G.TOMATO, "D074 D075 D076 D502 X504"),
    **_codes(_G.VEGETABLE, "G001 G002 G003 G004 G005 G006 G007 G008 C012 C500"),
    **_codes(_G.GREENS, "G009 G010 G016 C502 D500"),
    **_codes(_G.CITRUS, "E033 E034 E047 E056 E520 E518 G550 G552"),
    **_codes(_G.DRIED_FRUIT, "E005 E017 E018 E019 E057 E058 E506 E510 E514"),
    **_codes(_G.RICE, "A013 A014 A015 A509"),
    **_codes(_G.PASTA, "A023 A024 A507"),
    **_codes(_G.OATS, "A001 A002 A003 A004 A005 A009 A011 A016 A017 A020 A021 A508 A514 A510 X902"),
    **_codes(_G.FLOUR, "B503"),
    **_codes(_G.CHEESE, "L003 L004 L500 L501 L502 L503 L505 L506 L511 L513 L518"),
    **_codes(_G.NUTS, "B504 B505 G513 H501"),
}


@cache
def retention_group(food_code: str) -> RetentionGroup | None:
    """The group, or None for what the table does not cover: dry spices, fats, sugar, salt, water."""
    return _BY_CODE.get(food_code) or _BY_FOOD_GROUP.get(tables.food(food_code).group)


_LEARNED = {
    _G.GREENS: CookedGroup.GREENS, _G.ROOTS: CookedGroup.ROOTS, _G.POTATO: CookedGroup.STARCHY,
    _G.SWEET_POTATO: CookedGroup.STARCHY, _G.VEGETABLE: CookedGroup.VEGETABLE, _G.PULSE: CookedGroup.PULSE,
    _G.RICE: CookedGroup.GRAIN, _G.OATS: CookedGroup.GRAIN, _G.PASTA: CookedGroup.PASTA,
    _G.DRIED_FRUIT: CookedGroup.DRIED_FRUIT,
}  # fmt: skip
_LEARNED_BY_CODE = {
    **dict.fromkeys(("F004", "F005", "F015", "F016", "F017", "F018", "F019"), CookedGroup.STARCHY),
    **dict.fromkeys(("D062", "D063", "D064"), CookedGroup.STARCHY),
    **dict.fromkeys(("D042", "D061", "D067"), CookedGroup.SEEDS),
}
"""Taro, lotus root, tapioca, water chestnut, yams, plantains; sweet corn, green peas, fresh pigeon peas."""


def cooked_group(food_code: str, group: RetentionGroup) -> CookedGroup | None:
    """The learned group of a food of this retention group; None where none fits (flour, milk, tomatoes, nuts).

    A pulse that counts as a vegetable is sprouted.
    """
    if group is RetentionGroup.VEGETABLE and tables.food(food_code).group == "Grain Legumes":
        return CookedGroup.SEEDS
    if group is RetentionGroup.VEGETABLE and tables.food(food_code).group == "Mushrooms":
        return CookedGroup.MUSHROOM
    return _LEARNED_BY_CODE.get(food_code) or _LEARNED.get(group)
