"""What this house has learnt about its own shelf, from what it logged: shown, and forgotten on request."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Hashable, Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import datetime

from django.db import connection
from django.db.models import F, Min, QuerySet, Window
from django.db.models.functions import RowNumber

from chauka import keeping
from chauka.kitchen import Deed, House, LedgerRow, Lot
from chauka.store import books, codec, ledger, marks, models
from chauka.store.mapping import stock
from chauka.store.models import Household

FORGET = "forget what a food taught"
"""The task of the action that resets a food; its note is the food's code."""

RECENT_LOTS = 12
"""So many lots of a food are looked at, the newest: after that many, older ones hardly move the factor, and a house's
fridge, stalls and habits change."""

LAST_DEEDS = 12
"""So many deeds with one lot are looked at; the last of them says how long it kept."""

_ENDS = (Deed.BINNED, Deed.USED, Deed.EATEN)

_SPOILT = re.compile(
    r"wilt|slim|mould|mold|rot|yellow|soft|limp|sour|off\b|bad\b|spoil|smell|dried|shrivel|sprout", re.IGNORECASE
)
_DAY = re.compile(r"\bday (\d+(?:\.\d+)?)", re.IGNORECASE)


def factor(household: Household, food: str) -> keeping.HouseFactor:
    """How many times as long a food keeps here as predicted, by what was logged since it was last forgotten."""
    lots = _recent_lots(household, {food})
    return keeping.house_factor(seen(_rows(household, lots), _first(household, lots), books.load_house(household)))


def factors(household: Household, foods: Iterable[str], house: House) -> dict[str, float]:
    """The factors of those of the foods of which somebody wrote down how a lot ended; the others count as predicted.

    A handful of queries, however many foods there are and however long the ledger is; and after an action only its
    own foods are worked out anew.
    """
    asked, kept = set(foods), _still_holding(household, house)
    missing = asked - kept.factors.keys()
    if missing:
        kept = replace(kept, factors={**kept.factors, **_worked_out(household, missing, house)})
    if kept.revision and not connection.in_atomic_block:
        while len(_kept) >= _MOST_KEPT:
            _kept.pop(next(iter(_kept)), None)
        _kept[_key(household)] = kept
    return {food: factor for food in asked if (factor := kept.factors[food]) is not None}


@dataclass(frozen=True, slots=True)
class _Kept:
    """Factors by food as they were at a revision of the book; None where nobody wrote down how a lot ended."""

    revision: int
    house: House
    factors: Mapping[str, float | None]


_MOST_KEPT = 4
_kept: dict[tuple[str, int], _Kept] = {}
"""By database and household."""


def _key(household: Household) -> tuple[str, int]:
    return str(connection.settings_dict["NAME"]), household.pk


def _still_holding(household: Household, house: House) -> _Kept:
    """What was worked out before and no action has touched since."""
    now, kept = books.revision(household), _kept.get(_key(household))
    if kept is None or kept.house is not house or connection.in_atomic_block:
        return _Kept(now, house, {})
    touched = books.foods_touched(household, kept.revision, now)
    if touched is None:
        return _Kept(now, house, {})
    return _Kept(now, house, {food: factor for food, factor in kept.factors.items() if food not in touched})


def _worked_out(household: Household, foods: set[str], house: House) -> dict[str, float | None]:
    recent = _recent_lots(household, foods)
    told = set(_deeds(household, recent).exclude(why="").order_by().values_list("food", flat=True))
    lots = {key: food for key, food in recent.items() if food in told}
    of_food: defaultdict[str, list[LedgerRow]] = defaultdict(list)
    for row in _rows(household, lots):
        of_food[row.food or ""].append(row)
    first = _first(household, lots)
    known = {food: keeping.house_factor(seen(rows, first, house)).factor for food, rows in of_food.items()}
    return {food: known.get(food) for food in foods}


