"""Fresh produce: published storage lives, moved to another temperature.

Rows of one item (tables `produce_storage` and `produce_lives`) are brought to 0 °C on the curve of
`rate`, and the median over their sources is taken. An item without a row borrows the median of its
group, and says so.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from statistics import median, median_low, quantiles
from types import MappingProxyType

from chauka import tables
from chauka.keeping.rate import living_rate, steady_rate

OWN_SPREAD = 1.6
"""Range of an item with its own source: × or ÷ this, about one standard deviation (ln sd 0.45 measured)."""

BORROWED_SPREAD = 2.5
"""Range of an item that borrows from its group."""

OWN_SHARE, BORROWED_SHARE = 0.7, 0.5
"""Share of the careful end that a plan counts on, with an own source and borrowed."""

CAREFUL_SHARE = 0.85
"""The careful end is at most this share of the middle: a single figure has a low end too."""

CHILLED_SHARE = 0.5
"""A chilling-sensitive item kept colder than its minimum: this share of the life at the minimum."""


DRY_AIR_FACTOR = 0.45
"""Life of leaves and thin-skinned pods left open below 80 % humidity ÷ their life bagged: policy, with
support from an evaporative cool chamber study (Pasighat: half for beans and chillies, a third for coriander)."""

DRY_BELOW_RH = 80.0
"""Air drier than this [%] is dry air; a life seen in it is no life of covered produce."""

RATES = "rates at other temperatures: fitted to table produce_lives"

GROUP_NAMES = MappingProxyType(
    {
        "leaf": "leafy green",
        "leaf-head": "head of leaves",
        "herb": "green herb",
        "stem": "stalk",
        "flower": "flower head",
        "fruit-veg": "fruit vegetable",
        "seed": "pod or fresh seed",
        "fungus": "mushroom",
    }
)
"""Groups of the storage table as a cook would name one of them."""


@dataclass(frozen=True, slots=True)
class Reference:
    """A storage life as the sources give it, brought to 0 °C [day], and how far it can be trusted.

    `chills_below_c` is None unless cold harms the item.
    """

    name: str
    careful_0c: float
    mid_0c: float
    chills_below_c: float | None
    source: str
    borrowed: bool = False

    def rate(self, temp_c: float) -> float:
        """How many times as fast it ages at a temperature [°C] as at 0 °C."""
        return (living_rate if self.chills_below_c is None else steady_rate)(temp_c)

    @property
    def spread(self) -> float:
        """The factor of its range."""
        return BORROWED_SPREAD if self.borrowed else OWN_SPREAD

    @property
    def share(self) -> float:
        """The share of the careful end to plan with."""
        return BORROWED_SHARE if self.borrowed else OWN_SHARE


@dataclass(frozen=True, slots=True)
class ProduceLife:
    """A life at one temperature [day]: to plan with, and its range."""

    plan: float
    low: float
    mid: float
    high: float
    chilled: bool


def pool(rows: Sequence[Mapping[str, str]], name: str = "") -> Reference:
    """One reference from the rows of an item: read rows count before remembered ones, every source once."""
    read = [row for row in rows if not row["provenance"].startswith("from memory")] or list(rows)
    asked = [row for row in read if row.get("chilling_sensitive")]
    minima = [float(row["temp_min_C"]) for row in asked if row["chilling_sensitive"] == "Y"]
    chills = 2 * len(minima) > len(asked)
    by_source: dict[str, list[tuple[float, float]]] = {}
    for row in read:
        by_source.setdefault(row["source"], []).append(_at_0c(row, steady_rate if chills else living_rate))
    lows = [median_low(low for low, _ in lives) for lives in by_source.values()]
    mid = median(median(middle for _, middle in lives) for lives in by_source.values())
    return Reference(
        name=name or read[0]["item"],
        careful_0c=min(median_low(lows), CAREFUL_SHARE * mid),
        mid_0c=mid,
        chills_below_c=median(minima) if chills else None,
        source="; ".join((*dict.fromkeys(_citation(source) for source in by_source), RATES)),
    )


def _at_0c(row: Mapping[str, str], rate_at: Callable[[float], float]) -> tuple[float, float]:
    """Careful end and middle of one row, brought to 0 °C [day]."""
    low, high = float(row["life_min_d"]), float(row["life_max_d"])
    rate = rate_at((float(row["temp_min_C"]) + float(row["temp_max_C"])) / 2)
    return low * rate, (low + high) / 2 * rate


@cache
def _citation(source: str) -> str:
    """A source of the storage table in full, and whether it was only remembered."""
    for row in tables.rows("keeping_sources"):
        if row["id"] == source:
            return f"{row['citation']}{' (from memory)' if row['how'] == 'from memory' else ''}"
    return source


@cache
def published() -> Mapping[str, tuple[Mapping[str, str], ...]]:
    """Every published row of covered produce by item; one that stands for several of our foods counts once.

    Table `produce_lives` speaks only for items that have no row in `produce_storage`: pooled with the
    others its rows made one source predict another worse (within × 1.5 67 instead of 75 %).
    """
    found: dict[str, dict[tuple[str, ...], Mapping[str, str]]] = {}
    stored = tables.rows("produce_storage")
    known = {row["item"] for row in stored}
    lives = (row for row in tables.rows("produce_lives") if row["item"] not in known and not is_dry(row["rh_pct"]))
    for row in (*stored, *map(_as_storage, lives)):
        once = tuple(value for name, value in row.items() if name != "food_code")
        found.setdefault(row["item"], {}).setdefault(once, row)
    return MappingProxyType({item: tuple(rows.values()) for item, rows in found.items()})


def _as_storage(row: Mapping[str, str]) -> Mapping[str, str]:
    """A row of table `produce_lives` in the columns of `produce_storage`."""
    return {**row, "temp_min_C": row["temp_c"], "temp_max_C": row["temp_c"], "chilling_sensitive": ""}


def is_dry(rh_pct: str) -> bool:
    """Whether a relative humidity as a source writes it ("60-70", ">95", "packed", "") lies below 80 %."""
    numbers = [float(number) for number in re.findall(r"[\d.]+", rh_pct)]
    return bool(numbers) and sum(numbers) / len(numbers) < DRY_BELOW_RH


@cache
def _of_group() -> Mapping[str, tuple[str, ...]]:
    """The items of each group that have storage rows."""
    found: dict[str, dict[str, None]] = {}
    for item, rows in published().items():
        found.setdefault(rows[0]["group"], {})[item] = None
    return MappingProxyType({group: tuple(items) for group, items in found.items()})


@cache
def item_reference(item: str) -> Reference | None:
    """The published life of an item of the table `produce_storage`; None where it has no row."""
    rows = published().get(item)
    return pool(rows) if rows else None


@cache
def like_reference(item: str) -> Reference | None:
    """The life of an item, lent to a food that has none of its own."""
    lent = item_reference(item)
    return replace(lent, borrowed=True) if lent else None


@cache
def group_reference(group: str) -> Reference | None:
    """What the items of a group have in common: the median of their lives."""
    items = _of_group().get(group, ())
    return borrow(group, [pool(published()[item]) for item in items]) if items else None


def borrow(group: str, members: Sequence[Reference]) -> Reference:
    """The life of an item that only its group is known of: the members that are alike in bearing the cold."""
    minima = [m.chills_below_c for m in members if m.chills_below_c is not None]
    chills = 2 * len(minima) > len(members)
    alike = [m for m in members if (m.chills_below_c is not None) == chills]
    return Reference(
        name=f"any {GROUP_NAMES.get(group, group)}",
        careful_0c=_lower_quartile([m.careful_0c for m in alike]),
        mid_0c=median(m.mid_0c for m in alike),
        chills_below_c=median(minima) if chills else None,
        source=f"median of {len(alike)} items of the storage tables; {RATES}",
        borrowed=True,
    )


def _lower_quartile(values: Sequence[float]) -> float:
    return quantiles(values, n=4, method="inclusive")[0] if len(values) > 1 else values[0]


def life_at(reference: Reference, temp_c: float, *, factor: float = 1.0) -> ProduceLife:
    """The life at a temperature [day]; `factor` is what form and dry air leave of it.

    Colder than the minimum of a chilling-sensitive item it is half the life at the minimum.
    """
    minimum = reference.chills_below_c
    chilled = minimum is not None and temp_c < minimum
    rate = reference.rate(minimum if chilled and minimum is not None else temp_c)
    scale = factor * (CHILLED_SHARE if chilled else 1.0) / rate
    mid = reference.mid_0c * scale
    low = mid / reference.spread
    return ProduceLife(
        plan=min(low, reference.share * reference.careful_0c * scale),
        low=low,
        mid=mid,
        high=mid * reference.spread,
        chilled=chilled,
    )
