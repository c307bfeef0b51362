"""How much of each nutrient of a line is left after the steps that heat it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from types import MappingProxyType

from chauka import tables
from chauka.composition.flow import Passage
from chauka.composition.learned import CookedGroup, CookedWay, Factors, learned_factors
from chauka.composition.retention_codes import (
    CODES,
    LEARNED_WAYS,
    MILK_BY_MINUTES,
    PASTA_DRAINED_THEN_BAKED,
    POTATO_BROWNED,
    POTATO_IN_SKIN,
    POTATO_STORED_BROWNED,
    PULSE_BY_MINUTES,
    RICE_FRIED_THEN_BOILED,
    WET,
    Way,
    way_of,
)
from chauka.composition.retention_groups import RetentionGroup, cooked_group, retention_group
from chauka.errors import DataError
from chauka.kitchen import Form, Step, Technique

TABLE = "retention_factors"
_ONE_PIECE_MIN = 5.0
_AGAIN_MIN = 5.0  # a shorter further step on food already cooked changes nothing more; policy

_USDA_TAG = {"VITB6C": "VITB6A", "VITA_RAE": "VITA", "RETOL": "VITA"}
COVERED = frozenset(
    {"CA", "FE", "MG", "P", "K", "NA", "ZN", "CU", "VITC", "THIA", "RIBF", "NIA", "VITB6C", "FOL", "VITB12"}
    | {"VITA_RAE", "RETOL", "CARTB"}
)
"""Our tags that the table covers."""

VITAMINS_NOT_COVERED = frozenset({"PANTAC", "BIOT", "VITD", "VITE", "VITK1"})
"""Vitamins that heat may destroy and that the table does not cover: kept at 1, with more spread."""


@dataclass(frozen=True, slots=True)
class Retention:
    """Why and by how much: the published codes whose factors are multiplied, and the way in words. No code: 1 for all.

    Where `cell` names what was learned, its factor takes the place of the first code's, but never
    keeps more than `at_most`, the row for the same food with its water used.
    """

    codes: tuple[int, ...]
    how: str
    cell: tuple[CookedGroup, CookedWay] | None = None
    at_most: int | None = None

    def learns(self, tag: str) -> bool:
        """Whether the factor of a nutrient was learned from measured pairs."""
        return self.cell is not None and tag in learned_factors(*self.cell)

    def factor(self, tag: str) -> float:
        """The share of a nutrient that is left [0–1]."""
        share, codes = 1.0, self.codes
        if self.cell is not None and tag in (learned := learned_factors(*self.cell)):
            most = 1.0 if self.at_most is None else factors(self.at_most).get(tag, 1.0)
            share, codes = min(most, learned[tag].factor), codes[1:]
        for code in codes:
            share *= factors(code).get(tag, 1.0)
        return share

    def sd(self, tag: str) -> float:
        """Standard deviation of the factor: as learned from families left out, else by `spread`."""
        if self.cell is not None and self.learns(tag):
            return self.factor(tag) * learned_factors(*self.cell)[tag].sd_log
        return spread(tag, self.factor(tag), heated=bool(self.codes))

    def basis(self, tag: str) -> str:
        """Where the factor of a nutrient comes from, in words."""
        if self.cell is not None and self.learns(tag):
            families = learned_factors(*self.cell)[tag].families
            return f"learned: {self.cell[0]}, {self.cell[1]} ({families} families measured)"
        published = [description(code) for code in self.codes if tag in factors(code)]
        return f"USDA Release 6: {'; '.join(published)}" if published else "counted as kept"


RAW = Retention((), "not heated")


@lru_cache(maxsize=4096)
def vectors(kept: Retention, tags: tuple[str, ...]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Factors and their standard deviations for these nutrients."""
    return tuple(kept.factor(tag) for tag in tags), tuple(kept.sd(tag) for tag in tags)


def spread(tag: str, factor: float, *, heated: bool) -> float:
    """Standard deviation of a retention factor; policy, no source.

    The published factors come in steps of 5 % and were made for other foods and pots: 0.05 plus a
    quarter of the loss. Vitamins that the table does not cover: 0.10. Nothing for the rest, which
    heat does not destroy, and nothing for what is not heated.
    """
    if not heated:
        return 0.0
    if tag in COVERED:
        return 0.05 + 0.25 * (1 - factor)
    return 0.10 if tag in VITAMINS_NOT_COVERED else 0.0


_ALCOHOL_BY_MINUTES = ((10, 5002), (20, 5004), (45, 5005), (75, 5006), (105, 5007), (135, 5008), (float("inf"), 5009))


def alcohol_left(minutes: float) -> float:
    """The share of alcohol that is left after so long on the heat [0–1]."""
    return published_factors(_by_minutes(_ALCOHOL_BY_MINUTES, minutes))["ALC"]


@cache
def factors(code: int) -> Mapping[str, float]:
    """The published factors of a code by our tags [0–1]; tags that the table does not cover are left out."""
    found = published_factors(code)
    ours = {tag: found[usda] for tag in COVERED if (usda := _USDA_TAG.get(tag, tag)) in found}
    return MappingProxyType(ours)


def published_factors(code: int) -> Mapping[str, float]:
    """The published factors of a code by the table's own tags [0–1].

    Raises `DataError` for a code that the table does not have.
    """
    return _row(code)[1]


def description(code: int) -> str:
    """The row's own name, as published."""
    return _row(code)[0]


