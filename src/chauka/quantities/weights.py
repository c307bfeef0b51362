"""Household weights: what a measure of one food in one form weighs, from the table of that name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType

from chauka import tables
from chauka.quantities.amount import Amount, read_amount
from chauka.quantities.units import VOLUMES, Size, Unit
from chauka.units import Estimate

_DENSITY_CV = 0.08  # spread of a density whose source gives none; common practice, no source
_PIECE_CV = {Unit.BUNCH: 0.30, Unit.FISTFUL: 0.35, Unit.SPRIG: 0.30, Unit.LEAF: 0.30, Unit.INCH: 0.35}
_OTHER_PIECE_CV = 0.20  # likewise

_ALIKE = (
    frozenset({"whole", "picked", "washed", "peeled"}),
    frozenset({"cut", "chopped"}),
    frozenset({"soaked", "sprouted"}),
    frozenset({"blanched", "boiled", "cooked"}),
    frozenset({"ground", "dry"}),
)
"""Forms that fill a cup about alike."""


@dataclass(frozen=True, slots=True)
class Weight:
    """One row: a measure of a food in a form weighs `grams` (edible); `ml` where the measure holds a volume."""

    form: str
    measure: Amount
    ml: float | None
    grams: Estimate
    source: str

    @property
    def per_ml(self) -> Estimate | None:
        """Bulk density [g/ml]."""
        return self.grams / self.ml if self.ml else None


Weights = Mapping[str, tuple[Weight, ...]]
"""Household weights by food code."""


@cache
def household_weights() -> Weights:
    """The table `household_weights`, by food code."""
    return weights_from(tables.rows("household_weights"))


def weights_from(rows: Iterable[Mapping[str, str]]) -> Weights:
    """Rows with the columns food_code, form, measure, ml, grams, sd_g, source, how."""
    found: dict[str, list[Weight]] = {}
    for row in rows:
        found.setdefault(row["food_code"], []).append(_weight(row))
    return MappingProxyType({code: tuple(weights) for code, weights in found.items()})


def _weight(row: Mapping[str, str]) -> Weight:
    measure = _measure(row["measure"])
    grams, ml = float(row["grams"]), float(row["ml"]) if row["ml"] else None
    cv = _DENSITY_CV if ml else _PIECE_CV.get(measure.unit, _OTHER_PIECE_CV)
    sd = float(row["sd_g"]) if row["sd_g"] else cv * grams
    source = row["source"] if row["how"] in row["source"] else f"{row['source']} ({row['how']})"
    return Weight(row["form"], measure, ml, Estimate(grams, sd), source)


def _measure(text: str) -> Amount:
    """The measure of a row: "cup", "1 cup", "medium", "piece"."""
    return read_amount(text if text[:1].isdigit() else f"1 {text}")[0]


def density(weights: tuple[Weight, ...], form: str) -> tuple[Estimate, str] | None:
    """Bulk density [g/ml] in that form, with its source.

    A row for the form itself comes first, then one for any form, then one for a form that fills a
    cup about alike (15 % added spread), then any row (35 % added): policy, no source.
    """
    held = [w for w in weights if w.ml]
    alike = next((forms for forms in _ALIKE if form in forms), frozenset())
    tiers = (
        ([w for w in held if w.form == form], 0.0),
        ([w for w in held if not w.form], 0.0),
        ([w for w in held if w.form in alike], 0.15),
        (held, 0.35),
    )
    for rows, added_cv in tiers:
        for weight in rows:
            per_ml = weight.per_ml
            if per_ml:
                note = f", taken from {weight.form}" if added_cv else ""
                return per_ml * Estimate(1.0, added_cv), weight.source + note
    return None


def piece(weights: tuple[Weight, ...], unit: Unit, size: Size | None, form: str) -> tuple[Estimate, str] | None:
    """The weight of one piece, bunch, clove … of that size, with its source.

    Without a size the medium piece counts. A size that the table lacks is made from another by
    small : medium : large = 0.7 : 1 : 1.4, with 15 % added spread (policy, no source).
    """
    counted = [w for w in weights if w.measure.unit is unit and not w.ml]
    if unit is Unit.CLOVE and not counted:  # pods: of garlic a clove, of cardamom a piece
        counted = [w for w in weights if w.measure.unit is Unit.PIECE and not w.ml]
    counted.sort(key=lambda w: (w.form != form, w.form != "", w.form))
    by_size = {w.measure.size: w for w in reversed(counted)}
    wanted = size or Size.MEDIUM
    for have in (wanted, *([None] if wanted is Size.MEDIUM else []), Size.MEDIUM, None, Size.LARGE, Size.SMALL):
        if have in by_size:
            weight = by_size[have]
            one = weight.grams / weight.measure.mid
            ratio = _RELATIVE[wanted] / _RELATIVE[have or Size.MEDIUM]
            if ratio == 1:
                return one, weight.source
            return one * Estimate(ratio, 0.15 * ratio), f"{weight.source}, scaled to {wanted}"
    return None


_RELATIVE = {Size.SMALL: 0.7, Size.MEDIUM: 1.0, Size.LARGE: 1.4}


def usable_units(weights: tuple[Weight, ...]) -> tuple[str, ...]:
    """The units that can become grams for a food with these rows, weights first."""
    units: list[str] = [Unit.GRAM, Unit.KILOGRAM]
    if any(w.ml for w in weights):
        units += [u for u in Unit if u in VOLUMES]
    units += sorted({str(w.measure.unit) for w in weights if not w.ml} - set(units))
    return tuple(units)
