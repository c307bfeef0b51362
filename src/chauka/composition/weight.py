"""What a dish weighs when it is done: weighed by the cook, else a balance of water, else a published yield."""

from __future__ import annotations

import statistics
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from enum import StrEnum
from functools import cache

from chauka import tables
from chauka.composition.flow import WATER_FOODS, Passage
from chauka.composition.learned import Factors, learned_yield
from chauka.composition.retention import retention
from chauka.kitchen import Dish, Heat, Line, Step, Technique
from chauka.units import Estimate

POWER_W = {Heat.LOW: 250.0, Heat.MEDIUM: 500.0, Heat.HIGH: 900.0}
"""Heat that reaches the pot [W]: a household burner of 0.6, 1.1 and 2 kW at 45 % (common practice, no source)."""

_HEAT_CAPACITY = 3.8  # J/(g K), watery food: water is 4.18, dry matter about 1.6 (common practice, no source)
_WARMING_K = 72.0  # from 23 °C to the boil of a hill kitchen, 95 °C
_VAPORISATION = 2270.0  # J/g at 95 °C, steam tables (from memory)

_SHARE_OF_HEAT = {
    # How much of the heat left after warming goes into steam: the rest is lost from walls and lid. No source.
    Technique.BOIL: 0.6, Technique.SIMMER: 0.7, Technique.BLANCH: 0.6, Technique.SAUTE: 0.4, Technique.TEMPER: 0.3,
}  # fmt: skip
_SHARE_OF_WATER = {
    # Dry heat drives out a share of the water whatever the batch. Breads: 100 g of dough with 45 g of water
    # bake to about 85 g. No source for the rest.
    Technique.GRIDDLE: 0.30, Technique.BAKE: 0.30, Technique.ROAST: 0.25, Technique.SHALLOW_FRY: 0.20,
    Technique.DEEP_FRY: 0.35,
}  # fmt: skip
_STEAM_PER_WHISTLE_G = 12.0  # common practice, no source
_MOST_OF_WATER = 0.75  # no dish is boiled drier than this in one step
_FRESH_KCAL = 100.0
_SALT_PER_SODIUM = 2.54  # g/g: NaCl 58.44 ÷ Na 22.99
_LEAST_BATCH_CV = 0.04  # spoons, flame and scale from one batch to the next; policy
_EVAPORATION_CV = 0.40  # how far the model may be off; policy


class WeightBasis(StrEnum):
    """What a cooked weight rests on, the most trusted first."""

    SCALE = "weighed by the cook"
    BEFORE = "weighed before"
    YIELD = "yield of the food"
    BALANCE = "balance of water"
    LINES = "weight of the lines"


@dataclass(frozen=True, slots=True)
class CookedWeight:
    """Raw grams that are eaten, cooked grams, and how the cooked weight was found: `basis`, and in words `how`."""

    raw_g: Estimate
    cooked_g: Estimate
    basis: WeightBasis
    how: str


@dataclass(frozen=True, slots=True)
class Weighed:
    """A batch of a dish that was put on the scale when done: for so many portions it weighed so much [g]."""

    portions: float
    grams: float


def cooked_weight(
    dish: Dish,
    passages: Mapping[str, Passage],
    *,
    factors: Factors = Factors.LEARNED,
    weighed_before: Sequence[Weighed] = (),
) -> CookedWeight:
    """The weight of the finished dish, in this order of trust.

    Weighed by the cook; weighed in earlier batches; yield of a single food that is boiled in water
    the dish does not list, published or else learned; balance of water.
    """
    raw = Estimate.total([line.grams * line.eaten_share for line in dish.lines])
    if dish.yield_g is not None:
        return CookedWeight(raw, dish.yield_g, WeightBasis.SCALE, "weighed by the cook")
    if weighed_before:
        times = "once" if len(weighed_before) == 1 else f"{len(weighed_before)} times"
        portion = from_batches(weighed_before)
        how = f"weighed {times} before, {portion.mean:.0f} ± {portion.sd:.0f} g a portion"
        return CookedWeight(raw, portion * dish.portions, WeightBasis.BEFORE, how)
    if found := _by_table(dish, passages, factors):
        factor, source = found
        return CookedWeight(raw, raw * factor, WeightBasis.YIELD, source)
    gone = evaporation(dish, passages)
    if not gone:
        return CookedWeight(raw, raw, WeightBasis.LINES, "nothing boils away: the weight of the lines")
    lost = Estimate.total([Estimate(g, _EVAPORATION_CV * g) for g in gone.values()])
    cooked = Estimate(raw.mean - lost.mean, (raw.sd**2 + lost.sd**2) ** 0.5)
    how = f"estimated: {lost.mean:.0f} g of water boil away (common practice, ± 40 %)"
    return CookedWeight(raw, cooked, WeightBasis.BALANCE, how)