def _row(code: int) -> tuple[str, Mapping[str, float]]:
    if code not in _published():
        raise DataError(f"{tables.card(TABLE).title} has no code {code:04d}")
    return _published()[code]


@cache
def _published() -> Mapping[int, tuple[str, Mapping[str, float]]]:
    found: dict[int, tuple[str, Mapping[str, float]]] = {}
    for row in tables.rows(TABLE):
        percent = {name.removesuffix("_pct"): cell for name, cell in row.items() if name.endswith("_pct") and cell}
        found[int(row["code"])] = (row["description"], {tag: float(cell) / 100 for tag, cell in percent.items()})
    return MappingProxyType(found)


def retention(passage: Passage, which: Factors = Factors.LEARNED) -> Retention:
    """The retention of a line that passes these heated steps.

    The longest way of cooking counts in full. What else takes five minutes or more counts once as
    heating again. Published two-step rows (potatoes boiled then browned, pulses boiled then fried,
    rice fried then boiled) stand for both steps.
    """
    group = retention_group(passage.line.food)
    if group is RetentionGroup.PULSE and passage.line.form is Form.SPROUTED:
        group = RetentionGroup.VEGETABLE
    if not passage.heated_by or group is None:
        return Retention((), "no published retention" if passage.heated_by else RAW.how)
    if group is RetentionGroup.MILK:
        code = _by_minutes(MILK_BY_MINUTES, sum(_minutes_on_the_heat(s) for s in passage.heated_by))
        return Retention((code,), description(code).lower())
    ways = [(way_of(s.technique, drained=s.id in passage.drained), s) for s in passage.heated_by]
    if two_step := _two_step(group, ways, passage):
        return Retention((two_step,), description(two_step).lower())
    return _one_step(group, ways, passage, which)


Ways = Sequence[tuple[Way, Step]]


def _one_step(group: RetentionGroup, ways: Ways, passage: Passage, which: Factors) -> Retention:
    way, main = max(ways, key=lambda w: w[1].minutes.mid)
    codes: tuple[int, ...] = (_code(group, way, ways, passage),)
    again = CODES[group].get(Way.REHEATED)
    how = str(way)
    if again and any(s is not main and s.minutes.mid >= _AGAIN_MIN for _, s in ways):
        codes, how = (*codes, again), f"{way}, then heated again"
    cell = _cell(passage, group, way) if which is Factors.LEARNED else None
    at_most = _code(group, Way.USED, ways, passage) if cell and way in (Way.DRAINED, Way.LITTLE) else None
    return Retention(codes, how, cell, at_most)


def _cell(passage: Passage, group: RetentionGroup, way: Way) -> tuple[CookedGroup, CookedWay] | None:
    """What was learned for the food and the way; None where nothing was."""
    food = cooked_group(passage.line.food, group)
    water = LEARNED_WAYS.get(way)
    if food is None or water is None:
        return None
    return (food, water) if learned_factors(food, water) else None


def _code(group: RetentionGroup, way: Way, ways: Ways, passage: Passage) -> int:
    if group is RetentionGroup.PULSE and way in WET:
        code = _by_minutes(PULSE_BY_MINUTES, _pulse_minutes(ways))
        return code if way in (Way.DRAINED, Way.LITTLE) else code + 1
    if group is RetentionGroup.POTATO and way in WET and passage.line.form in (Form.WHOLE, Form.WASHED):
        return POTATO_IN_SKIN
    return CODES[group][way]


def _pulse_minutes(ways: Ways) -> float:
    return sum(s.minutes.mid * (2 if s.technique is Technique.PRESSURE_COOK else 1) for way, s in ways if way in WET)


def _minutes_on_the_heat(step: Step) -> float:
    """Minutes that one piece is heated: breads and fritters are done one after the other."""
    batchwise = step.technique in (Technique.GRIDDLE, Technique.SHALLOW_FRY, Technique.DEEP_FRY)
    return min(step.minutes.mid, _ONE_PIECE_MIN) if batchwise else step.minutes.mid


def _by_minutes(limits: Sequence[tuple[float, int]], minutes: float) -> int:
    return next(code for most, code in limits if minutes <= most)


def _two_step(group: RetentionGroup, ways: Ways, passage: Passage) -> int | None:
    """The published row for cooking twice, where there is one for this order."""
    if len(ways) < 2:
        return None
    (first, _), (last, last_step) = ways[0], ways[-1]
    long_enough = last_step.minutes.mid >= _AGAIN_MIN
    dry_after_wet = first in WET and last in (Way.STIRRED, Way.FRIED, Way.BAKED) and long_enough
    if group is RetentionGroup.POTATO and dry_after_wet and last is not Way.BAKED:
        return POTATO_STORED_BROWNED if passage.rested_between else POTATO_BROWNED
    if group is RetentionGroup.PULSE and dry_after_wet:
        poured_away = first in (Way.DRAINED, Way.LITTLE)
        base = _by_minutes(PULSE_BY_MINUTES, _pulse_minutes(ways))
        return base + (2 if last is Way.BAKED else 4) + (0 if poured_away else 1)
    if group is RetentionGroup.RICE and first is Way.STIRRED and last in (Way.USED, Way.STEAMED):
        return RICE_FRIED_THEN_BOILED
    if group is RetentionGroup.PASTA and first is Way.DRAINED and last is Way.BAKED:
        return PASTA_DRAINED_THEN_BAKED
    return None
