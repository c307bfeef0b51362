"""Learn yields and retentions from pairs: levels of effects, each shrunk towards the level above.

    log cooked = log raw − log Y + log R
    log Y = log published yield + Σ levels + slope × (log dry matter − its middle)
    log R = ½ log published factor + Σ levels

An effect is n ÷ (n + k) of the median over its n families of foods (each family one voice, its own
median); what it leaves goes to the next, finer level. Half of the published loss: what the pairs
support, by cross-validation, since factors here are relative to dry matter.
"""

from __future__ import annotations

import math
import statistics
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace

from benchmarks.pairs import Value
from benchmarks.published import own_yield, published_log_factor, published_log_yield
from chauka.composition.learned import CookedGroup, CookedWay

PRIOR_SHARE = 0.5
_K_YIELD = 3.0
_K_SLOPE = 5.0
_K_RETENTION = (4.0, 16.0, 24.0, 4.0)
_K_WIDTH = 6.0
_Z90 = 1.645

Key = Callable[[Value], str]
Effects = dict[str, float]
Residuals = Sequence[tuple[Value, float]]


def _join(*parts: str) -> str:
    return "|".join(parts)


YIELD_LEVELS: tuple[Key, ...] = (
    lambda v: _join(v.group.state, v.way),
    lambda v: _join(v.group, v.way),
    lambda v: _join(v.group.state, v.way, v.origin),
    lambda v: _join(v.group, v.way, v.origin),
    lambda v: _join(v.group.state, v.way, "frozen" if v.frozen else ""),
)


def _place(value: Value) -> str:
    """Where the dry matter of the raw food tells how much water goes in or out: kitchens of one country."""
    return _join(value.group.state, value.way, value.origin)


def _boiled_produce(value: Value) -> bool:
    return value.group.state == "fresh" and value.way is CookedWay.DRAINED


RETENTION_LEVELS: tuple[Key, ...] = (
    lambda v: _join(v.group.state, v.way),
    lambda v: _join(v.tag, v.way),
    lambda v: _join(v.tag, v.group, v.way),
    lambda v: ("frozen" if v.frozen else "fresh") if v.tag == "VITC" and _boiled_produce(v) else "",
)
"""The last: blanching before freezing takes of vitamin C, more than of anything else, what the pot would take."""


@dataclass(frozen=True, slots=True)
class Model:
    """Effects by level. `own_shift` corrects yields published for a food itself, by group and origin.

    `slopes` say how much more or less a food takes up for being drier than the `middles` [log g/100 g].
    """

    yields: tuple[Effects, ...]
    own_shift: Effects
    middles: Effects
    slopes: Effects
    retentions: tuple[Effects, ...]

    def log_yield(self, value: Value) -> float:
        """Logarithm of cooked ÷ raw weight, without looking at the cooked food."""
        own = own_yield(value)
        if own is not None:
            return math.log(own) + self.own_shift.get(_join(value.group, value.origin), 0.0)
        drier = self.slopes.get(_place(value), 0.0) * _drier(self.middles, value)
        return published_log_yield(value) + _sum(self.yields, YIELD_LEVELS, value) + drier

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
    so_far = _with_slopes(weighed, shift)
    left = [
        (v, math.log(v.cooked / v.raw) + (_weight(v) if v.water else so_far.log_yield(v)) - _prior(v))
        for v in values
        if v.raw > 0 and v.cooked > 0 and v.tag != "WATER"
    ]
    return replace(so_far, retentions=_levels(left, RETENTION_LEVELS, _K_RETENTION))


def _with_slopes(weighed: Residuals, own_shift: Effects) -> Model:
    """The yields, without retentions."""
    from_book = [(v, y - published_log_yield(v)) for v, y in weighed]
    yields = _levels(from_book, YIELD_LEVELS, (_K_YIELD,) * len(YIELD_LEVELS))
    left: dict[str, list[tuple[Value, float]]] = {}
    for v, residual in from_book:
        if own_yield(v) is None:
            left.setdefault(_place(v), []).append((v, residual - _sum(yields, YIELD_LEVELS, v)))
    middles = {place: statistics.median(_log_dry(v) for v, _ in here) for place, here in left.items()}
    slopes = {place: _slope([(v, _drier(middles, v), r) for v, r in here]) for place, here in left.items()}
    return Model(yields, own_shift, middles, slopes, ())


def _log_dry(value: Value) -> float:
    """Dry matter of the raw food [log g/100 g]; not to be asked where the water was not measured."""
    return math.log(100 - (value.water or (0.0, 0.0))[0])


def _drier(middles: Effects, value: Value) -> float:
    return _log_dry(value) - middles[_place(value)] if value.water and _place(value) in middles else 0.0


def _slope(points: Sequence[tuple[Value, float, float]]) -> float:
    """The line through the origin with the least absolute errors, n ÷ (n + k) of it over n families."""
    steps = sorted((r / x, abs(x)) for _, x, r in points if x)
    half, so_far, families = sum(weight for _, weight in steps) / 2, 0.0, len({v.cluster for v, _, _ in points})
    for slope, weight in steps:
        so_far += weight
        if so_far >= half:
            return families / (families + _K_SLOPE) * slope
    return 0.0


def _weight(value: Value) -> float:
    return solids_log_yield(value) or 0.0


def _prior(value: Value) -> float:
    return PRIOR_SHARE * published_log_factor(value)


def _sum(effects: Sequence[Effects], levels: Sequence[Key], value: Value) -> float:
    return sum(effect.get(key(value), 0.0) for effect, key in zip(effects, levels, strict=True))


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
