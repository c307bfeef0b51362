"""Which published retention factor stands for which way of cooking which food.

Codes: USDA Table of Nutrient Retention Factors, Release 6 (2007). The table knows American kitchens;
where it has no row for a technique, the nearest is taken and the reason stands beside it.
"""

from __future__ import annotations

from enum import StrEnum

from chauka.composition.learned import CookedWay
from chauka.composition.retention_groups import RetentionGroup as G
from chauka.kitchen import Technique


class Way(StrEnum):
    """How heat and water reach the food."""

    DRAINED = "boiled in plenty of water that is poured away"
    LITTLE = "boiled in little water that is poured away"
    USED = "boiled, the water used"
    STEAMED = "steamed"
    STIRRED = "stir-fried"
    FRIED = "fried"
    BAKED = "baked"
    TOASTED = "roasted dry"
    REHEATED = "heated again"


LEARNED_WAYS = {
    Way.DRAINED: CookedWay.DRAINED, Way.LITTLE: CookedWay.DRAINED, Way.USED: CookedWay.ABSORBED,
    Way.STEAMED: CookedWay.NO_WATER, Way.STIRRED: CookedWay.NO_WATER, Way.BAKED: CookedWay.NO_WATER,
    Way.TOASTED: CookedWay.NO_WATER,
}  # fmt: skip
"""The learned way that each stands for; frying was not learned."""

WET = frozenset({Way.DRAINED, Way.LITTLE, Way.USED, Way.STEAMED})

_KEPT = {
    Technique.BLANCH: Way.USED, Technique.BOIL: Way.USED, Technique.SIMMER: Way.USED,
    Technique.PRESSURE_COOK: Way.USED, Technique.STEAM: Way.STEAMED, Technique.SAUTE: Way.STIRRED,
    Technique.TEMPER: Way.STIRRED, Technique.SHALLOW_FRY: Way.FRIED, Technique.DEEP_FRY: Way.FRIED,
    Technique.GRIDDLE: Way.BAKED, Technique.BAKE: Way.BAKED, Technique.ROAST: Way.TOASTED,
}  # fmt: skip
_POURED_AWAY = {
    Technique.BLANCH: Way.DRAINED, Technique.BOIL: Way.DRAINED, Technique.SIMMER: Way.DRAINED,
    Technique.PRESSURE_COOK: Way.LITTLE,
}  # fmt: skip


def way_of(technique: Technique, *, drained: bool) -> Way:
    """The way a cooking technique works, with the water used or poured away."""
    return _POURED_AWAY.get(technique, _KEPT[technique]) if drained else _KEPT[technique]


def _in_water(drained: int, little: int, used: int, steamed: int) -> dict[Way, int]:
    return {Way.DRAINED: drained, Way.LITTLE: little, Way.USED: used, Way.STEAMED: steamed}


def _by_dry_heat(stirred: int, fried: int, baked: int, toasted: int) -> dict[Way, int]:
    return {Way.STIRRED: stirred, Way.FRIED: fried, Way.BAKED: baked, Way.TOASTED: toasted}


CODES: dict[G, dict[Way, int]] = {
    # No steamed greens: as boiled with the water used, since nothing is poured away; none fried: stir-fried.
    G.GREENS: {**_in_water(3005, 3004, 3006, 3006), **_by_dry_heat(3015, 3015, 3001, 3001), Way.REHEATED: 3018},
    G.ROOTS: {**_in_water(3455, 3454, 3456, 3464), **_by_dry_heat(3465, 3460, 3451, 3451), Way.REHEATED: 3468},
    # Pared potatoes; those boiled in the skin are 3307. None steamed: as with the water used.
    G.POTATO: {**_in_water(3308, 3308, 3309, 3309), **_by_dry_heat(3315, 3315, 3302, 3301), Way.REHEATED: 3379},
    G.SWEET_POTATO: {**_in_water(3708, 3708, 3709, 3709), **_by_dry_heat(3710, 3710, 3702, 3701), Way.REHEATED: 3711},
    G.TOMATO: {**_in_water(3751, 3751, 3751, 3751), **_by_dry_heat(3752, 3752, 3751, 3752), Way.REHEATED: 3754},
    G.VEGETABLE: {**_in_water(3775, 3774, 3776, 3784), **_by_dry_heat(3785, 3780, 3771, 3771), Way.REHEATED: 3788},
    G.FRUIT: {**_in_water(155, 155, 155, 155), **_by_dry_heat(153, 153, 151, 152), Way.REHEATED: 157},
    G.CITRUS: {**_in_water(270, 270, 270, 270), **_by_dry_heat(270, 270, 270, 270)},
    G.DRIED_FRUIT: {**_in_water(255, 255, 255, 255), **_by_dry_heat(253, 253, 251, 251), Way.REHEATED: 257},
    # Boiled pulses go by time, see PULSE_BY_MINUTES. Dry pulses in hot fat or a dry pan: as toasted meal;
    # batters of ground pulse on the griddle or in oil: as flour.
    G.PULSE: {**_by_dry_heat(306, 305, 301, 306), Way.REHEATED: 550},
    # Rice that is fried after boiling counts as boiled and reheated; fried before boiling as 433.
    G.RICE: {**_in_water(431, 431, 432, 432), **_by_dry_heat(433, 433, 432, 306), Way.REHEATED: 434},
    G.PASTA: {**_in_water(381, 381, 384, 384), **_by_dry_heat(305, 305, 380, 306), Way.REHEATED: 385},
    G.OATS: {**_in_water(358, 358, 358, 358), **_by_dry_heat(305, 305, 301, 306), Way.REHEATED: 304},
    G.FLOUR: {**_in_water(302, 302, 302, 302), **_by_dry_heat(305, 305, 301, 306), Way.REHEATED: 304},
    G.NUTS: {**_in_water(2204, 2204, 2204, 2204), **_by_dry_heat(2203, 2203, 2201, 2203)},
    G.CHEESE: {**_in_water(5, 5, 5, 5), **_by_dry_heat(3, 3, 1, 3), Way.REHEATED: 7},
    G.EGG: {**_in_water(105, 105, 105, 105), **_by_dry_heat(103, 103, 101, 103), Way.REHEATED: 109},
    G.MILK: {Way.REHEATED: 2154},
}

POTATO_IN_SKIN, POTATO_BROWNED, POTATO_STORED_BROWNED = 3307, 3310, 3311
RICE_FRIED_THEN_BOILED = 433
PASTA_DRAINED_THEN_BAKED = 382

PULSE_BY_MINUTES = ((30, 501), (100, 521), (float("inf"), 541))
"""Minutes up to which a pulse counts as cooked 15/20 min, 45/75 min or 2/2.5 h: the code "boiled, drained".
Minutes under pressure count double: pressure halves the time, while the loss goes with the kind of pulse
(policy, no source). The next codes are: water used, drained + baked, used + baked, drained + fried, used + fried."""

MILK_BY_MINUTES = ((20, 2151), (45, 2152), (float("inf"), 2153))
"""Minutes up to which milk counts as heated about 10 min, 30 min or 1 hour."""
