"""The published way: retention factors of the USDA's Release 6 and published yields, for files of pairs."""

from __future__ import annotations

import math
from functools import cache

from benchmarks.pairs import Value
from chauka import tables
from chauka.composition.learned import CookedGroup as G
from chauka.composition.learned import CookedWay as W
from chauka.composition.retention import published_factors

_USDA_TAG = {"VITB6C": "VITB6A", "FOL": "FOLFD", "VITA_RAE": "VITA", "RETOL": "VITA", "LUT+ZEA": "LUT_ZEA"}

_DRAINED = {
    G.GREENS: 3005, G.ROOTS: 3455, G.STARCHY: 3308, G.VEGETABLE: 3775, G.SEEDS: 3775, G.MUSHROOM: 3775, G.PULSE: 521,
    G.DRIED_MUSHROOM: 3775, G.DRIED_VEGETABLE: 3775, G.PASTA: 381, G.STARCH_NOODLES: 381, G.GRAIN: 431, G.FRUIT: 155,
    G.DRIED_FRUIT: 255, G.NUTS: 2204,
}  # fmt: skip
_DRAINED_FROM_FROZEN = {
    G.GREENS: 3019, G.ROOTS: 3469, G.STARCHY: 3713, G.VEGETABLE: 3789, G.SEEDS: 3789, G.FRUIT: 156,
}  # fmt: skip
_NO_WATER = {G.GREENS: 3015, G.ROOTS: 3451, G.STARCHY: 3302, G.FRUIT: 151, G.NUTS: 2203}

_MEXT_RICE = {"01154": 1.818, "01168": 1.961} | dict.fromkeys(
    ("01085", "01086", "01087", "01088", "01089", "01155"), 2.128
)
"""Cooked ÷ raw weight of rice by the code of the cooked food; MEXT 2020, remarks column (read here)."""
_MEXT_OTHER_RICE = 2.128
"""What the same column gives for all plain rice, polished or not; for grain of Japan that it does not list."""

_GROUP_YIELD = {G.PULSE: 2.5, G.GRAIN: 2.259, G.PASTA: 2.259, G.STARCH_NOODLES: 2.259, G.NUTS: 1.0}
"""SR28 documentation, Table 22 (average of legumes) and AGRIBALYSE 3.1 (cereals); nuts: nothing lost, no source."""
_PRODUCE_YIELD = 0.856
"""AGRIBALYSE 3.1, vegetables and fruits."""
_SOLIDS_WHEN_SOFT = {G.DRIED_MUSHROOM: 10.0, G.DRIED_VEGETABLE: 10.0, G.DRIED_FRUIT: 30.0}
"""Dry matter to which dried produce swells [g/100 g]: that of the fresh or of a compote; no source."""


def published_code(value: Value) -> int:
    """The retention row that stands for a group and a way."""
    if value.way is W.DRAINED:
        frozen = _DRAINED_FROM_FROZEN.get(value.group) if value.frozen else None
        return frozen or _DRAINED[value.group]
    if value.way is W.ABSORBED:
        return 255 if value.group is G.DRIED_FRUIT else 432
    return _NO_WATER.get(value.group, 3771)


def published_log_factor(value: Value) -> float:
    """Logarithm of the published retention; nothing is lost of nutrients that the table does not cover."""
    return _log_factor(published_code(value), _USDA_TAG.get(value.tag, value.tag))


@cache
def _log_factor(code: int, tag: str) -> float:
    return math.log(max(published_factors(code).get(tag, 1.0), 0.05))


@cache
def _legumes() -> dict[str, float]:
    rows = (r for r in tables.rows("yield_factors") if "Table 22" in r["source"] and r["source_code"])
    return {r["source_code"].removeprefix("NDB "): float(r["yield_factor"]) for r in rows}


def own_yield(value: Value) -> float | None:
    """Cooked ÷ raw weight that is published for this very food."""
    if value.origin == "US":
        return _legumes().get(value.raw_code)
    grain = value.group is G.GRAIN and value.way is W.ABSORBED
    return _MEXT_RICE.get(value.cooked_code, _MEXT_OTHER_RICE if grain else None)


def published_log_yield(value: Value) -> float:
    """Logarithm of the published yield of a food's group."""
    if value.group in _SOLIDS_WHEN_SOFT:
        dry = 100 - value.water[0] if value.water else 85.0
        return math.log(dry / _SOLIDS_WHEN_SOFT[value.group])
    return math.log(_GROUP_YIELD.get(value.group, _PRODUCE_YIELD))


def published(value: Value, *, weighed_log_yield: float | None) -> float:
    """The nutrient in 100 g of the cooked food by published retention and yield."""
    own = own_yield(value)
    log_yield = math.log(own) if own is not None else published_log_yield(value)
    if weighed_log_yield is not None:
        log_yield = weighed_log_yield
    return value.raw * math.exp(published_log_factor(value) - log_yield)
