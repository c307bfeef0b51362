"""What this house has learnt about its own shelf, from what it logged: shown, and forgotten on request."""

from __future__ import annotations

import re
from collections.abc import Iterable
from datetime import datetime

from chauka import keeping
from chauka.kitchen import Deed, House, LedgerRow, Lot
from chauka.store import books, codec, ledger, models
from chauka.store.models import Household

FORGET = "forget what a food taught"
"""The task of the action that resets a food; its note is the food's code."""

_SPOILT = re.compile(
    r"wilt|slim|mould|mold|rot|yellow|soft|limp|sour|off\b|bad\b|spoil|smell|dried|shrivel|sprout", re.IGNORECASE
)
_DAY = re.compile(r"\bday (\d+(?:\.\d+)?)", re.IGNORECASE)


def factor(household: Household, food: str) -> keeping.HouseFactor:
    """How many times as long a food keeps here as predicted, by what was logged since it was last forgotten."""
    reset = models.Action.objects.of(household).filter(task=FORGET, note=food).order_by("pk").last()
    since = reset.at if reset is not None else None
    rows = [row for row in ledger.rows(household, since) if row.food == food]
    return keeping.house_factor(seen(rows, _first_lots(household, food), books.load_house(household)))


def factors(household: Household, foods: Iterable[str]) -> dict[str, float]:
    """The factors of those of the foods of which somebody wrote down how a lot ended; the others count as predicted."""
    told = (
        models.LedgerRow.objects.of(household)
        .filter(food__in=set(foods), deed__in=[Deed.BINNED, Deed.USED, Deed.EATEN])
        .exclude(why="")
        .values_list("food", flat=True)
        .distinct()
    )
    return {food: factor(household, food).factor for food in told if food is not None}


def forget(household: Household, food: str, now: datetime) -> None:
    """Count what was logged of a food so far no more; the ledger keeps it, and the action can be taken back."""
    with ledger.action(household, now, FORGET, food):
        pass


def seen(rows: Iterable[LedgerRow], first: dict[str, Lot], house: House) -> list[keeping.Seen]:
    """What the rows say of each lot: on which day it was off, or how long it was still fine, the oldest first.

    Binned counts as off only where the reason says so ("wilted on day 3"); used and eaten count as still
    fine that day. A row that was taken back does not count. `first` has every lot as it came in.
    """
    last: dict[str, keeping.Seen] = {}
    for row in _standing(rows):
        lot = first.get(row.lot or "")
        if lot is None or lot.food is None or row.deed not in (Deed.BINNED, Deed.USED, Deed.EATEN):
            continue
        off = row.deed is Deed.BINNED
        if off and not _SPOILT.search(row.why):
            continue
        said = _DAY.search(row.why)
        day = float(said[1]) if said else max(0.0, (row.at - lot.since).total_seconds() / 86_400)
        life = keeping.food_life(lot.food, lot.form, lot.place, house, lot.covered, lot.age_days)
        if life.mid_days > 0:
            last[lot.id] = keeping.Seen(life.mid_days, day, still_fine=not off)
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


def _first_lots(household: Household, food: str) -> dict[str, Lot]:
    """Every lot of a food as it first stood on the shelf, as far as the changes go back."""
    found: dict[str, Lot] = {}
    for change in models.Change.objects.of(household).filter(kind="lot").order_by("pk"):
        was = change.after if change.before is None else change.before
        if was is not None and was.get("food") == food and change.key not in found:
            found[change.key] = codec.from_plain(Lot, was)
    return found
