"""An independent look at a run sheet's sizes, skills and bench: by the dishes, the house and the rows alone."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from chauka.kitchen import Dish, Heat, House, Technique, Vessel
from chauka.kitchen.filling import least_l
from chauka.scheduling.sheet import Entry, RunSheet

AT_BENCH = {
    Technique.PICK, Technique.WASH, Technique.PEEL, Technique.CUT, Technique.GRATE, Technique.KNEAD, Technique.GRIDDLE,
    Technique.PRESS, Technique.ASSEMBLE,
}  # fmt: skip


def house_broken(
    sheet: RunSheet, dishes: Sequence[tuple[Dish, float]], house: House, burners: int | None = None
) -> list[str]:
    """What no cook could do in this house, with so many of its burners."""
    out: list[str] = []
    large = house.burners - house.small_burners
    large = max(large, (burners or house.burners) - house.small_burners) if large else 0
    by_id = {dish.id: (dish, portions / dish.portions) for dish, portions in dishes}
    for entry in sheet:
        out += _by_whom_broken(entry, by_id, house)
        out += _place_broken(entry, by_id, house, large)
    out += _bench_broken(sheet, by_id, house)
    out += _pots_broken(sheet, by_id, house)
    return out


def _by_whom_broken(entry: Entry, by_id: dict[str, tuple[Dish, float]], house: House) -> Iterator[str]:
    if entry.cook and entry.cook <= len(house.crew):
        cook = house.crew[entry.cook - 1]
        for dish_id, step_id in entry.steps:
            if by_id[dish_id][0].step(step_id).technique in cook.cannot:
                yield f"{cook.name} is to do {entry.text}"


def _place_broken(entry: Entry, by_id: dict[str, tuple[Dish, float]], house: House, large: int) -> Iterator[str]:
    steps = [(by_id[d][0], by_id[d][0].step(s), by_id[d][1]) for d, s in entry.steps]
    if entry.vessel is None:
        if steps and (steps[0][1].heat is not Heat.NONE) != (entry.burner is not None):
            yield f"{entry.text} on burner {entry.burner}"
        return
    if not steps:
        return
    litres, kind = _litres(entry.vessel, house)
    least = sum(least_l(dish, step, kind, ratio) for dish, step, ratio in steps)
    largest = max((v.litres or 99 for v in house.vessels if v.kind is kind and v.count), default=99)
    if litres is not None and litres + 1e-9 < least <= largest:
        yield f"{entry.text} needs {least:.1f} l and stands in {entry.vessel}"
    on_fire = steps[0][1].heat is not Heat.NONE and kind is not Vessel.OVEN
    if on_fire != (entry.burner is not None):
        yield f"{entry.text} in {entry.vessel} on burner {entry.burner}"
    wide = kind is Vessel.GRIDDLE or (litres or 0) > 3
    if entry.burner and large and wide and entry.burner > large:
        yield f"{entry.vessel} stands on the small burner {entry.burner}"


def _litres(name: str, house: House) -> tuple[float | None, Vessel]:
    """What a vessel named on the sheet holds: `3 l pot 2`, `pot`."""
    kind = next(v for v in sorted(Vessel, key=len, reverse=True) if str(v) in name)
    if name[0].isdigit():
        return float(name.split(" l ", maxsplit=1)[0]), kind
    sizes = {v.litres for v in house.vessels if v.kind is kind and v.count}
    return (sizes.pop() if len(sizes) == 1 else None), kind


def _bench_broken(sheet: RunSheet, by_id: dict[str, tuple[Dish, float]], house: House) -> Iterator[str]:
    if house.bench_places is None:
        return
    rows = [e for e in sheet if e.hands and any(by_id[d][0].step(s).technique in AT_BENCH for d, s in e.steps)]
    for row in rows:
        at_once = sum(other.start <= row.start < other.end for other in rows)
        if at_once > house.bench_places:
            yield f"{at_once} work at the bench at {row.start:%H:%M}"


def _pots_broken(sheet: RunSheet, by_id: dict[str, tuple[Dish, float]], house: House) -> Iterator[str]:
    """Where a name stands for one vessel, two uses never overlap in it, and it is washed between them."""
    for name in sorted({e.vessel for e in sheet if e.vessel}):
        if not _is_one(name, house):
            continue
        uses: dict[tuple[str, Vessel | None], list[Entry]] = {}
        for entry in (e for e in sheet if e.vessel == name and e.steps):
            dish, step = entry.steps[0]
            uses.setdefault((dish, by_id[dish][0].step(step).vessel), []).append(entry)
        held = sorted((min(e.start for e in rows), max(e.end for e in rows), str(use)) for use, rows in uses.items())
        for (_, ends, one), (begins, _, two) in pairwise(held):
            if ends > begins:
                yield f"{name} holds {one} and {two}"
            washed = any(e.wash and e.vessel == name and ends <= e.start and e.end <= begins for e in sheet)
            if not washed and _litres(name, house)[1] is not Vessel.OVEN:
                yield f"{name} is not washed between {one} and {two}"


def _is_one(name: str, house: House) -> bool:
    """Whether a name on the sheet stands for one vessel: it is numbered, or the house has one such."""
    litres, kind = _litres(name, house)
    stocks = [v for v in house.vessels if v.kind is kind and (not name[0].isdigit() or v.litres == litres)]
    return name[-1].isdigit() or sum(v.count for v in stocks) == 1
