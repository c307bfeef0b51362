"""Learn yields and retentions from pairs: levels of effects, each shrunk towards the level above.

    log cooked = log raw − log Y + log R
    log Y = log published yield + Σ levels,    log R = ½ log published factor + Σ levels

An effect is n ÷ (n + k) of the median over its n families of foods (each family one voice, its own
median); what it leaves goes to the next, finer level. Half of the published loss: what the pairs
support, by cross-validation, since factors here are relative to dry matter.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from benchmarks.pairs import Value
from benchmarks.published import own_yield, published_log_factor, published_log_yield
from chauka.composition.learned import CookedGroup

PRIOR_SHARE = 0.5
_K_YIELD = 2.0
_K_RETENTION = (4.0, 10.0, 16.0)
_K_WIDTH = 6.0
_Z90 = 1.645

Key = Callable[[Value], str]
Effects = dict[str, float]


def _join(*parts: str) -> str:
    return "|".join(parts)


YIELD_LEVELS: tuple[Key, ...] = (
    lambda v: _join(v.group.state, v.way),
    lambda v: _join(v.group, v.way),
    lambda v: _join(v.group.state, v.way, v.origin),
    lambda v: _join(v.group, v.way, v.origin),
)
RETENTION_LEVELS: tuple[Key, ...] = (
    lambda v: _join(v.group.state, v.way),
    lambda v: _join(v.tag, v.way),
    lambda v: _join(v.tag, v.group, v.way),
)


@dataclass(frozen=True, slots=True)
class Model:
    """Effects by level. `own_shift` corrects yields published for a food itself, by group and origin."""

    yields: tuple[Effects, ...]
    own_shift: Effects
    retentions: tuple[Effects, ...]

    def log_yield(self, value: Value) -> float:
        """Logarithm of cooked ÷ raw weight, without looking at the cooked food."""
        own = own_yield(value)
        if own is not None:
            return math.log(own) + self.own_shift.get(_join(value.group, value.origin), 0.0)
        return published_log_yield(value) + _sum(self.yields, YIELD_LEVELS, value)

    def log_retention(self, value: Value) -> float:
        """Logarithm of the share of a nutrient that stays with the dry matter."""
        return PRIOR_SHARE * published_log_factor(value) + _sum(self.retentions, RETENTION_LEVELS, value)

    def predict(self, value: Value, *, weighed: bool) -> float:
        """The nutrient in 100 g of the cooked food; `weighed` takes the cooked weight from the dry matter."""
        weight = solids_log_yield(value) if weighed else None
        log_yield = self.log_yield(value) if weight is None else weight
        return value.raw * math.exp(self.log_retention(value) - log_yield)


def solids_log_yield(value: Value) -> float | None:
    """Logarithm of cooked ÷ raw weight when all dry matter stays; None where the water was not measured."""
    return None if value.water is None else math.log((100 - value.water[0]) / (100 - value.water[1]))


def fit(values: Sequence[Value]) -> Model:
    """Learn from pairs."""
    once = {v.pair: v for v in values if v.water is not None}
    weighed = [(v, _weight(v)) for v in once.values()]
    own = [(v, y - math.log(published)) for v, y in weighed if (published := own_yield(v)) is not None]
    shift = _effects(own, lambda v: _join(v.group, v.origin), k=1.0)
    yields = _levels([(v, y - published_log_yield(v)) for v, y in weighed], YIELD_LEVELS, (_K_YIELD,) * 4)
    so_far = Model(yields, shift, ())
    left = [
        (v, math.log(v.cooked / v.raw) + (_weight(v) if v.water else so_far.log_yield(v)) - _prior(v))
        for v in values
        if v.raw > 0 and v.cooked > 0 and v.tag != "WATER"
    ]
    return Model(yields, shift, _levels(left, RETENTION_LEVELS, _K_RETENTION))


def _weight(value: Value) -> float:
    return solids_log_yield(value) or 0.0


def _prior(value: Value) -> float:
    return PRIOR_SHARE * published_log_factor(value)


def _sum(effects: Sequence[Effects], levels: Sequence[Key], value: Value) -> float:
    return sum(effect.get(key(value), 0.0) for effect, key in zip(effects, levels, strict=True))


Residuals = Sequence[tuple[Value, float]]


def _levels(residuals: Residuals, levels: Sequence[Key], ks: Sequence[float]) -> tuple[Effects, ...]:
    found = []
    for key, k in zip(levels, ks, strict=True):
        effects = _effects(residuals, key, k=k)
        residuals = [(v, r - effects.get(key(v), 0.0)) for v, r in residuals]
        found.append(effects)
    return tuple(found)


def _effects(residuals: Residuals, key: Key, *, k: float) -> Effects:
    return {name: _shrunk(by_family, k) for name, by_family in _by_family(residuals, key).items()}


def _by_family(residuals: Residuals, key: Key) -> Mapping[str, Mapping[str, list[float]]]:
    found: dict[str, dict[str, list[float]]] = {}
    for value, residual in residuals:
        found.setdefault(key(value), {}).setdefault(value.cluster, []).append(residual)
    return found


def _shrunk(by_family: Mapping[str, Sequence[float]], k: float) -> float:
    voices = [statistics.median(family) for family in by_family.values()]
    return len(voices) / (len(voices) + k) * statistics.median(voices)


@dataclass(frozen=True, slots=True)
class Widths:
    """How far a prediction may be off: half width of the 90 % interval on the logarithm.

    Scale × nutrient × group × origin.
    """

    scale: float
    tags: Effects
    groups: Effects
    origins: Effects

    def half(self, tag: str, group: CookedGroup, origin: str) -> float:
        """Half the width [log]."""
        size = self.tags.get(tag, 0.0) + self.groups.get(group, 0.0) + self.origins.get(origin, 0.0)
        return self.scale * math.exp(size)

    def sd(self, tag: str, group: CookedGroup, origin: str) -> float:
        """The standard deviation of a normal distribution with that interval [log]."""
        return self.half(tag, group, origin) / _Z90


def widths(errors: Residuals) -> Widths:
    """Learn how far predictions were off, from errors [log] on foods that they had not seen.

    Typical absolute errors by nutrient, then by group and origin, shrunk to the typical error of all; then one
    scale so that nine in ten errors fall inside.
    """
    sizes = [(v, math.log(max(abs(e), 0.002))) for v, e in errors]
    middle = statistics.median(s for _, s in sizes)
    keys: tuple[Key, ...] = (lambda v: v.tag, lambda v: v.group, lambda v: v.origin)
    tags, groups, origins = _levels([(v, s - middle) for v, s in sizes], keys, (_K_WIDTH, _K_WIDTH, 0.0))
    off = sorted(abs(e) / math.exp(tags[v.tag] + groups[v.group] + origins[v.origin]) for v, e in errors)
    return Widths(off[min(len(off) - 1, round(0.9 * len(off)))], tags, groups, origins)
