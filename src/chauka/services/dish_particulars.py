"""What a dish says besides its lines and steps, as a form: names, serving, keeping, what it weighs, tags, story."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, fields, replace
from types import MappingProxyType

from chauka.errors import InputError
from chauka.kitchen import Dish, Kept, Place, Served
from chauka.units import GRAMS_PER_UNIT, Estimate, Span

COMMON = "common practice, no source"
HOTTEST = 3
LONGEST_HOLD_MIN = 600
_LONGEST_KEPT_DAYS = 3650.0
_WEIGHED_CV = 0.02
"""Spread of a pot put on a kitchen scale once; policy."""


@dataclass(frozen=True, slots=True)
class Particulars:
    """As written; empty is "not said". `kept_days` is as in "2" or "1-2"; a caution stands on each line."""

    hindi: str = ""
    served: str = str(Served.HOT)
    hold_min: str = "20"
    chilli: str = "0"
    batch: str = ""
    weighed: str = ""
    kept_place: str = ""
    kept_days: str = ""
    kept_why: str = ""
    freezes: str = ""
    tags: str = ""
    story: str = ""
    cautions: str = ""


def of_dish(dish: Dish) -> Particulars:
    """The particulars of a dish of the book."""
    kept = dish.kept
    days = "" if kept is None else f"{kept.days.low:g}-{kept.days.high:g}"
    return Particulars(
        hindi=dish.names.get("hi", ""),
        served=str(dish.served),
        hold_min=str(dish.hold_min),
        chilli=str(dish.chilli),
        batch="yes" if dish.batch else "",
        weighed="" if dish.yield_g is None else f"{dish.yield_g.mean:g} g",
        kept_place="" if kept is None else str(kept.place),
        kept_days=f"{kept.days.low:g}" if kept and kept.days.low == kept.days.high else days,
        kept_why="" if kept is None else kept.why,
        freezes="yes" if kept and kept.freezes else "",
        tags=", ".join(sorted(dish.tags)),
        story=dish.story,
        cautions="\n".join(dish.cautions),
    )


def from_fields(said: Mapping[str, str]) -> Particulars:
    """As they came back from a page; what the page did not ask stays as it usually is."""
    return Particulars(
        **{f.name: said[f.name].replace("\r\n", "\n").strip() for f in fields(Particulars) if f.name in said}
    )


def with_particulars(dish: Dish, form: Particulars, before: Dish | None) -> Dish:
    """The dish with what the form says. Raises one `InputError` that names each thing that cannot be."""
    if before is not None and form == of_dish(before):
        return replace(
            dish, names=before.names, served=before.served, hold_min=before.hold_min, chilli=before.chilli,
            batch=before.batch, yield_g=before.yield_g, kept=before.kept, tags=before.tags, story=before.story,
            cautions=before.cautions,
        )  # fmt: skip
    bad = dict(_faults(form))
    if bad:
        raise InputError(bad)
    names = {k: v for k, v in (before.names if before else {}).items() if k != "hi"}
    was = of_dish(before) if before else None
    return replace(
        dish,
        names=MappingProxyType(names | ({"hi": form.hindi} if form.hindi else {})),
        served=Served(form.served),
        hold_min=int(form.hold_min),
        chilli=int(form.chilli),
        batch=form.batch == "yes",
        yield_g=before.yield_g if before and was and was.weighed == form.weighed else _weighed(form.weighed),
        kept=_kept(form),
        tags=frozenset(filter(None, (tag.strip() for tag in form.tags.split(",")))),
        story=form.story,
        cautions=tuple(filter(None, (one.strip() for one in form.cautions.split("\n")))),
    )


def _faults(form: Particulars) -> Iterator[tuple[str, tuple[str, ...]]]:
    if form.served not in set(Served):
        yield "served", ("choose hot, warm or cool",)
    if not _whole(form.hold_min, LONGEST_HOLD_MIN):
        yield "may wait hot", (f"{form.hold_min!r} are no minutes; write a whole number as in 20",)
    if not _whole(form.chilli, HOTTEST):
        yield "heat", ("choose 0 (none) to 3 (hot)",)
    if form.weighed and _grams(form.weighed) is None:
        yield "weighed", (f"{form.weighed!r} is no weight; write it as in 850 g or 1.2 kg",)
    if form.kept_place and (form.kept_place not in set(Place) or _days(form.kept_days) is None):
        yield "keeping", ("say where and how many days, as in 2 or 1-2",)
    if form.kept_days and not form.kept_place:
        yield "keeping", ("say where it keeps for so long",)


def _whole(said: str, most: int) -> bool:
    return said.isascii() and said.isdigit() and len(said) <= 4 and int(said) <= most


def _grams(said: str) -> float | None:
    found = re.fullmatch(r"(\d+(?:\.\d+)?)\s*(g|kg)?", said)
    grams = float(found[1]) * GRAMS_PER_UNIT[found[2] or "g"] if found else 0.0
    return grams if 0 < grams <= 100_000 else None


def _weighed(said: str) -> Estimate | None:
    grams = _grams(said)
    return None if grams is None else Estimate(grams, _WEIGHED_CV * grams)


def _days(said: str) -> Span | None:
    found = re.fullmatch(r"(\d+(?:\.\d+)?)(?:\s*(?:-|–|to)\s*(\d+(?:\.\d+)?))?", said)
    if found is None:
        return None
    low, high = float(found[1]), float(found[2] or found[1])
    return Span(min(low, high), max(low, high)) if max(low, high) <= _LONGEST_KEPT_DAYS else None


def _kept(form: Particulars) -> Kept | None:
    days = _days(form.kept_days)
    if not form.kept_place or days is None:
        return None
    return Kept(Place(form.kept_place), days, form.kept_why or COMMON, form.freezes == "yes")
