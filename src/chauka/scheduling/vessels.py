"""Which vessel each dish's steps stand in: the smallest that fits, another where that is taken, a wash between.

A vessel becomes part of the problem only where more dishes want its kind than the house has.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import combinations

from chauka.keeping.boiling import boiling_point_c, cooker_c, equivalent_minutes
from chauka.kitchen import Dish, House, Step, Technique, Vessel
from chauka.kitchen.filling import least_l
from chauka.scheduling.jobs import Kitchen, Part

_GAUGE_KPA = 80.0
"""Of a household pressure cooker: common practice, no source."""

COVERED_PAN_LONGER = 1.3
"""Baking in a covered pan on a low flame, against an oven: common practice, no source."""

SMALL_BURNER_L = 3.0
"""What a small burner carries. Common practice, no source; griddles are too wide for one whatever they hold."""

_ALWAYS_WIDE = frozenset({Vessel.GRIDDLE})
_WHERE_OPEN: tuple[Vessel, ...] = (Vessel.POT, Vessel.SAUCEPAN)
_INSTEAD = {Vessel.PRESSURE_COOKER: (Vessel.POT,), Vessel.OVEN: (Vessel.WOK, Vessel.POT)}


@dataclass(frozen=True, slots=True)
class Pot:
    """The vessels of one kind and size: what they are called, how many, and how much one holds [litre]."""

    name: str
    kind: Vessel
    count: int
    litres: float | None

    def holds(self, litres: float) -> bool:
        """Whether so much fits; what nobody has measured is taken to fit."""
        return self.litres is None or self.litres >= litres

    @property
    def wide(self) -> bool:
        """Whether it needs a large burner."""
        return self.kind in _ALWAYS_WIDE or (self.litres or 0.0) > SMALL_BURNER_L


@dataclass(frozen=True, slots=True)
class Way:
    """One vessel for a dish's steps; `longer` is how many times as long what was meant for another takes in it."""

    pot: Pot
    longer: float = 1.0
    stands_in: bool = False
    cost: int = 0


@dataclass(slots=True)
class Use:
    """Steps of one dish that share a vessel: what stays in it stays in it.

    `ways` are the vessels it may be; `tied` says that it must be held until it is washed.
    """

    dish: str
    kind: Vessel
    groups: list[tuple[Part, ...]] = field(default_factory=list)
    ways: tuple[Way, ...] = ()
    tied: bool = False
    too_full: Pot | None = None

    def least_l(self, kind: Vessel) -> float:
        """The smallest vessel of a kind that will do [litre]."""
        return max(sum(least_l(p.dish, p.step, kind, p.ratio) for p in parts) for parts in self.groups)

    @property
    def under_pressure(self) -> bool:
        """Whether some of it is cooked under pressure."""
        return any(parts[0].step.technique is Technique.PRESSURE_COOK for parts in self.groups)

    @property
    def keys(self) -> frozenset[tuple[str, str]]:
        """(dish id, step id) of its steps, of work in one go the first."""
        return frozenset(parts[0].key for parts in self.groups)

    def side_by_side(self) -> frozenset[tuple[str, str]]:
        """Steps that could go on at once by their dish, which one vessel does not allow."""
        first = [parts[0] for parts in self.groups]
        return frozenset(
            part.key
            for one, two in combinations(first, 2)
            if not (leads_to(one.dish, one.step, two.step) or leads_to(one.dish, two.step, one.step))
            for part in (one, two)
        )


def pots(house: House, kind: Vessel) -> tuple[Pot, ...]:
    """What there is of a kind, the smallest first; what nobody has measured comes last."""
    counts: dict[float | None, int] = defaultdict(int)
    for stock in house.vessels:
        if stock.kind is kind and stock.count:
            counts[stock.litres] += stock.count
    sizes = sorted(counts, key=lambda size: (size is None, size or 0.0))
    if len(sizes) == 1:
        return (Pot(str(kind), kind, counts[sizes[0]], sizes[0]),)
    return tuple(Pot(f"{size:g} l {kind}" if size else str(kind), kind, counts[size], size) for size in sizes)