def from_batches(batches: Sequence[Weighed]) -> Estimate:
    """Cooked weight of one portion next time [g]: the mean of earlier batches, with the spread of one more.

    A single batch, or batches that agree by chance, never count as surer than 4 % (policy).
    """
    each = [batch.grams / batch.portions for batch in batches]
    mean, n = statistics.fmean(each), len(each)
    spread = max(_LEAST_BATCH_CV * mean, statistics.stdev(each) if n > 1 else 0.0)
    return Estimate(mean, spread * (1 + 1 / n) ** 0.5)


def evaporation(dish: Dish, passages: Mapping[str, Passage]) -> Mapping[str, float]:
    """Water that leaves the pot as steam in each step that heats something [g], by step id.

    Over a flame: what heat is left after warming the pot, times the share that makes steam, over the
    heat of vaporisation; so a big pot steams away little more than a small one. By dry heat: a share
    of the water. Never more than three quarters of the water that is there.
    """
    water = {line.id: line.grams.mean * line.eaten_share * water_share(line.food) for line in dish.lines}
    mass = {line.id: line.grams.mean * line.eaten_share for line in dish.lines}
    hot = set[str]()
    gone: dict[str, float] = {}
    for step in dish.steps:
        in_pot = [i for i, p in passages.items() if any(s.id == step.id for s in p.heated_by)]
        if not in_pot:
            continue
        pool = sum(water[i] for i in in_pot)
        steam = min(_steam_g(step, pool, sum(mass[i] for i in in_pot if i not in hot)), _MOST_OF_WATER * pool)
        if any(step.id in passages[i].drained for i in in_pot):
            steam = 0.0  # what boils off is part of what is poured away
        hot.update(in_pot)
        if steam > 0:
            gone[step.id] = steam
            for i in in_pot:
                water[i] -= steam * water[i] / pool
    return gone


def _steam_g(step: Step, pool_g: float, cold_g: float) -> float:
    if step.technique in _SHARE_OF_WATER:
        return _SHARE_OF_WATER[step.technique] * pool_g
    if step.technique is Technique.PRESSURE_COOK:
        return _STEAM_PER_WHISTLE_G * (step.whistles or 0)
    if step.technique not in _SHARE_OF_HEAT or step.heat is Heat.NONE:
        return 0.0
    heat_j = POWER_W[step.heat] * 60 * step.minutes.mid - cold_g * _HEAT_CAPACITY * _WARMING_K
    return max(0.0, heat_j) * _SHARE_OF_HEAT[step.technique] / _VAPORISATION


@cache
def water_share(food_code: str) -> float:
    """Water in a food [g/g]: as the table gives it; else what the other components leave; else as its food group.

    A component that is unknown counts as nothing in a food of little energy (fresh vegetables whose
    fibre was not measured); in richer foods the mean of the group is taken.
    """
    if food_code in WATER_FOODS:
        return 1.0
    food = tables.food(food_code)
    value = food.value("WATER").mean
    if value is None:
        parts = [food.value(tag).mean for tag in ("PROCNT", "FAT", "CHOAVLDF", "FIBTG")]
        energy = food.value("ENERC_KCAL").mean
        if None in parts and (energy is None or energy > _FRESH_KCAL):
            return _group_water(food.group)
        salt_g = (food.value("NA").mean or 0) * _SALT_PER_SODIUM / 1000
        value = 100 - sum(part or 0 for part in parts) - salt_g
    return min(1.0, max(0.0, value / 100))


@cache
def _group_water(group: str) -> float:
    """Mean water of the foods of a group whose water is known [g/g]; a tenth where none is."""
    known = [w / 100 for f in tables.foods().values() if f.group == group and (w := f.value("WATER").mean) is not None]
    return sum(known) / len(known) if known else 0.1


def yield_by_solids(water_raw_g: float, water_cooked_g: float) -> float:
    """Cooked ÷ raw weight when all dry matter stays, from the water in 100 g of each [g].

    As the USDA works out cooked values: "concentration adjustment by solids" (SR28, derivation codes BF…).
    """
    return (100 - water_raw_g) / (100 - water_cooked_g)


def _by_table(dish: Dish, passages: Mapping[str, Passage], factors: Factors) -> tuple[Estimate, str] | None:
    """A yield from the table, for one food that is cooked in water the dish does not list."""
    solid = [line for line in dish.lines if not _is_seasoning(line, dish)]
    if len(solid) != 1 or any(line.food in WATER_FOODS for line in dish.lines):
        return None
    if not passages[solid[0].id].drained:
        return None
    if published := published_yield(solid[0].food):
        return published[0], f"published yield: {published[1]}"
    cell = retention(passages[solid[0].id], factors).cell
    learned = learned_yield(*cell) if cell else None
    return (learned[0], f"yield of {learned[1]}") if learned else None


def _is_seasoning(line: Line, dish: Dish) -> bool:
    return line.grams.mean < 0.03 * sum(other.grams.mean for other in dish.lines)


def published_yield(food_code: str) -> tuple[Estimate, str] | None:
    """Cooked ÷ raw weight of a boiled food from the yield table, with its source; None where it has none."""
    for row in tables.rows("yield_factors"):
        if row["food_code"] == food_code and "boiled" in row["method"]:
            return Estimate(float(row["yield_factor"]), float(row["sd"])), f"{row['source']} ({row['how']})"
    return None