def forget(household: Household, food: str, now: datetime) -> None:
    """Count what was logged of a food so far no more; the ledger keeps it, and the action can be taken back."""
    with ledger.action(household, now, FORGET, food) as recorder:
        marks.write(recorder, marks.FORGOTTEN, food, now.isoformat())


def seen(rows: Iterable[LedgerRow], first: dict[str, Lot], house: House) -> list[keeping.Seen]:
    """What the rows say of each lot: on which day it was off, or how long it was still fine, the oldest first.

    Binned counts as off only where the reason says so ("wilted on day 3"); used and eaten count as still
    fine that day. A row that was taken back does not count. `first` has every lot as it came in.
    """
    last: dict[str, keeping.Seen] = {}
    life_days: dict[Hashable, float] = {}
    for row in _standing(rows):
        lot = first.get(row.lot or "")
        if lot is None or lot.food is None or row.deed not in _ENDS:
            continue
        off = row.deed is Deed.BINNED
        if off and not _SPOILT.search(row.why):
            continue
        said = _DAY.search(row.why)
        day = float(said[1]) if said else max(0.0, (row.at - lot.since).total_seconds() / 86_400)
        alike = (lot.food, lot.form, lot.place, lot.covered, lot.age_days)
        if alike not in life_days:
            life = keeping.food_life(lot.food, lot.form, lot.place, house, lot.covered, lot.age_days)
            life_days[alike] = life.mid_days
        if life_days[alike] > 0:
            last[lot.id] = keeping.Seen(life_days[alike], day, still_fine=not off)
    return list(last.values())


def _standing(rows: Iterable[LedgerRow]) -> list[LedgerRow]:
    """The rows that still hold: a row of the opposite weight takes the latest of its kind with it."""
    out: list[LedgerRow] = []
    for row in rows:
        if row.grams >= 0:
            out.append(row)
            continue
        match = next((r for r in reversed(out) if (r.lot, r.deed, r.grams) == (row.lot, row.deed, -row.grams)), None)
        if match is not None:
            out.remove(match)
    return out


def _recent_lots(household: Household, foods: set[str]) -> dict[str, str]:
    """The newest lots of each of the foods, as lot and food."""
    age = Window(RowNumber(), partition_by=F("food"), order_by=F("pk").desc())
    found = models.Lot.objects.of(household).filter(food__in=foods).annotate(age=age).filter(age__lte=RECENT_LOTS)
    return dict(found.order_by().values_list("key", "food"))


def _deeds(household: Household, lots: Iterable[str]) -> QuerySet[models.LedgerRow]:
    found: QuerySet[models.LedgerRow] = models.LedgerRow.objects.of(household).filter(
        lot__in=list(lots), deed__in=_ENDS
    )
    return found


def _rows(household: Household, lots: Mapping[str, str]) -> list[LedgerRow]:
    """The last deeds with each lot, in the order in which they were done, but those that were forgotten."""
    age = Window(RowNumber(), partition_by=F("lot"), order_by=F("pk").desc())
    forgotten = marks.under(household, marks.FORGOTTEN, "")
    since = {food: datetime.fromisoformat(said) for food, said in forgotten.items()}
    found = [stock.deed_of(row) for row in _deeds(household, lots).annotate(age=age).filter(age__lte=LAST_DEEDS)]
    return [row for row in found if row.at >= since.get(row.food or "", datetime.min)]  # noqa: DTZ901 - wall time


def _first(household: Household, lots: Iterable[str]) -> dict[str, Lot]:
    """The lots as they first stood on the shelf, as far as the changes go back."""
    changes = models.Change.objects.of(household).filter(kind="lot", key__in=list(lots))
    oldest = changes.order_by().values("key").annotate(first=Min("pk")).values("first")
    found = {}
    for change in changes.filter(pk__in=oldest):
        was = change.after if change.before is None else change.before
        if was is not None:
            found[change.key] = codec.from_plain(Lot, was)
    return found