def uses(groups: Iterable[tuple[Part, ...]], kitchen: Kitchen) -> tuple[Use, ...]:
    """Every use of a vessel with the ways it may be done; bowls and boxes are no matter."""
    found: dict[tuple[str, Vessel], Use] = {}
    for parts in groups:
        kind = parts[0].step.vessel
        if kind and not (kind in (Vessel.BOWL, Vessel.BOX) and kitchen.house.vessel_count(kind) >= _PLENTY):
            key = parts[0].dish.id, kind
            found.setdefault(key, Use(*key)).groups.append(parts)
    all_uses = list(found.values())
    for use in all_uses:
        _set_own_ways(use, kitchen.house)
    _settle(all_uses, kitchen)
    return tuple(all_uses)


def leads_to(dish: Dish, one: Step, two: Step) -> bool:
    """Whether `two` comes some time after `one` by the dish's own order."""
    return any(after.step == one.id or leads_to(dish, one, dish.step(after.step)) for after in two.after)


_PLENTY = 50


def _set_own_ways(use: Use, house: House) -> None:
    there = pots(house, use.kind)
    fitting = [pot for pot in there if pot.holds(use.least_l(use.kind))]
    if there and not fitting:
        use.too_full = there[-1]
        fitting = [there[-1]]
    use.ways = tuple(Way(pot, cost=i) for i, pot in enumerate(fitting))


def _settle(all_uses: list[Use], kitchen: Kitchen) -> None:
    """Give each use of a kind that is not scarce its vessel; tie the others, with what may stand in."""
    scarce = {kind for kind in {u.kind for u in all_uses} if _assigned(all_uses, kind) is None}
    for use in all_uses:
        if use.kind in scarce:
            use.ways = (*use.ways, *_instead(use, kitchen))
            use.tied = True
    touched = {way.pot.kind for use in all_uses if use.tied for way in use.ways}
    for use in all_uses:
        use.tied = use.tied or use.kind in touched
    for kind in {u.kind for u in all_uses if not u.tied}:
        for use, pot in _assigned(all_uses, kind) or ():
            use.ways = (Way(pot),)


def _assigned(all_uses: Sequence[Use], kind: Vessel) -> list[tuple[Use, Pot]] | None:
    """A vessel for each use of a kind, the smallest that fits; None if there are too few."""
    wanting = sorted((u for u in all_uses if u.kind is kind), key=lambda u: u.least_l(kind), reverse=True)
    left = {way.pot: way.pot.count for use in wanting for way in use.ways}
    out = []
    for use in wanting:
        free = [way.pot for way in use.ways if left[way.pot]]
        if not free:
            return None
        left[free[0]] -= 1
        out.append((use, free[0]))
    return out


_STAND_IN_COST = 20


def _instead(use: Use, kitchen: Kitchen) -> list[Way]:
    """What may stand in: for what only simmers in a cooker any pot, else what takes longer, if that is allowed."""
    if use.kind is Vessel.PRESSURE_COOKER and not use.under_pressure:
        kinds, longer = _WHERE_OPEN, 1.0
    elif use.ways and not kitchen.stand_ins:
        return []
    else:
        kinds = _INSTEAD.get(use.kind, ())
        longer = COVERED_PAN_LONGER if use.kind is Vessel.OVEN else open_pot_longer(kitchen.house.altitude_m)
    there = [pot for kind in kinds for pot in pots(kitchen.house, kind) if pot.holds(use.least_l(kind))]
    return [Way(pot, longer, stands_in=True, cost=_STAND_IN_COST + i) for i, pot in enumerate(there)]


def open_pot_longer(altitude_m: float) -> float:
    """How many times as long food takes in an open pot as in a pressure cooker there (`keeping.boiling`)."""
    return equivalent_minutes(1, cooker_c(_GAUGE_KPA, altitude_m), boiling_point_c(altitude_m))
