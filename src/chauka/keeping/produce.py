"""Fresh produce: published storage lives, moved to another temperature.

Rows of one item from several sources are brought to 0 °C on the curve of `rate`, and their median
is taken. An item without a row borrows the median of its group, and says so.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache
from statistics import median, median_low, quantiles
from types import MappingProxyType

from chauka import tables
from chauka.keeping.rate import relative_rate, steady_rate

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

RATES = "rates at other temperatures: USDA Agriculture Handbook 66"

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
        return (relative_rate if self.chills_below_c is None else steady_rate)(temp_c)

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
    """One reference from the rows of an item: read rows count before remembered ones."""
    read = [row for row in rows if not row["provenance"].startswith("from memory")] or list(rows)
    minima = [float(row["temp_min_C"]) for row in read if row["chilling_sensitive"] == "Y"]
    chills = 2 * len(minima) > len(read)
    lows, mids = zip(*(_at_0c(row, steady_rate if chills else relative_rate) for row in read), strict=True)
    mid = median(mids)
    return Reference(
        name=name or read[0]["item"],
        careful_0c=min(median_low(lows), CAREFUL_SHARE * mid),
        mid_0c=mid,
        chills_below_c=median(minima) if chills else None,
        source="; ".join((*dict.fromkeys(_citation(row["source"]) for row in read), RATES)),
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
def _rows_by(column: str) -> Mapping[str, tuple[Mapping[str, str], ...]]:
    """Rows of the storage table; one that stands there for several of our foods counts once."""
    found: dict[str, dict[tuple[str, ...], Mapping[str, str]]] = {}
    for row in tables.rows("produce_storage"):
        once = tuple(value for name, value in row.items() if name != "food_code")
        found.setdefault(row[column], {}).setdefault(once, row)
    return MappingProxyType({key: tuple(rows.values()) for key, rows in found.items()})


@cache
def item_reference(item: str) -> Reference | None:
    """The published life of an item of the table `produce_storage`; None where it has no row."""
    rows = _rows_by("item").get(item)
    return pool(rows) if rows else None


@cache
def like_reference(item: str) -> Reference | None:
    """The life of an item, lent to a food that has none of its own."""
    lent = item_reference(item)
    return replace(lent, borrowed=True) if lent else None


@cache
def group_reference(group: str) -> Reference | None:
    """What the items of a group have in common: the median of their lives."""
    items = dict.fromkeys(row["item"] for row in _rows_by("group").get(group, ()))
    return borrow(group, [pool(_rows_by("item")[item]) for item in items]) if items else None


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
        source=f"median of {len(alike)} items of table produce_storage; {RATES}",
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
